package org.rootling.planting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDate;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.training.CareTick;
import org.rootling.training.YearOne;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.rootling.work.NewTask;
import org.rootling.work.Tasks;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** Planting as it is really done: a task, a helper, a log from the field. */
@AppTest
@Import(TestField.class)
class PlantingWorkTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    Lots lots;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    YearOne yearOne;

    @Autowired
    Vineyards days;

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

    private UUID task(String step) {
        return vineyard.inside(() -> tasks.create(new NewTask(
                step,
                row,
                step.equals("PLANT") ? field.lot() : null,
                null,
                null,
                List.of(vineyard.account(Role.HELPER)),
                null)));
    }

    private UUID log(UUID task, String run, String but, Found... found) {
        UUID id = Ids.next();
        vineyard.run(() -> log.take(
                new FieldLog.Entry(id, task, run, but, List.of(found), 40, days.now(), null),
                vineyard.account(Role.HELPER)));
        return id;
    }

    private Lot lot() {
        return vineyard.inside(() -> lots.byId(field.lot())).orElseThrow();
    }

    private int planted() {
        return vineyard.inside(() -> vines.tally(row)).orElseThrow().tally().present();
    }

    private static SortedSet<Integer> places(int first, int last) {
        return IntStream.rangeClosed(first, last).boxed().collect(Collectors.toCollection(TreeSet::new));
    }

    @Test
    void a_logged_run_with_exceptions_plants_exactly_those_places_and_all_agree() {
        UUID task = task("PLANT");
        log(task, "B2 r1 3-18", "7, 12");
        assertThat(planted()).isEqualTo(14);
        assertThat(lot().balance()).isEqualTo(16);
        assertThat(lot().planted()).isEqualTo(14);
        assertThat(vineyard.inside(() -> tasks.byId(task)).orElseThrow().done()).isEqualTo(14);
        assertThat(vineyard.inside(() -> vines.at(row, 7))).isEmpty();
        assertThat(vineyard.inside(() -> vines.at(row, 3)).orElseThrow().plantedBy())
                .isEqualTo(vineyard.account(Role.HELPER));
    }

    @Test
    void work_on_vines_from_before_they_were_planted_is_kept_for_a_person() {
        log(task("PLANT"), "B2 r1 1-10", null);
        UUID guard = task("GUARD");
        FieldLog.Result result = vineyard.inside(() -> log.record(
                new FieldLog.Entry(
                        Ids.next(),
                        guard,
                        "B2 r1 8-12",
                        null,
                        List.of(),
                        20,
                        days.now().minus(java.time.Duration.ofDays(3)),
                        null),
                vineyard.account(Role.HELPER)));
        assertThat(result.outcome()).isEqualTo(FieldLog.Outcome.CONFLICT);
        assertThat(result.reason()).isEqualTo("planting.work.before-planting");
        assertThat(result.args()).first().isEqualTo("8");
        assertThat(vineyard.inside(() -> tasks.byId(guard)).orElseThrow().done())
                .isZero();
    }

    @Test
    void what_was_found_goes_to_the_ledger_or_stays_as_a_note() {
        log(
                task("PLANT"),
                "B2 r1 1-10",
                "7, 9",
                new Found(3, "broken"),
                new Found(7, "no-root"),
                new Found(8, "wrong-variety"),
                new Found(9, "hole-too-wet"));
        assertThat(planted()).isEqualTo(8);
        assertThat(lot().balance()).isEqualTo(30 - 8 - 3);
        assertThat(lot().planted()).isEqualTo(8);
        assertThat(vineyard.inside(() -> vines.at(row, 9))).isEmpty();
        assertThat(vineyard.inside(() -> vines.placeNotes(row)))
                .extracting(PlaceNote::what)
                .containsExactlyInAnyOrder("broken", "no-root", "wrong-variety", "hole-too-wet");
    }

    @Test
    void a_log_taken_back_leaves_lot_row_and_task_as_they_were() {
        UUID task = task("PLANT");
        UUID entry = log(task, "B2 r1 1-10", "7", new Found(7, "broken"));
        vineyard.run(() -> log.undo(entry, vineyard.account(Role.HELPER), "wrong row"));
        assertThat(planted()).isZero();
        assertThat(lot().balance()).isEqualTo(30);
        assertThat(vineyard.inside(() -> tasks.byId(task)).orElseThrow().done()).isZero();
        assertThat(vineyard.inside(() -> vines.placeNotes(row))).isEmpty();
        log(task, "B2 r1 1-10", "");
        assertThat(planted()).isEqualTo(10);
    }

    @Test
    void more_than_the_lot_has_is_refused_with_nothing_half_done() {
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(), field.row(2).id(), places(1, 20), field.lot(), today, vineyard.account(Role.LEAD))));
        UUID task = task("PLANT");
        assertThatThrownBy(() -> log(task, "B2 r1", "")).isInstanceOf(Refused.class);
        assertThat(planted()).isZero();
        assertThat(lot().balance()).isEqualTo(10);
        assertThat(vineyard.inside(() -> tasks.byId(task)).orElseThrow().done()).isZero();
    }

    @Test
    void dead_vines_found_at_other_work_become_sightings_and_go_with_the_log() {
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(), row, places(1, 10), field.lot(), today.minusDays(21), vineyard.account(Role.LEAD))));
        UUID entry = log(task("WEED"), "B2 r1 1-10", "", new Found(4, "dead"));
        assertThat(vineyard.inside(() -> vines.at(row, 4)).orElseThrow().state())
                .isEqualTo(VineState.DEAD);
        assertThat(vineyard.inside(() -> yearOne.ticks(row)))
                .extracting(CareTick::places)
                .singleElement()
                .satisfies(p -> assertThat(p).hasSize(9));
        vineyard.run(() -> log.undo(entry, vineyard.account(Role.LEAD), "another row"));
        assertThat(vineyard.inside(() -> vines.at(row, 4)).orElseThrow().state())
                .isEqualTo(VineState.PLANTED);
        assertThat(vineyard.inside(() -> yearOne.ticks(row))).isEmpty();
    }
}
