package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.rootling.work.calc.Orders.MONDAY;
import static org.rootling.work.calc.Orders.helper;
import static org.rootling.work.calc.Orders.job;

import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ReplanTest {
    private static Schedule solve(WorkOrder order) {
        Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), 100);
        assertThat(s.unplanned()).isEmpty();
        return s;
    }

    private static Replan.Result replan(WorkOrder order, List<Stint> before) {
        Replan.Result r = Replan.of(order, before);
        assertThat(ScheduleRules.broken(order, r.schedule()))
                .as("order %s", order)
                .isEmpty();
        return r;
    }

    private static Helper off(Helper h, LocalDate... days) {
        return new Helper(h.id(), h.quarters(), h.skills(), Set.of(days));
    }

    private static List<Stint> of(Schedule s, String job) {
        return s.stints().stream().filter(t -> t.job().equals(job)).toList();
    }

    @Test
    void withoutAChangeNothingMoves() {
        Random r = new Random(31);
        int compared = 0;
        while (compared < 300) {
            WorkOrder order = Orders.withWeather(
                    Orders.random(r, 1 + r.nextInt(6), 1 + r.nextInt(20), 1 + r.nextInt(36), 40, compared % 2 == 0), r);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), 30);
            if (!s.unplanned().isEmpty()) {
                continue;
            }
            compared++;
            Replan.Result again = replan(order, s.stints());
            assertThat(again.moves()).as("order %s", order).isEmpty();
            assertThat(again.schedule().stints()).isEqualTo(s.stints());
        }
    }

    @Test
    void afterAnyChangeTheRulesHoldAndWhatMovedIsNamed() {
        Random r = new Random(32);
        int compared = 0;
        int kept = 0;
        int all = 0;
        while (compared < 400) {
            WorkOrder order = Orders.withWeather(
                    Orders.random(r, 3 + r.nextInt(4), 5 + r.nextInt(20), 8 + r.nextInt(28), 40, false), r);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), 30);
            WorkOrder changed = change(order, r);
            if (OrderCheck.fault(changed).isPresent()) {
                continue;
            }
            compared++;
            Replan.Result again = replan(changed, s.stints());
            Set<String> moved = again.moves().stream().map(Replan.Move::job).collect(Collectors.toSet());
            for (Job j : changed.jobs()) {
                all++;
                if (!moved.contains(j.id()) && again.schedule().unplanned().isEmpty()) {
                    kept++;
                    assertThat(new HashSet<>(slots(s, j.id())))
                            .as("unmoved %s of %s", j.id(), changed)
                            .containsAll(slots(again.schedule(), j.id()));
                }
            }
            // Whatever moves, it is not later in the things that matter first than it was or planning anew would be.
            long[] allowed = lateness(changed, s);
            long[] anew = lateness(changed, inOldOrder(changed, s));
            if (Arrays.compare(anew, allowed) > 0) {
                allowed = anew;
            }
            assertThat(Arrays.compare(lateness(changed, again.schedule()), allowed))
                    .as("later than before and than planned anew: %s", changed)
                    .isNotPositive();
        }
        assertThat(kept).isGreaterThan(all / 2);
    }

    /** All jobs planned anew, in the order in which they began before. */
    private static Schedule inOldOrder(WorkOrder order, Schedule before) {
        ScheduleSearch search = new ScheduleSearch(order, x -> {});
        Grid g = search.grid();
        long[] urgency = search.urgency();
        Map<String, Long> began = new HashMap<>();
        Set<String> people = order.helpers().stream().map(Helper::id).collect(Collectors.toSet());
        before.stints().stream()
                .filter(t -> people.contains(t.helper()))
                .forEach(t -> began.merge(t.job(), t.date().toEpochDay() * 64 + t.from(), Math::min));
        int[] ranking = IntStream.range(0, g.n)
                .boxed()
                .sorted(Comparator.comparingInt((Integer j) -> g.pins.get(j).isEmpty() ? 1 : 0)
                        .thenComparingLong(
                                j -> began.getOrDefault(order.jobs().get(j).id(), Long.MAX_VALUE))
                        .thenComparingLong(j -> urgency[j]))
                .mapToInt(j -> j)
                .toArray();
        Timetable t = new Timetable(g);
        t.build(ranking, g.max);
        return search.schedule(t);
    }

    /** Tasks without a place, vine-days late, other weighted days late. */
    private static long[] lateness(WorkOrder order, Schedule s) {
        Set<String> holds = order.jobs().stream().filter(Job::hold).map(Job::id).collect(Collectors.toSet());
        long hold = s.late().stream()
                .filter(l -> holds.contains(l.job()))
                .mapToLong(l -> l.days() * l.weight())
                .sum();
        return new long[] {s.unplanned().size(), hold, s.weightedLateDays() - hold};
    }

    /**
     * The benchmark's plantings, as planned by rule and as searched: the busiest of a day does not come, which takes a
     * hundredth of all the work and a slot from up to 15 tasks. These move, those that press less and give way to them, and
     * those that wait for either: a fifth of all tasks at most, mostly a tenth. Nothing is later than it was.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void oneAbsenceInALargePlantingMovesFewOfItsTasksAndMakesNoneLater(long seed) {
        WorkOrder order = PlantingOrder.of(seed);
        for (int moves : new int[] {0, 1500}) {
            Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(60), moves);
            assertThat(s.unplanned()).isEmpty();
            for (int ahead : new int[] {1, 3, 8}) {
                LocalDate day = PlantingOrder.START.plusDays(ahead);
                String who = PlantingOrder.busiest(s, day);
                WorkOrder changed = PlantingOrder.without(order, who, day);
                long began = System.nanoTime();
                Replan.Result r = replan(changed, s.stints());
                assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(2));
                assertThat(r.schedule().unplanned()).isEmpty();
                assertThat(r.schedule().weightedLateDays()).isLessThanOrEqualTo(s.weightedLateDays());
                assertThat(r.moves()).hasSizeLessThanOrEqualTo(order.jobs().size() / 5);
                Set<String> moved = r.moves().stream().map(Replan.Move::job).collect(Collectors.toSet());
                Set<String> lost =
                        PlantingOrder.lost(s, who, day).stream().map(Stint::job).collect(Collectors.toSet());
                assertThat(moved).containsAll(lost);
                assertThat(r.moves())
                        .allMatch(m -> m.why() != Replan.Why.ABSENT || lost.contains(m.job()))
                        .allMatch(m -> m.why() != Replan.Why.WAITS || moved.contains(m.by()));
            }
        }
    }

    private static WorkOrder change(WorkOrder o, Random r) {
        List<Helper> helpers = new ArrayList<>(o.helpers());
        int who = r.nextInt(helpers.size());
        switch (r.nextInt(3)) {
            case 0 -> helpers.set(who, off(helpers.get(who), MONDAY.plusDays(r.nextInt(6))));
            case 1 -> helpers.remove(who);
            default -> {
                // nobody
            }
        }
        Set<LocalDate> lost = new HashSet<>(o.lostDays());
        if (r.nextInt(3) == 0) {
            lost.add(MONDAY.plusDays(r.nextInt(6)));
        }
        List<Pin> pins = r.nextInt(3) == 0
                ? List.of(new Pin(
                        o.jobs().get(r.nextInt(o.jobs().size())).id(),
                        helpers.get(r.nextInt(helpers.size())).id(),
                        MONDAY.plusDays(r.nextInt(7))))
                : o.pins();
        return new WorkOrder(o.start(), helpers, o.tools(), o.jobs(), pins, lost, o.lostByKind());
    }

    private static List<String> slots(Schedule s, String job) {
        List<String> slots = new ArrayList<>();
        for (Stint t : of(s, job)) {
            for (int q = t.from(); q < t.to(); q++) {
                slots.add(t.helper() + t.date() + q);
            }
        }
        return slots;
    }

    @Test
    void oneAbsenceMovesOnlyWhatThatPersonDidThatDay() {
        Helper a = helper("a", 16);
        Helper b = helper("b", 16);
        List<Job> jobs = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            jobs.add(job("t" + i, 8, 1, 1));
        }
        Schedule s = solve(new WorkOrder(MONDAY, List.of(a, b), List.of(), jobs, List.of()));
        Set<String> hit = s.stints().stream()
                .filter(t -> t.helper().equals("a") && t.date().equals(MONDAY))
                .map(Stint::job)
                .collect(Collectors.toSet());
        Replan.Result r =
                replan(new WorkOrder(MONDAY, List.of(off(a, MONDAY), b), List.of(), jobs, List.of()), s.stints());
        assertThat(r.moves()).extracting(Replan.Move::job).containsExactlyInAnyOrderElementsOf(hit);
        assertThat(r.moves()).allMatch(m -> m.why() == Replan.Why.ABSENT && "a".equals(m.by()));
        assertThat(r.schedule().unplanned()).isEmpty();
    }

    @Test
    void whatWaitsForAMovedTaskMovesAndSaysForWhich() {
        Helper a = helper("a", 8);
        List<Job> jobs = List.of(job("bore", 8, 1, 1), job("plant", 8, 1, 1, "bore"), job("weed", 8, 1, 1));
        List<Stint> before = List.of(
                new Stint("bore", "a", MONDAY, 0, 8),
                new Stint("plant", "a", MONDAY.plusDays(1), 0, 8),
                new Stint("weed", "a", MONDAY.plusDays(2), 0, 8));
        Replan.Result r = replan(new WorkOrder(MONDAY, List.of(off(a, MONDAY)), List.of(), jobs, List.of()), before);
        assertThat(of(r.schedule(), "weed")).isEqualTo(List.of(before.get(2)));
        assertThat(r.moves())
                .containsExactlyInAnyOrder(
                        new Replan.Move("bore", Replan.Why.ABSENT, "a"),
                        new Replan.Move("plant", Replan.Why.WAITS, "bore"));
    }

    @Test
    void whatPressesLessMakesRoomForAHoldThatWouldRunOut() {
        Helper a = helper("a", 8);
        Job plant = new Job(
                "plant", 8, 1, 1, null, null, List.of(), 0, null, MONDAY.plusDays(2), 50, null, true, true, "PLANT");
        List<Job> jobs = List.of(plant, job("weed", 8, 1, 1), job("stake", 8, 1, 1));
        List<Stint> before = List.of(
                new Stint("plant", "a", MONDAY, 0, 8),
                new Stint("weed", "a", MONDAY.plusDays(1), 0, 8),
                new Stint("stake", "a", MONDAY.plusDays(2), 0, 8));
        Replan.Result r = replan(new WorkOrder(MONDAY, List.of(off(a, MONDAY)), List.of(), jobs, List.of()), before);
        assertThat(r.schedule().late()).isEmpty();
        assertThat(of(r.schedule(), "weed")).isEqualTo(List.of(before.get(1)));
        assertThat(of(r.schedule(), "plant").get(0).date()).isEqualTo(MONDAY.plusDays(2));
        assertThat(r.moves()).contains(new Replan.Move("stake", Replan.Why.MADE_ROOM, "plant"));
    }

    @Test
    void onlyWhatStandsWhereTheLateOneCouldBeInTimeMakesRoom() {
        Helper a = helper("a", 8);
        Job plant = new Job(
                "plant", 8, 1, 1, null, null, List.of(), 0, null, MONDAY.plusDays(1), 50, null, true, true, "PLANT");
        List<Job> jobs = new ArrayList<>(List.of(plant));
        List<Stint> before = new ArrayList<>(List.of(new Stint("plant", "a", MONDAY, 0, 8)));
        for (int day = 1; day <= 12; day++) {
            jobs.add(job("t" + day, 8, 1, 1));
            before.add(new Stint("t" + day, "a", MONDAY.plusDays(day), 0, 8));
        }
        Replan.Result r = replan(new WorkOrder(MONDAY, List.of(off(a, MONDAY)), List.of(), jobs, List.of()), before);
        assertThat(r.schedule().late()).isEmpty();
        assertThat(r.moves())
                .containsExactlyInAnyOrder(
                        new Replan.Move("plant", Replan.Why.ABSENT, "a"),
                        new Replan.Move("t1", Replan.Why.MADE_ROOM, "plant"));
    }

    @Test
    void whatALateOneWaitsForGetsRoomFirst() {
        Helper a = helper("a", 8);
        Job plant = new Job(
                "plant",
                8,
                1,
                1,
                null,
                null,
                List.of("bore"),
                0,
                null,
                MONDAY.plusDays(2),
                50,
                null,
                true,
                true,
                "PLANT");
        List<Job> jobs = new ArrayList<>(List.of(job("bore", 8, 1, 1), plant, job("guard", 8, 1, 1, "plant")));
        List<Stint> before = new ArrayList<>(List.of(
                new Stint("bore", "a", MONDAY, 0, 8),
                new Stint("plant", "a", MONDAY.plusDays(1), 0, 8),
                new Stint("guard", "a", MONDAY.plusDays(2), 0, 8)));
        for (int day = 3; day <= 12; day++) {
            jobs.add(job("t" + day, 8, 1, 1));
            before.add(new Stint("t" + day, "a", MONDAY.plusDays(day), 0, 8));
        }
        Replan.Result r = replan(new WorkOrder(MONDAY, List.of(off(a, MONDAY)), List.of(), jobs, List.of()), before);
        assertThat(r.schedule().late()).isEmpty();
        assertThat(r.moves()).extracting(Replan.Move::job).containsExactlyInAnyOrder("bore", "plant", "guard");
    }

    @Test
    void aNewPinIsKeptAndTheOthersStay() {
        Helper a = helper("a", 8);
        Helper b = helper("b", 8);
        List<Job> jobs = List.of(job("x", 8, 1, 1), job("y", 8, 1, 1), job("z", 8, 1, 1));
        List<Stint> before = List.of(
                new Stint("x", "a", MONDAY, 0, 8),
                new Stint("y", "b", MONDAY, 0, 8),
                new Stint("z", "a", MONDAY.plusDays(1), 0, 8));
        Replan.Result r = replan(
                new WorkOrder(MONDAY, List.of(a, b), List.of(), jobs, List.of(new Pin("z", "b", MONDAY.plusDays(1)))),
                before);
        assertThat(of(r.schedule(), "x")).isEqualTo(List.of(before.get(0)));
        assertThat(of(r.schedule(), "y")).isEqualTo(List.of(before.get(1)));
        assertThat(r.moves()).extracting(Replan.Move::job).containsExactly("z");
    }

    @Test
    void aLostDayMovesOutdoorWorkOnly() {
        Helper a = helper("a", 8);
        Job out = new Job("out", 4, 1, 1, null, null, List.of(), 0, null, null, 1, null, true, false, null);
        Job in = job("in", 4, 1, 1);
        List<Stint> before = List.of(new Stint("out", "a", MONDAY, 0, 4), new Stint("in", "a", MONDAY, 4, 8));
        Replan.Result r = replan(
                new WorkOrder(MONDAY, List.of(a), List.of(), List.of(out, in), List.of(), Set.of(MONDAY)), before);
        assertThat(r.moves()).containsExactly(new Replan.Move("out", Replan.Why.WEATHER, MONDAY.toString()));
        assertThat(of(r.schedule(), "in")).isEqualTo(List.of(before.get(1)));
    }
}
