package org.rootling.training.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.time.LocalDate;
import java.time.MonthDay;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.training.calc.Due.Status;

class WhenCareIsDueTest {

    private static final LocalDate PLANTED = LocalDate.of(2026, 4, 20);

    private static CareFacts facts(LocalDate today, StageSeen... stages) {
        return new CareFacts(today, PLANTED, PLANTED, false, List.of(stages), DailySeries.EMPTY, DailySeries.EMPTY);
    }

    private static CareRule once(Timing timing, int window) {
        return new CareRule(timing, window, null, null);
    }

    @Test
    void days_after_planting_are_ahead_then_due_then_late() {
        CareRule stake = once(new Timing.AfterPlanting(7), 14);
        assertThat(stake.on(facts(PLANTED)).status()).isEqualTo(Status.AHEAD);
        assertThat(stake.on(facts(PLANTED)).from()).isEqualTo(LocalDate.of(2026, 4, 27));
        assertThat(stake.on(facts(PLANTED.plusDays(7))).status()).isEqualTo(Status.DUE);
        assertThat(stake.on(facts(PLANTED.plusDays(21))).status()).isEqualTo(Status.DUE);
        assertThat(stake.on(facts(PLANTED.plusDays(22))).status()).isEqualTo(Status.LATE);
    }

    @Test
    void late_counts_from_the_last_planted_vine() {
        CareFacts twoWeeksOfPlanting = new CareFacts(
                PLANTED.plusDays(12),
                PLANTED,
                PLANTED.plusDays(14).minusDays(2),
                false,
                List.of(),
                DailySeries.EMPTY,
                DailySeries.EMPTY);
        Due due = once(new Timing.AfterPlanting(1), 7).on(twoWeeksOfPlanting);
        assertThat(due.from()).isEqualTo(PLANTED.plusDays(1));
        assertThat(due.lateAfter()).isEqualTo(PLANTED.plusDays(20));
        assertThat(due.status()).isEqualTo(Status.DUE);
    }

    @Test
    void a_stage_item_waits_for_its_stage() {
        CareRule clusters = once(new Timing.AtStage(new Bbch(53), null), 14);
        assertThat(clusters.on(facts(PLANTED.plusDays(60))).status()).isEqualTo(Status.WAITING);
        Due due = clusters.on(facts(PLANTED.plusDays(60), new StageSeen(new Bbch(55), PLANTED.plusDays(58), false)));
        assertThat(due.status()).isEqualTo(Status.DUE);
        assertThat(due.from()).isEqualTo(PLANTED.plusDays(58));
        assertThat(due.estimate()).isFalse();
    }

    @Test
    void a_stage_of_last_season_does_not_count() {
        CareRule look = once(new Timing.AtStage(new Bbch(9), null), 14);
        assertThat(look.on(facts(PLANTED.plusDays(5), new StageSeen(new Bbch(97), PLANTED.minusDays(150), false)))
                        .status())
                .isEqualTo(Status.WAITING);
    }

    @Test
    void where_nobody_looked_the_stand_in_days_are_marked_as_estimate() {
        CareRule look = once(new Timing.AtStage(new Bbch(9), 42), 14);
        Due due = look.on(facts(PLANTED.plusDays(43)));
        assertThat(due.status()).isEqualTo(Status.DUE);
        assertThat(due.estimate()).isTrue();
        assertThat(look.on(facts(PLANTED.plusDays(10), new StageSeen(new Bbch(9), PLANTED.plusDays(9), true)))
                        .estimate())
                .isTrue();
    }

    @Test
    void dates_lie_half_a_year_apart_in_the_two_hemispheres() {
        MonthDay midAugust = MonthDay.of(8, 15);
        assertThat(Timing.OnDate.onOrAfter(midAugust, PLANTED, false)).isEqualTo(LocalDate.of(2026, 8, 15));
        assertThat(Timing.OnDate.onOrAfter(midAugust, LocalDate.of(2026, 10, 20), true))
                .isEqualTo(LocalDate.of(2027, 2, 15));
        assertThat(Timing.OnDate.onOrAfter(MonthDay.of(2, 15), PLANTED, false)).isEqualTo(LocalDate.of(2027, 2, 15));
        assertThat(Timing.OnDate.onOrAfter(MonthDay.of(2, 15), LocalDate.of(2026, 10, 20), true))
                .isEqualTo(LocalDate.of(2027, 8, 15));
        assertThat(Timing.OnDate.onOrAfter(MonthDay.of(2, 29), PLANTED, false)).isEqualTo(LocalDate.of(2027, 2, 28));
    }

    @Test
    void rounds_come_again_and_only_the_current_one_counts() {
        CareRule water = new CareRule(new Timing.AfterPlanting(7), 3, 7, MonthDay.of(9, 15));
        Due third = water.on(facts(PLANTED.plusDays(7 + 15)));
        assertThat(third.from()).isEqualTo(PLANTED.plusDays(21));
        assertThat(third.lateAfter()).isEqualTo(PLANTED.plusDays(24));
        assertThat(third.status()).isEqualTo(Status.DUE);
        assertThat(water.on(facts(PLANTED.plusDays(26))).status()).isEqualTo(Status.LATE);
    }

    @Test
    void rounds_end_with_their_season() {
        CareRule water = new CareRule(new Timing.AfterPlanting(7), 3, 7, MonthDay.of(9, 15));
        assertThat(water.on(facts(LocalDate.of(2026, 9, 15))).status()).isNotEqualTo(Status.OVER);
        assertThat(water.on(facts(LocalDate.of(2026, 10, 1))).status()).isEqualTo(Status.OVER);
        assertThat(water.on(facts(LocalDate.of(2027, 2, 1))).status()).isEqualTo(Status.OVER);
    }

    @Test
    void the_first_years_list_closes() {
        CareRule stake = once(new Timing.AfterPlanting(7), 14);
        assertThat(stake.on(facts(PLANTED.plusDays(CareRule.YEAR_ONE_DAYS))).status())
                .isEqualTo(Status.LATE);
        assertThat(stake.on(facts(PLANTED.plusDays(CareRule.YEAR_ONE_DAYS + 1))).status())
                .isEqualTo(Status.OVER);
    }

    @Test
    void heat_since_planting_makes_due() {
        double[] heat = new double[60];
        Arrays.fill(heat, 5);
        DailySeries fromMarch = new DailySeries(LocalDate.of(2026, 4, 1), heat);
        CareRule guards = once(new Timing.AtHeat(100), 7);
        CareFacts facts = new CareFacts(
                LocalDate.of(2026, 5, 10), PLANTED, PLANTED, false, List.of(), fromMarch, DailySeries.EMPTY);
        // 20 days of 5 from 20 April on: the 20th of them is 9 May.
        assertThat(guards.on(facts).from()).isEqualTo(LocalDate.of(2026, 5, 9));
        CareFacts tooEarly = new CareFacts(
                LocalDate.of(2026, 5, 8), PLANTED, PLANTED, false, List.of(), fromMarch, DailySeries.EMPTY);
        assertThat(guards.on(tooEarly).status()).isEqualTo(Status.WAITING);
    }

    @Test
    void heavy_rain_makes_due_from_the_next_day() {
        DailySeries rain = new DailySeries(PLANTED, new double[] {0, 30, 2, 0, 26, 0, 0});
        CareRule look = once(new Timing.AfterRain(25), 4);
        CareFacts afterSecond =
                new CareFacts(PLANTED.plusDays(6), PLANTED, PLANTED, false, List.of(), DailySeries.EMPTY, rain);
        assertThat(look.on(afterSecond).from()).isEqualTo(PLANTED.plusDays(5));
        CareFacts afterFirst =
                new CareFacts(PLANTED.plusDays(3), PLANTED, PLANTED, false, List.of(), DailySeries.EMPTY, rain);
        assertThat(look.on(afterFirst).from()).isEqualTo(PLANTED.plusDays(2));
        CareFacts dry = new CareFacts(PLANTED, PLANTED, PLANTED, false, List.of(), DailySeries.EMPTY, rain);
        assertThat(look.on(dry).status()).isEqualTo(Status.WAITING);
    }

    @Test
    void a_round_begins_no_later_than_today_and_no_more_than_its_length_ago() {
        qt().forAll(
                        integers().between(0, 60),
                        integers().between(1, 40),
                        integers().between(0, 400),
                        integers().between(0, 30))
                .checkAssert((first, every, day, window) -> {
                    CareRule rule = new CareRule(new Timing.AfterPlanting(first), window, every, null);
                    LocalDate today = PLANTED.plusDays(day);
                    Due due = rule.on(facts(today));
                    LocalDate from = due.from();
                    assertThat(from).isNotNull();
                    if (day >= first) {
                        assertThat(from).isBetween(today.minusDays(every - 1L), today);
                    } else {
                        assertThat(from).isEqualTo(PLANTED.plusDays(first));
                    }
                    assertThat(due.lateAfter()).isEqualTo(from.plusDays(window));
                });
    }

    @Test
    void absurd_rules_are_refused() {
        assertThatThrownBy(() -> new Timing.AfterPlanting(-1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Timing.AtHeat(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Timing.AfterRain(-3)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new CareRule(new Timing.AfterPlanting(1), 1, 0, null))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new DailySeries(PLANTED, new double[] {-1}))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
