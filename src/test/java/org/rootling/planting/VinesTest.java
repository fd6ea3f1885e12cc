package org.rootling.planting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lots;
import org.rootling.people.Role;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

@AppTest
@Import(TestField.class)
class VinesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    Lots lots;

    private TestVineyard vineyard;
    private TestField.Field field;
    private UUID row;
    private LocalDate today;

    @BeforeEach
    void aField() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 30);
        row = field.row(1).id();
        today = fields.today(vineyard);
    }

    private static SortedSet<Integer> places(int first, int last) {
        return IntStream.rangeClosed(first, last).boxed().collect(Collectors.toCollection(TreeSet::new));
    }

    private UUID plant(SortedSet<Integer> places, LocalDate on) {
        UUID reference = Ids.next();
        vineyard.run(() ->
                vines.plant(new NewPlanting(reference, row, places, field.lot(), on, vineyard.account(Role.HELPER))));
        return reference;
    }

    private void see(VineState state, SortedSet<Integer> places, LocalDate on, String note) {
        vineyard.run(() -> vines.observe(row, places, state, on, note, vineyard.account(Role.HELPER)));
    }

    private RowTally tally() {
        return vineyard.inside(() -> vines.tally(row)).orElseThrow();
    }

    private int waiting() {
        return vineyard.inside(() -> lots.byId(field.lot())).orElseThrow().balance();
    }

    private Vine at(int place) {
        return vineyard.inside(() -> vines.at(row, place)).orElseThrow();
    }

    private static void refused(Runnable work, String key) {
        assertThatThrownBy(work::run)
                .isInstanceOfSatisfying(Refused.class, r -> assertThat(r.key()).isEqualTo(key));
    }

    @Test
    void planting_moves_vines_from_the_lot_to_their_places() {
        int before = waiting();
        plant(places(3, 12), today);
        assertThat(waiting()).isEqualTo(before - 10);
        assertThat(tally().tally().of(VineState.PLANTED)).isEqualTo(10);
        assertThat(tally().tally().firstPlanted()).isEqualTo(today);
        Vine vine = at(5);
        assertThat(vine.lotId()).isEqualTo(field.lot());
        assertThat(vine.plantedBy()).isEqualTo(vineyard.account(Role.HELPER));
        assertThat(vineyard.inside(() -> vines.at(row, 2))).isEmpty();
        assertThat(vineyard.inside(() -> vines.lotTallies()))
                .singleElement()
                .satisfies(t -> assertThat(t.tally().present()).isEqualTo(10));
    }

    @Test
    void a_place_with_a_living_vine_takes_no_second_one_and_nothing_is_half_done() {
        plant(places(1, 5), today);
        int before = waiting();
        refused(() -> plant(places(5, 8), today), "planting.plant.taken");
        assertThat(waiting()).isEqualTo(before);
        assertThat(tally().tally().present()).isEqualTo(5);
    }

    @Test
    void more_vines_than_the_lot_has_are_refused_with_nothing_planted() {
        assertThatThrownBy(() -> {
                    for (TestField.PlantableRow other : field.rows()) {
                        vineyard.run(() -> vines.plant(new NewPlanting(
                                Ids.next(),
                                other.id(),
                                places(1, other.places()),
                                field.lot(),
                                today,
                                vineyard.account(Role.LEAD))));
                    }
                })
                .isInstanceOf(Refused.class);
        int planted = vineyard.inside(() -> vines.lotTallies()).stream()
                .mapToInt(t -> t.tally().present())
                .sum();
        assertThat(planted + waiting()).isEqualTo(30);
    }

    @Test
    void two_who_plant_into_the_same_places_at_once_cannot_both_succeed() throws Exception {
        ExecutorService pool = Executors.newFixedThreadPool(2);
        try {
            Callable<Boolean> one = () -> {
                try {
                    plant(places(1, 10), today);
                    return true;
                } catch (Refused refused) {
                    return false;
                }
            };
            List<Future<Boolean>> both = pool.invokeAll(List.of(one, one));
            List<Boolean> results = new ArrayList<>();
            for (Future<Boolean> future : both) {
                results.add(future.get());
            }
            assertThat(results).containsExactlyInAnyOrder(true, false);
        } finally {
            pool.shutdownNow();
        }
        assertThat(tally().tally().present()).isEqualTo(10);
        assertThat(waiting()).isEqualTo(20);
    }

    @Test
    void a_planting_taken_back_leaves_a_trace_and_the_vines_wait_again() {
        UUID planting = plant(places(1, 6), today);
        UUID vine = at(4).id();
        vineyard.run(() -> vines.undo(planting, today, vineyard.account(Role.LEAD)));
        assertThat(waiting()).isEqualTo(30);
        assertThat(tally().tally().present()).isZero();
        assertThat(vineyard.inside(() -> vines.history(vine)))
                .extracting(VineEvent::kind)
                .containsExactly(VineEvent.Kind.PLANTED, VineEvent.Kind.UNDONE);
        refused(
                () -> vineyard.run(() -> vines.undo(planting, today, vineyard.account(Role.LEAD))),
                "planting.undo.already");
        assertThat(waiting()).isEqualTo(30);
    }

    @Test
    void a_replacement_is_a_new_vine_in_the_same_place() {
        plant(places(1, 5), today.minusDays(30));
        UUID first = at(3).id();
        see(VineState.DEAD, places(3, 3), today.minusDays(2), null);
        UUID second = plant(places(3, 3), today);
        assertThat(at(3).id()).isNotEqualTo(first);
        assertThat(at(3).plantedOn()).isEqualTo(today);
        assertThat(vineyard.inside(() -> vines.formerly(row, 3)))
                .extracting(Vine::id)
                .containsExactly(first);
        assertThat(tally().tally().of(VineState.DEAD)).isZero();
        assertThat(tally().tally().present()).isEqualTo(5);
        vineyard.run(() -> vines.undo(second, today, vineyard.account(Role.LEAD)));
        assertThat(at(3).id()).isEqualTo(first);
        assertThat(at(3).state()).isEqualTo(VineState.DEAD);
        assertThat(tally().tally().of(VineState.DEAD)).isEqualTo(1);
    }

    @Test
    void a_planting_whose_vine_was_replaced_is_not_taken_back() {
        UUID first = plant(places(1, 2), today.minusDays(30));
        see(VineState.DEAD, places(1, 1), today.minusDays(1), null);
        plant(places(1, 1), today);
        refused(
                () -> vineyard.run(() -> vines.undo(first, today, vineyard.account(Role.LEAD))),
                "planting.undo.replaced");
    }

    @Test
    void nothing_is_planted_or_seen_ahead_of_today() {
        refused(() -> plant(places(1, 2), today.plusDays(1)), "planting.date.ahead");
        plant(places(1, 2), today);
        refused(() -> see(VineState.GROWING, places(1, 2), today.plusDays(1), null), "planting.date.ahead");
    }

    @Test
    void a_vine_is_not_seen_before_it_was_planted() {
        plant(places(1, 2), today);
        refused(() -> see(VineState.DEAD, places(1, 2), today.minusDays(1), null), "planting.walk.before-planting");
    }

    @Test
    void alive_again_after_death_needs_a_reason() {
        plant(places(1, 4), today.minusDays(60));
        see(VineState.DEAD, places(2, 2), today.minusDays(20), null);
        refused(() -> see(VineState.GROWING, places(1, 4), today, null), "planting.walk.needs-reason");
        assertThat(at(2).state()).isEqualTo(VineState.DEAD);
        assertThat(at(1).state()).isEqualTo(VineState.PLANTED);
        see(VineState.GROWING, places(2, 2), today, "it shot late");
        assertThat(at(2).state()).isEqualTo(VineState.GROWING);
        assertThat(vineyard.inside(() -> vines.history(at(2).id())))
                .extracting(VineEvent::note)
                .contains("it shot late");
    }

    @Test
    void death_told_late_of_a_vine_seen_alive_since_needs_a_reason_too() {
        plant(places(1, 1), today.minusDays(60));
        see(VineState.GROWING, places(1, 1), today.minusDays(5), null);
        refused(() -> see(VineState.DEAD, places(1, 1), today.minusDays(10), null), "planting.walk.needs-reason");
    }

    @Test
    void an_older_sighting_never_overwrites_a_newer_one() {
        plant(places(1, 3), today.minusDays(60));
        see(VineState.WEAK, places(1, 3), today, null);
        see(VineState.GROWING, places(1, 3), today.minusDays(10), null);
        assertThat(at(1).state()).isEqualTo(VineState.WEAK);
        assertThat(vineyard.inside(() -> vines.history(at(1).id())))
                .extracting(VineEvent::state)
                .containsExactly(null, VineState.GROWING, VineState.WEAK);
    }

    @Test
    void places_outside_the_row_or_without_a_vine_are_refused() {
        plant(places(1, 3), today);
        refused(() -> see(VineState.GROWING, places(1, 400), today, null), "planting.places.outside");
        refused(() -> see(VineState.GROWING, places(3, 4), today, null), "planting.walk.no-vine");
        refused(() -> see(VineState.GROWING, new TreeSet<>(), today, null), "planting.places.none");
        refused(() -> see(VineState.PLANTED, places(1, 1), today, null), "planting.walk.not-a-sight");
    }

    @Test
    void another_vineyard_does_not_know_these_vines() {
        plant(places(1, 3), today);
        UUID vine = at(1).id();
        TestVineyard other = vineyards.fresh();
        assertThat(other.inside(() -> vines.byId(vine))).isEmpty();
        assertThat(other.inside(() -> vines.inRow(row))).isEmpty();
        assertThat(other.inside(() -> vines.tallies())).isEmpty();
        assertThatThrownBy(() -> other.run(
                        () -> vines.observe(row, places(1, 1), VineState.DEAD, today, null, other.account(Role.OWNER))))
                .isInstanceOf(NotFound.class);
    }

    @Test
    void the_kept_tallies_equal_what_a_count_of_the_vines_gives() {
        Random random = new Random(7);
        plant(places(1, 10), today.minusDays(90));
        for (int i = 0; i < 60; i++) {
            int place = 1 + random.nextInt(10);
            VineState state = VineState.SEEN.get(random.nextInt(VineState.SEEN.size()));
            LocalDate on = today.minusDays(random.nextInt(80));
            if (at(place).state().alive() || random.nextInt(4) > 0) {
                try {
                    see(state, places(place, place), on, "walk");
                } catch (Refused beforePlanting) {
                    assertThat(beforePlanting.key()).isEqualTo("planting.walk.before-planting");
                }
            } else {
                plant(places(place, place), at(place).plantedOn().isAfter(on) ? today : on);
            }
        }
        Map<VineState, Long> counted = vineyard.inside(() -> vines.inRow(row)).stream()
                .collect(Collectors.groupingBy(Vine::state, Collectors.counting()));
        for (VineState state : VineState.values()) {
            assertThat(tally().tally().of(state))
                    .as(state.name())
                    .isEqualTo(counted.getOrDefault(state, 0L).intValue());
        }
        Tally block = Tally.sum(vineyard.inside(() -> vines.lotTallies()).stream()
                .map(LotTally::tally)
                .toList());
        assertThat(block.counts()).isEqualTo(tally().counts());
    }
}
