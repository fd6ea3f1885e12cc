package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.ground.BlockDesk;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.FieldLog.Entry;
import org.rootling.work.FieldLog.Outcome;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;

@AppTest
@Import({WorkField.class, RecordingEffect.class})
class FieldLogTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    Vineyards now;

    @Autowired
    RecordingEffect effect;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    BlockDesk desk;

    private TestVineyard vineyard;
    private WorkField.Field field;
    private UUID helper;
    private UUID lead;
    private UUID task;
    private Instant time;

    @BeforeEach
    void aTaskOnRowOne() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 3, 100);
        helper = vineyard.account(Role.HELPER);
        lead = vineyard.account(Role.LEAD);
        task = task("WEED", 1);
        time = vineyard.inside(now::now).minusSeconds(3600);
        effect.told.clear();
        effect.takenBack.clear();
        effect.cutBefore = 0;
        effect.dies = false;
    }

    private UUID task(String step, int row) {
        return vineyard.inside(
                () -> tasks.create(new NewTask(step, field.row(row), null, null, null, List.of(helper), null)));
    }

    private Entry entry(UUID taskId, String run, @Nullable String but) {
        return new Entry(UUID.randomUUID(), taskId, run, but, List.of(), 35, time, null);
    }

    private Task now(UUID id) {
        return vineyard.inside(() -> tasks.byId(id).orElseThrow());
    }

    private FieldLog.Result record(Entry e) {
        return vineyard.inside(() -> log.record(e, helper));
    }

    @Test
    void aRunWithExceptionsIsDoneAndTheRestIsLeft() {
        assertThat(record(entry(task, "B2 r1 3-18", "7, 12")).outcome()).isEqualTo(Outcome.TAKEN);
        Task t = now(task);
        assertThat(t.done()).isEqualTo(14);
        assertThat(t.left()).containsExactly(1, 2, 7, 12, 19, 20);
        assertThat(t.status()).isEqualTo(TaskStatus.STARTED);
    }

    @Test
    void allPlacesMakeTheTaskDone() {
        record(entry(task, "B2 r1", null));
        assertThat(now(task).status()).isEqualTo(TaskStatus.DONE);
        assertThat(vineyard.inside(() -> tasks.open())).isEmpty();
    }

    @Test
    void theSameEntryAHundredTimesCountsOnce() {
        Entry e = entry(task, "B2 r1 1-5", null);
        assertThat(record(e).outcome()).isEqualTo(Outcome.TAKEN);
        for (int i = 0; i < 99; i++) {
            assertThat(record(e).outcome()).isEqualTo(Outcome.ALREADY_TAKEN);
        }
        assertThat(now(task).done()).isEqualTo(5);
        assertThat(vineyard.inside(() -> log.ofTask(task))).hasSize(1);
    }

    @Test
    void twoPhonesSendTheSameEntriesInPiecesAndOutOfOrderAndEachCountsOnce() throws Exception {
        UUID second = task("WEED", 2);
        UUID third = task("WEED", 3);
        List<Entry> all = new ArrayList<>();
        for (int p = 1; p <= 20; p++) {
            all.add(entry(task, "B2 r1 " + p, null));
            all.add(entry(second, "B2 r2 " + p, null));
            all.add(entry(third, "B2 r3 " + p, null));
        }
        ExecutorService phones = Executors.newFixedThreadPool(4);
        List<Future<?>> sent = new ArrayList<>();
        for (int i = 0; i < 100; i++) {
            int seed = i;
            sent.add(phones.submit(() -> {
                Random r = new Random(seed);
                List<Entry> mixed = new ArrayList<>(all);
                Collections.shuffle(mixed, r);
                List<Entry> piece = mixed.subList(0, 10 + r.nextInt(50));
                return vineyard.inside(() -> log.record(piece, helper));
            }));
        }
        for (Future<?> f : sent) {
            f.get();
        }
        phones.shutdown();
        vineyard.inside(() -> log.record(all, helper));
        for (UUID t : List.of(task, second, third)) {
            assertThat(now(t).status()).isEqualTo(TaskStatus.DONE);
            assertThat(vineyard.inside(() -> log.ofTask(t))).hasSize(20);
        }
        assertThat(count("log_conflict")).isZero();
    }

    @Test
    void anIdThatStandsTwiceInOneBatchCountsOnce() {
        Entry e = entry(task, "B2 r1 4", null);
        assertThat(vineyard.inside(() -> log.record(List.of(e, e), helper)))
                .extracting(FieldLog.Result::outcome)
                .containsExactly(Outcome.TAKEN, Outcome.ALREADY_TAKEN);
    }

    @Test
    void aSecondPhoneOnTheSamePlacesIsAConflictThatNamesTheFirst() {
        Entry first = entry(task, "B2 r1 1-10", null);
        record(first);
        Entry second = entry(task, "B2 r1 8-12", null);
        FieldLog.Result r = vineyard.inside(() -> log.record(second, lead));
        assertThat(r.outcome()).isEqualTo(Outcome.CONFLICT);
        assertThat(r.against()).isEqualTo(first.id());
        assertThat(r.args()).containsExactly("8-10");
        assertThat(now(task).done()).isEqualTo(10);
        assertThat(count("log_conflict")).isEqualTo(1);
        // Sent again it is the same conflict, not a second one.
        assertThat(vineyard.inside(() -> log.record(second, lead))).isEqualTo(r);
        assertThat(count("log_conflict")).isEqualTo(1);
    }

    @Test
    void entriesAreTakenInTheOrderOfTheirTimes() {
        Entry later = new Entry(UUID.randomUUID(), task, "B2 r1 1-10", null, List.of(), 5, time.plusSeconds(60), null);
        Entry earlier = new Entry(UUID.randomUUID(), task, "B2 r1 5-6", null, List.of(), 5, time, null);
        assertThat(vineyard.inside(() -> log.record(List.of(later, earlier), helper)))
                .extracting(FieldLog.Result::outcome)
                .containsExactly(Outcome.CONFLICT, Outcome.TAKEN);
    }

    @Test
    void whatMakesNoSenseIsRefusedWithItsReasonAndNothingIsKept() {
        record(entry(task, "B2 r1 1", null));
        assertThat(reason(entry(task, "B2 r1 3-21", null))).isEqualTo("ground.run.outside");
        assertThat(reason(entry(task, "B2 r2 3", null))).isEqualTo("work.log.other-row");
        assertThat(reason(entry(task, "gibberish", null))).startsWith("ground.run.");
        assertThat(reason(entry(task, "B2 r1 " + "1,".repeat(500_000), null))).startsWith("ground.run.");
        assertThat(reason(entry(task, "B2 r1 3-5", "3-5"))).isEqualTo("work.log.nothing");
        assertThat(reason(entry(UUID.randomUUID(), "B2 r1 3", null))).isEqualTo("work.log.unknown-task");
        assertThat(reason(with(-1, time, List.of()))).isEqualTo("work.log.minutes");
        assertThat(reason(with(100_000, time, List.of()))).isEqualTo("work.log.minutes");
        assertThat(reason(with(5, time.plus(Duration.ofDays(30)), List.of()))).isEqualTo("work.log.future");
        assertThat(reason(with(5, Instant.parse("1903-01-01T00:00:00Z"), List.of())))
                .isEqualTo("work.log.too-old");
        assertThat(reason(with(5, time, List.of(new Found(99, "dead"))))).isEqualTo("work.log.found-outside");
        assertThat(reason(with(5, time, List.of(new Found(3, "stolen"))))).isEqualTo("work.log.unknown-finding");
        assertThat(count("task_log")).isEqualTo(1);
        assertThat(count("log_conflict")).isZero();
        assertThat(now(task).done()).isEqualTo(1);
    }

    private Entry with(int minutes, Instant at, List<Found> found) {
        return new Entry(UUID.randomUUID(), task, "B2 r1 3", null, found, minutes, at, null);
    }

    private @Nullable String reason(Entry e) {
        FieldLog.Result r = record(e);
        assertThat(r.outcome()).isEqualTo(Outcome.REFUSED);
        return r.reason();
    }

    @Test
    void aPhoneWhoseClockIsADayAheadIsKeptForAPerson() {
        FieldLog.Result r = record(with(5, time.plus(Duration.ofDays(1)), List.of()));
        assertThat(r.outcome()).isEqualTo(Outcome.CONFLICT);
        assertThat(r.reason()).isEqualTo("work.log.clock-ahead");
    }

    @Test
    void undoLeavesATraceAndThePlacesOpenAgain() {
        Entry e = entry(task, "B2 r1", null);
        record(e);
        vineyard.run(() -> log.undo(e.id(), helper, "wrong row"));
        assertThat(now(task).status()).isEqualTo(TaskStatus.OPEN);
        FieldLog.Logged l = vineyard.inside(() -> log.byId(e.id()).orElseThrow());
        assertThat(l.standing()).isFalse();
        assertThat(l.undoneBy()).isEqualTo(helper);
        assertThat(l.places()).hasSize(20);
        assertThatThrownBy(() -> vineyard.run(() -> log.undo(e.id(), helper, null)))
                .isInstanceOf(Refused.class)
                .hasMessage("work.undo.done-before");
        // Sent once more by a phone that never heard the answer, it stays undone.
        assertThat(record(e).outcome()).isEqualTo(Outcome.ALREADY_TAKEN);
        assertThat(now(task).done()).isZero();
    }

    @Test
    void aHelperUndoesOnlyTheirOwnLogs() {
        Entry e = entry(task, "B2 r1 1", null);
        vineyard.inside(() -> log.record(e, lead));
        assertThatThrownBy(() -> vineyard.run(() -> log.undo(e.id(), helper, null)))
                .hasMessage("work.undo.not-yours");
    }

    @Test
    void theDatabaseItselfRefusesToChangeOrRemoveALog() {
        record(entry(task, "B2 r1 1", null));
        assertThatThrownBy(() -> vineyard.run(
                        () -> jdbc.sql("update task_log set minutes = 1").update()))
                .isInstanceOf(DataAccessException.class);
        assertThatThrownBy(() ->
                        vineyard.run(() -> jdbc.sql("delete from task_log").update()))
                .isInstanceOf(DataAccessException.class);
    }

    @Test
    void anEffectIsToldOnceAndInTheSameTransaction() {
        UUID check = task("CHECK", 2);
        Entry e =
                new Entry(UUID.randomUUID(), check, "B2 r2 1-4", "3", List.of(new Found(3, "missing")), 10, time, null);
        record(e);
        record(e);
        assertThat(effect.told).hasSize(1);
        LoggedWork w = effect.told.get(0);
        assertThat(w.logId()).isEqualTo(e.id());
        assertThat(w.places()).isEqualTo(new TreeSet<>(Set.of(1, 2, 4)));
        assertThat(w.found()).containsExactly(new Found(3, "missing"));
        assertThat(w.minutes()).isEqualTo(10);
        vineyard.run(() -> log.undo(e.id(), helper, null));
        assertThat(effect.takenBack).hasSize(1);
    }

    @Test
    void whatAnEffectRefusesIsKeptForAPersonAndTheOthersAreTaken() {
        UUID check = task("CHECK", 2);
        List<Entry> batch = IntStream.rangeClosed(10, 16)
                .mapToObj(p -> entry(check, "B2 r2 " + p, null))
                .toList();
        List<FieldLog.Result> r = vineyard.inside(() -> log.record(batch, helper));
        assertThat(r.stream().map(FieldLog.Result::outcome).collect(Collectors.toList()))
                .containsExactly(
                        Outcome.TAKEN,
                        Outcome.TAKEN,
                        Outcome.TAKEN,
                        Outcome.CONFLICT,
                        Outcome.TAKEN,
                        Outcome.TAKEN,
                        Outcome.TAKEN);
        assertThat(r.get(3).reason()).isEqualTo("work.test.unlucky");
        assertThat(now(check).donePlaces()).containsExactly(10, 11, 12, 14, 15, 16);
        assertThat(count("log_conflict")).isEqualTo(1);
    }

    @Test
    void onThePageTheSameRefusalLeavesNothingBehind() {
        UUID check = task("CHECK", 2);
        assertThatThrownBy(() -> vineyard.run(() -> log.take(entry(check, "B2 r2 12-14", null), helper)))
                .isInstanceOf(Refused.class)
                .hasMessage("work.test.unlucky");
        assertThat(now(check).done()).isZero();
        assertThat(count("task_log")).isZero();
        assertThat(count("log_conflict")).isZero();
    }

    @Test
    void fiveThousandEntriesAtOnceAreTakenAndOneMoreIsRefused() {
        List<Entry> many = IntStream.range(0, 5000)
                .mapToObj(i -> entry(task, "B2 r1 " + (1 + i % 20), null))
                .toList();
        List<FieldLog.Result> r = vineyard.inside(() -> log.record(many, helper));
        assertThat(r.stream().filter(x -> x.outcome() == Outcome.TAKEN)).hasSize(20);
        assertThat(r.stream().filter(x -> x.outcome() == Outcome.CONFLICT)).hasSize(4980);
        List<Entry> more = new ArrayList<>(many);
        more.add(many.get(0));
        assertThatThrownBy(() -> vineyard.inside(() -> log.record(more, helper)))
                .hasMessage("work.log.too-many");
    }

    private List<Entry> sixHundred() {
        List<Entry> many = new ArrayList<>();
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 36, 100);
        helper = vineyard.account(Role.HELPER);
        for (int row = 1; row <= 36; row++) {
            UUID check = task("CHECK", row);
            for (int p = 1; p <= 20; p++) {
                if (p != 13 && many.size() < 600) {
                    many.add(new Entry(
                            UUID.randomUUID(),
                            check,
                            "B2 r" + row + " " + p,
                            null,
                            List.of(),
                            1,
                            time.plusMillis(many.size()),
                            null));
                }
            }
        }
        return many;
    }

    @Test
    void aDatabaseConnectionCutInTheMiddleOfABatchNeitherLosesNorDoublesAnything() {
        List<Entry> many = sixHundred();
        effect.cutBefore = 400;
        assertThat(vineyard.inside(() -> log.record(many, helper)))
                .extracting(FieldLog.Result::outcome)
                .containsOnly(Outcome.TAKEN);
        assertThat(count("task_log")).isEqualTo(600);
        assertThat(vineyard.inside(() -> log.record(many, helper)))
                .extracting(FieldLog.Result::outcome)
                .containsOnly(Outcome.ALREADY_TAKEN);
        assertThat(count("task_log")).isEqualTo(600);
    }

    @Test
    void aServerThatDiesInTheMiddleOfABatchTakesTheRestWhenItIsSentAgain() {
        List<Entry> many = sixHundred();
        effect.cutBefore = 400;
        effect.dies = true;
        assertThatThrownBy(() -> vineyard.inside(() -> log.record(many, helper)))
                .isInstanceOf(AssertionError.class);
        effect.dies = false;
        // The first chunk is in the database as a whole, of the second nothing.
        assertThat(count("task_log")).isEqualTo(250);
        List<FieldLog.Result> again = vineyard.inside(() -> log.record(many, helper));
        assertThat(again.stream().filter(r -> r.outcome() == Outcome.ALREADY_TAKEN))
                .hasSize(250);
        assertThat(again.stream().filter(r -> r.outcome() == Outcome.TAKEN)).hasSize(350);
        assertThat(count("task_log")).isEqualTo(600);
        assertThat(vineyard.inside(() -> jdbc.sql("select sum(done) from task")
                        .query(Integer.class)
                        .single()))
                .isEqualTo(600);
    }

    @Test
    void rowsWithTasksStayWhereTheyAreSoThatNoLogLosesItsRow() {
        record(entry(task, "B2 r1 1-5", null));
        assertThatThrownBy(() -> vineyard.run(() -> desk.layOut("B2", 2.5, 1.0, 5, 1.5, 0.0)))
                .isInstanceOf(Refused.class);
        assertThat(record(entry(task, "B2 r1 6-7", null)).outcome()).isEqualTo(Outcome.TAKEN);
        assertThat(record(entry(task, "Z9 r1 8", null)).reason()).isEqualTo("work.log.other-row");
    }

    @Test
    void anotherVineyardsTaskIsUnknown() {
        TestVineyard other = vineyards.fresh();
        FieldLog.Result r = other.inside(() -> log.record(entry(task, "B2 r1 1", null), other.account(Role.OWNER)));
        assertThat(r.outcome()).isEqualTo(Outcome.REFUSED);
        assertThat(r.reason()).isEqualTo("work.log.unknown-task");
    }

    @Test
    void aTaskIsRefusedTwiceOnTheSamePlacesAndOutsideTheRow() {
        assertThatThrownBy(() -> task("WEED", 1)).hasMessage("work.task.there");
        assertThatThrownBy(() -> vineyard.inside(() -> tasks.create(
                        new NewTask("WEED", field.row(2), null, new TreeSet<>(Set.of(21)), null, List.of(), null))))
                .hasMessage("work.task.outside");
        assertThatThrownBy(() -> vineyard.inside(
                        () -> tasks.create(new NewTask("PLANT", field.row(2), null, null, null, List.of(), null))))
                .hasMessage("work.task.no-lot");
        assertThatThrownBy(() -> vineyard.inside(() -> tasks.create(
                        new NewTask("WEED", field.row(2), null, null, null, List.of(UUID.randomUUID()), null))))
                .hasMessage("work.task.unknown-person");
    }

    @Test
    void aStaleChangeIsRefused() {
        Task before = now(task);
        vineyard.run(() -> tasks.change(task, List.of(lead), null, "mind the hose", before.version()));
        assertThatThrownBy(() -> vineyard.run(() -> tasks.change(task, List.of(), null, null, before.version())))
                .isInstanceOf(Stale.class);
        assertThat(now(task).people()).containsExactly(lead);
    }

    @Test
    void whatWasStartedIsClosedNotDropped() {
        record(entry(task, "B2 r1 1-3", null));
        assertThatThrownBy(() -> vineyard.run(() -> tasks.drop(task, now(task).version())))
                .hasMessage("work.task.started");
        vineyard.run(() -> tasks.close(task, now(task).version()));
        assertThat(record(entry(task, "B2 r1 4", null)).reason()).isEqualTo("work.log.task-ended");
        vineyard.run(() -> tasks.reopen(task, now(task).version()));
        assertThat(now(task).status()).isEqualTo(TaskStatus.STARTED);
    }

    private int count(String table) {
        return vineyard.inside(() ->
                jdbc.sql("select count(*) from " + table).query(Integer.class).single());
    }
}
