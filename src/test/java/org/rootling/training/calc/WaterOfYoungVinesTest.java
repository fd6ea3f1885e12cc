package org.rootling.training.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class WaterOfYoungVinesTest {

    private static final LocalDate DAY_1 = LocalDate.of(2026, 6, 1);

    private static List<YoungVineWater.Day> dry(int days, double et0) {
        return IntStream.range(0, days)
                .mapToObj(i -> new YoungVineWater.Day(DAY_1.plusDays(i), 0, et0, 0, false))
                .toList();
    }

    /**
     * FAO-56 (1998) Example 37, p. 168: root depth 0.8 m, p 0.40, field capacity 0.32, wilting point 0.12, reference 5
     * mm/day, Kc 1.2, 55 mm missing at the start; depletion at the end of each of ten days.
     */
    @Test
    void the_account_follows_the_published_ten_days() {
        YoungVineWater.Vine tomato = new YoungVineWater.Vine(0.8, 0.8, 0, 1.2, 1.2, 0, 0.40);
        List<YoungVineWater.State> states =
                YoungVineWater.run(tomato, new YoungVineWater.Soil(0.32, 0.12), DAY_1, 55, dry(10, 5));
        double[] published = {61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5};
        for (int i = 0; i < published.length; i++) {
            assertThat(states.get(i).depletionMm()).as("day %d", i + 1).isCloseTo(published[i], within(0.15));
        }
        assertThat(states.get(0).totalMm()).isCloseTo(160, within(1e-9));
        assertThat(states.get(0).readilyMm()).isCloseTo(64, within(1e-9));
        assertThat(YoungVineWater.runsLow(states, DAY_1)).contains(DAY_1.plusDays(1));
    }

    /** One mm on one square metre is one litre. */
    @Test
    void litres_fill_what_is_missing() {
        YoungVineWater.State state = new YoungVineWater.State(DAY_1, 12, 40, 18, false);
        assertThat(state.litresToFill(0.5)).isCloseTo(6, within(1e-9));
        List<YoungVineWater.Day> days = new ArrayList<>(dry(1, 0));
        days.set(0, new YoungVineWater.Day(DAY_1, 0, 0, 12, false));
        assertThat(YoungVineWater.run(YoungVineWater.Vine.YOUNG, new YoungVineWater.Soil(0.25, 0.12), DAY_1, 12, days)
                        .get(0)
                        .depletionMm())
                .isCloseTo(0, within(1e-9));
    }

    @Test
    void roots_grow_and_the_store_with_them() {
        List<YoungVineWater.State> states = YoungVineWater.run(
                YoungVineWater.Vine.YOUNG, new YoungVineWater.Soil(0.25, 0.12), DAY_1, 0, dry(200, 0));
        assertThat(states.get(0).totalMm()).isCloseTo(1000 * 0.13 * 0.30, within(1e-9));
        assertThat(states.get(199).totalMm()).isCloseTo(1000 * 0.13 * 0.60, within(1e-9));
        assertThat(states).extracting(YoungVineWater.State::totalMm).isSorted();
    }

    @Test
    void depletion_stays_within_the_store() {
        List<YoungVineWater.State> states = YoungVineWater.run(
                YoungVineWater.Vine.YOUNG, new YoungVineWater.Soil(0.12, 0.05), DAY_1, 0, dry(150, 9));
        assertThat(states).allSatisfy(s -> assertThat(s.depletionMm()).isBetween(0.0, s.totalMm()));
    }

    @Test
    void a_soil_that_holds_nothing_is_refused() {
        assertThatThrownBy(() -> new YoungVineWater.Soil(0.1, 0.1)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void heights_are_read_in_the_units_people_use() {
        assertThat(Heights.parseCm("35", false)).hasValue(35);
        assertThat(Heights.parseCm("35 cm", false)).hasValue(35);
        assertThat(Heights.parseCm("0,35 m", false)).hasValue(35);
        assertThat(Heights.parseCm("350 mm", false)).hasValue(35);
        // 1 ft = 30.48 cm and 1 in = 2.54 cm exactly (international yard and pound agreement, 1959)
        assertThat(Heights.parseCm("4 ft", false)).hasValue(122);
        assertThat(Heights.parseCm("1 ft 2 in", false)).hasValue(36);
        assertThat(Heights.parseCm("14in", false)).hasValue(36);
        assertThat(Heights.parseCm("4'2\"", false)).hasValue(127);
        assertThat(Heights.parseCm("1.5 ft", false)).hasValue(46);
        // who thinks in inches types inches, and still may name another unit
        assertThat(Heights.parseCm("35", true)).hasValue(89);
        assertThat(Heights.parseCm("35 cm", true)).hasValue(35);
    }

    @Test
    void unclear_heights_are_not_guessed() {
        for (String text :
                List.of("", "1.2", "tall", "-5", "4 ft 30 in", "4 ft 2 m", "1.5 ft 2 in", "1e9", "99999999")) {
            assertThat(Heights.parseCm(text, false)).as(text).isEmpty();
            assertThat(Heights.parseCm(text, true)).as(text).isEmpty();
        }
    }
}
