package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDate;
import java.util.Map;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Timing;
import org.rootling.training.domain.Checklist;
import org.rootling.training.domain.Shoots;
import org.rootling.training.domain.Stages;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

@AppTest
@Import(TestField.class)
class YearOneTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    YearOne yearOne;

    @Autowired
    Checklist checklist;

    @Autowired
    Stages stages;

    @Autowired
    Shoots shoots;

    private TestVineyard vineyard;
    private TestField.Field field;
    private UUID row;
    private LocalDate today;

    @BeforeEach
    void aRowPlantedTenDaysAgo() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 60);
        row = field.row(1).id();
        today = fields.today(vineyard);
        plant(row, places(1, 10), today.minusDays(10));
    }

    private void plant(UUID into, SortedSet<Integer> places, LocalDate on) {
        vineyard.run(() ->
                vines.plant(new NewPlanting(Ids.next(), into, places, field.lot(), on, vineyard.account(Role.HELPER))));
    }

    private static SortedSet<Integer> places(int first, int last) {
        return IntStream.rangeClosed(first, last).boxed().collect(Collectors.toCollection(TreeSet::new));
    }

    private CareItem item(String code) {
        return vineyard.inside(() -> checklist.items()).stream()
                .filter(i -> i.code().equals(code))
                .findFirst()
                .orElseThrow();
    }

    private void tick(String code, UUID at, SortedSet<Integer> places, LocalDate on) {
        vineyard.run(() -> yearOne.tick(
                Set.of(item(code).id()), Map.of(at, places), on, null, vineyard.account(Role.HELPER), null));
    }

    private CareLine inRow(UUID at, String code) {
        return vineyard.inside(() -> yearOne.row(at)).lines().stream()
                .filter(l -> l.item().code().equals(code))
                .findFirst()
                .orElseThrow();
    }

    private CareLine inBlock(String code) {
        return vineyard.inside(() -> yearOne.block(field.block())).orElseThrow().lines().stream()
                .filter(l -> l.item().code().equals(code))
                .findFirst()
                .orElseThrow();
    }

    private CareLine inOverview(String code) {
        return vineyard.inside(() -> yearOne.blocks()).get(0).lines().stream()
                .filter(l -> l.item().code().equals(code))
                .findFirst()
                .orElseThrow();
    }

    private static void refused(Runnable work, String key) {
        assertThatThrownBy(work::run)
                .isInstanceOfSatisfying(Refused.class, r -> assertThat(r.key()).isEqualTo(key));
    }

    @Test
    void an_item_falls_due_by_planting_and_is_late_after_its_window() {
        assertThat(inRow(row, "water-in").standing()).isEqualTo(CareLine.Standing.LATE);
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.DUE);
        assertThat(inRow(row, "first-pruning").standing()).isEqualTo(CareLine.Standing.AHEAD);
    }

    @Test
    void ticked_by_runs_of_places_until_every_living_vine_is_covered() {
        tick("stake-upright", row, places(1, 6), today);
        assertThat(inRow(row, "stake-upright").done()).isEqualTo(6);
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.DUE);
        tick("stake-upright", row, places(5, 10), today);
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.DONE);
        assertThat(inBlock("stake-upright").done()).isEqualTo(10);
        assertThat(inOverview("stake-upright").done()).isEqualTo(10);
    }

    @Test
    void a_dead_vine_no_longer_waits_for_its_care() {
        tick("stake-upright", row, places(1, 9), today);
        vineyard.run(
                () -> vines.observe(row, places(10, 10), VineState.DEAD, today, null, vineyard.account(Role.HELPER)));
        assertThat(inRow(row, "stake-upright").of()).isEqualTo(9);
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.DONE);
    }

    @Test
    void a_replacement_has_its_own_age_and_its_own_ticks() {
        tick("stake-upright", row, places(1, 10), today.minusDays(1));
        vineyard.run(
                () -> vines.observe(row, places(4, 4), VineState.DEAD, today, null, vineyard.account(Role.HELPER)));
        plant(row, places(4, 4), today);
        assertThat(inRow(row, "stake-upright").done()).isEqualTo(9);
    }

    @Test
    void the_tick_of_an_earlier_round_does_not_count_for_this_one() {
        tick("water-round", row, places(1, 10), today.minusDays(4));
        assertThat(inRow(row, "water-round").done()).isZero();
        tick("water-round", row, places(1, 10), today);
        assertThat(inRow(row, "water-round").done()).isEqualTo(10);
    }

    @Test
    void a_tick_taken_back_no_longer_counts() {
        tick("stake-upright", row, places(1, 10), today);
        UUID tick = vineyard.inside(() -> yearOne.ticks(row)).get(0).id();
        vineyard.run(() -> yearOne.untick(tick, vineyard.account(Role.LEAD)));
        assertThat(inRow(row, "stake-upright").done()).isZero();
        assertThat(inBlock("stake-upright").done()).isZero();
        assertThat(inOverview("stake-upright").done()).isZero();
        assertThatThrownBy(() -> vineyard.run(() -> yearOne.untick(tick, vineyard.account(Role.LEAD))))
                .isInstanceOf(NotFound.class);
    }

    @Test
    void many_rows_in_one_list_are_ticked_together_or_not_at_all() {
        UUID empty = field.row(2).id();
        refused(
                () -> vineyard.run(() -> yearOne.tick(
                        Set.of(item("stake-upright").id()),
                        Map.of(row, places(1, 10), empty, places(1, 10)),
                        today,
                        null,
                        vineyard.account(Role.HELPER),
                        null)),
                "training.tick.no-vines");
        assertThat(inRow(row, "stake-upright").done()).isZero();
        assertThat(vineyard.inside(() -> yearOne.ticks(row))).isEmpty();
    }

    @Test
    void nonsense_ticks_are_refused() {
        refused(() -> tick("stake-upright", row, places(1, 21), today), "training.tick.outside");
        refused(() -> tick("stake-upright", row, new TreeSet<>(), today), "training.tick.no-places");
        refused(() -> tick("stake-upright", row, places(1, 3), today.plusDays(1)), "training.date.ahead");
        refused(() -> tick("stake-upright", row, places(1, 3), today.minusDays(11)), "training.tick.before-planting");
        assertThatThrownBy(() -> vineyard.run(() -> yearOne.tick(
                        Set.of(UUID.randomUUID()),
                        Map.of(row, places(1, 3)),
                        today,
                        null,
                        vineyard.account(Role.HELPER),
                        null)))
                .isInstanceOf(NotFound.class);
    }

    @Test
    void a_stage_seen_makes_its_items_due() {
        assertThat(inRow(row, "clusters-off").standing()).isEqualTo(CareLine.Standing.AHEAD);
        vineyard.run(() -> stages.record(field.block(), new Bbch(53), today, null, vineyard.account(Role.HELPER)));
        assertThat(inRow(row, "clusters-off").standing()).isEqualTo(CareLine.Standing.DUE);
        assertThat(inRow(row, "clusters-off").due().estimate()).isFalse();
    }

    @Test
    void a_stage_that_goes_back_needs_a_word() {
        UUID helper = vineyard.account(Role.HELPER);
        vineyard.run(() -> stages.record(field.block(), new Bbch(13), today.minusDays(1), null, helper));
        LocalDate sameSeason = today;
        if (sameSeason.getYear() == today.minusDays(1).getYear()) {
            refused(
                    () -> vineyard.run(() -> stages.record(field.block(), new Bbch(11), sameSeason, null, helper)),
                    "training.stage.goes-back");
        }
        vineyard.run(() -> stages.record(field.block(), new Bbch(11), today, "frost took the first shoots", helper));
        assertThat(vineyard.inside(() -> stages.recorded(field.block()))).hasSize(2);
    }

    @Test
    void the_owner_makes_the_list_their_own() {
        CareItem stake = item("stake-upright");
        Checklist.Draft draft = new Checklist.Draft(
                stake.position(),
                "Stake firm",
                new CareRule(new Timing.AfterPlanting(3), 2, null, null),
                null,
                stake.why(),
                stake.how(),
                null,
                "STAKE",
                "our own habit");
        vineyard.run(() -> checklist.edit(stake.id(), draft, stake.version()));
        assertThat(item("stake-upright").name()).isEqualTo("Stake firm");
        assertThat(item("stake-upright").howKnown()).isEqualTo("own");
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.LATE);
        assertThatThrownBy(() -> vineyard.run(() -> checklist.edit(stake.id(), draft, stake.version())))
                .isInstanceOf(Stale.class);
        assertThat(vineyards.fresh().inside(() -> checklist.items()))
                .extracting(CareItem::name)
                .doesNotContain("Stake firm");
    }

    private static Checklist.Draft after(CareItem item, UUID after) {
        return new Checklist.Draft(
                item.position(),
                item.name(),
                item.rule(),
                after,
                item.why(),
                item.how(),
                item.caution(),
                item.step(),
                item.source());
    }

    @Test
    void items_that_wait_for_each_other_in_a_circle_are_refused() {
        CareItem first = item("shoots-stay");
        CareItem second = item("choose-shoot");
        CareItem third = item("tie-in");
        vineyard.run(() -> checklist.edit(second.id(), after(second, first.id()), 0));
        vineyard.run(() -> checklist.edit(third.id(), after(third, second.id()), 0));
        refused(
                () -> vineyard.run(() -> checklist.edit(first.id(), after(first, third.id()), 0)),
                "training.item.circle");
        refused(
                () -> vineyard.run(() -> checklist.edit(first.id(), after(first, first.id()), 0)),
                "training.item.circle");
        refused(() -> vineyard.run(() -> checklist.withdraw(first.id(), 0)), "training.item.has-followers");
    }

    @Test
    void an_item_waits_until_the_one_before_it_is_finished() {
        CareItem stake = item("stake-upright");
        vineyard.run(() ->
                checklist.edit(stake.id(), after(stake, item("graft-clear").id()), 0));
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.WAITING);
        tick("graft-clear", row, places(1, 10), today);
        assertThat(inRow(row, "stake-upright").standing()).isEqualTo(CareLine.Standing.DUE);
    }

    @Test
    void shoots_and_heights_are_kept_by_vine_and_absurd_ones_refused() {
        UUID helper = vineyard.account(Role.HELPER);
        vineyard.run(() -> shoots.record(
                row, Map.of(1, new Shoots.Seen(2, 35, false), 2, new Shoots.Seen(1, null, true)), today, helper));
        UUID vine = vineyard.inside(() -> vines.at(row, 1)).orElseThrow().id();
        assertThat(vineyard.inside(() -> shoots.ofVine(vine)))
                .singleElement()
                .satisfies(c -> assertThat(c.heightCm()).isEqualTo(35));
        vineyard.run(() -> shoots.record(row, Map.of(1, new Shoots.Seen(2, 40, false)), today, helper));
        assertThat(vineyard.inside(() -> shoots.ofVine(vine)))
                .singleElement()
                .satisfies(c -> assertThat(c.heightCm()).isEqualTo(40));
        refused(
                () -> vineyard.run(
                        () -> shoots.record(row, Map.of(1, new Shoots.Seen(2000, null, false)), today, helper)),
                "training.shoots.too-many");
        refused(
                () -> vineyard.run(
                        () -> shoots.record(row, Map.of(1, new Shoots.Seen(2, 30000, false)), today, helper)),
                "training.shoots.too-tall");
        refused(
                () -> vineyard.run(() -> shoots.record(row, Map.of(1, new Shoots.Seen(0, 1, true)), today, helper)),
                "training.shoots.chosen-of-none");
        refused(
                () -> vineyard.run(() -> shoots.record(row, Map.of(15, new Shoots.Seen(1, 1, false)), today, helper)),
                "training.shoots.no-living-vine");
    }

    @Test
    void another_vineyard_sees_nothing_of_it() {
        tick("stake-upright", row, places(1, 10), today);
        TestVineyard other = vineyards.fresh();
        assertThat(other.inside(() -> yearOne.blocks())).isEmpty();
        assertThat(other.inside(() -> yearOne.ticks(row))).isEmpty();
        assertThatThrownBy(() -> other.inside(() -> yearOne.block(field.block())))
                .isInstanceOf(NotFound.class);
        assertThatThrownBy(() -> other.inside(() -> yearOne.row(row))).isInstanceOf(NotFound.class);
    }
}
