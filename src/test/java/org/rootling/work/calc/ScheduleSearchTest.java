package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.rootling.work.calc.Orders.MONDAY;
import static org.rootling.work.calc.Orders.due;
import static org.rootling.work.calc.Orders.helper;
import static org.rootling.work.calc.Orders.job;
import static org.rootling.work.calc.Orders.order;
import static org.rootling.work.calc.Orders.skilled;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class ScheduleSearchTest {
    private static Schedule solve(WorkOrder order, int moves) {
        assertThat(OrderCheck.fault(order)).isEmpty();
        Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), moves);
        assertThat(ScheduleRules.broken(order, s)).isEmpty();
        return s;
    }

    @Test
    void keepsEveryHardRuleInThousandsOfRandomOrders() {
        Random r = new Random(6);
        int possible = 0;
        int planned = 0;
        for (int i = 0; i < 9000; i++) {
            WorkOrder order = Orders.random(r, 1 + r.nextInt(6), 1 + r.nextInt(20), 1 + r.nextInt(36), 40, i % 2 == 0);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            possible++;
            Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), 0);
            assertThat(ScheduleRules.broken(order, s)).as("order %s", order).isEmpty();
            if (s.unplanned().isEmpty()) {
                planned++;
                assertThat(s.bound().finish()).as("order %s", order).isBeforeOrEqualTo(s.finish());
                assertThat(s.bound().weightedLateDays()).isLessThanOrEqualTo(s.weightedLateDays());
            } else {
                assertThat(order.pins())
                        .as("only a pin may leave work without a place")
                        .isNotEmpty();
            }
        }
        assertThat(possible).isGreaterThan(1500);
        assertThat(planned).isGreaterThan(possible * 9 / 10);
    }

    @Test
    void keepsEveryHardRuleWhateverTheWeather() {
        Random r = new Random(66);
        int planned = 0;
        for (int i = 0; i < 2000; i++) {
            WorkOrder order = Orders.withWeather(
                    Orders.random(r, 1 + r.nextInt(6), 1 + r.nextInt(20), 1 + r.nextInt(36), 40, i % 2 == 0), r);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(30), i % 50 == 0 ? 100 : 0);
            assertThat(ScheduleRules.broken(order, s)).as("order %s", order).isEmpty();
            if (s.unplanned().isEmpty()) {
                planned++;
                assertThat(s.bound().finish()).as("order %s", order).isBeforeOrEqualTo(s.finish());
                assertThat(s.bound().weightedLateDays()).isLessThanOrEqualTo(s.weightedLateDays());
            }
        }
        assertThat(planned).isGreaterThan(300);
    }

    private static Job dueMonday(String id, int quarters, long weight, boolean hold) {
        return new Job(id, quarters, 1, 1, null, null, List.of(), 0, null, MONDAY, weight, null, false, hold, null);
    }

    @Test
    void aHoldThatRunsOutGoesBeforeAnyOtherDueDate() {
        Schedule s = solve(
                order(
                        List.of(helper("a", 8)),
                        List.of(dueMonday("other", 8, 100, false), dueMonday("hold", 8, 1, true))),
                200);
        assertThat(s.late()).extracting(Schedule.Late::job).containsExactly("other");
    }

    @Test
    void fewestVineDaysLateGoBeforeFewestHoldsLate() {
        // Either the one lot of 60 vines is late or both lots of 25 are.
        Schedule s = solve(
                order(
                        List.of(helper("a", 8)),
                        List.of(dueMonday("x", 4, 25, true), dueMonday("y", 4, 25, true), dueMonday("z", 8, 60, true))),
                200);
        assertThat(s.late()).extracting(Schedule.Late::job).containsExactlyInAnyOrder("x", "y");
    }

    @Test
    void dueDatesGoBeforeAnEarlyFinish() {
        // Beginning with the long chain ends a day sooner; beginning with what is due does not make it late.
        List<Job> jobs = List.of(
                dueMonday("due", 8, 1, false),
                job("first", 8, 1, 1),
                new Job("wait", 8, 1, 1, null, null, List.of("first"), 2, null, null, 1, null));
        Schedule s = solve(order(List.of(helper("a", 8)), jobs), 200);
        assertThat(s.late()).isEmpty();
        assertThat(s.finish()).isEqualTo(MONDAY.plusDays(3));
    }

    @Test
    void anEarlyFinishGoesBeforeAnEvenLoad() {
        // Two skilled jobs fit one day only if the skilled person does both; the other then idles.
        List<Job> jobs = List.of(skilled("a", 4, "bore"), skilled("b", 4, "bore"), job("c", 4, 1, 1));
        Schedule s = solve(order(List.of(helper("p", 8, "bore"), helper("q", 8)), jobs), 200);
        assertThat(s.finish()).isEqualTo(MONDAY);
        assertThat(s.stints().stream()
                        .filter(t -> t.helper().equals("q"))
                        .mapToInt(Stint::quarters)
                        .sum())
                .isEqualTo(4);
    }

    private static Job inBlock(String id, int quarters, String block) {
        return new Job(id, quarters, 1, 1, null, null, List.of(), 0, null, null, 1, block);
    }

    private static int load(Schedule s, String helper) {
        return s.stints().stream()
                .filter(t -> t.helper().equals(helper))
                .mapToInt(Stint::quarters)
                .sum();
    }

    @Test
    void anEvenLoadGoesBeforeFewWalks() {
        // Three tasks in block A and one in B: without a walk one would do three times as much.
        List<Job> jobs =
                List.of(inBlock("a1", 8, "A"), inBlock("a2", 8, "A"), inBlock("a3", 8, "A"), inBlock("b1", 8, "B"));
        Schedule s = solve(order(List.of(helper("p", 32), helper("q", 32)), jobs), 2000);
        assertThat(load(s, "p")).isEqualTo(load(s, "q"));
    }

    @Test
    void ofEqualSchedulesTheOneWithFewWalksIsTaken() {
        List<Job> jobs =
                List.of(inBlock("a1", 8, "A"), inBlock("b1", 8, "B"), inBlock("a2", 8, "A"), inBlock("b2", 8, "B"));
        Schedule s = solve(order(List.of(helper("p", 16), helper("q", 16)), jobs), 2000);
        assertThat(load(s, "p")).isEqualTo(16);
        for (String who : List.of("p", "q")) {
            assertThat(s.stints().stream()
                            .filter(t -> t.helper().equals(who))
                            .map(t -> t.job().substring(0, 1))
                            .distinct())
                    .hasSize(1);
        }
    }

    @Test
    void aWishIsMetWhereItMakesNoOtherDifference() {
        Helper weeds = helper("a", 8);
        Helper plants = new Helper("b", weeds.quarters(), Set.of(), Set.of(), Set.of("PLANT"));
        Job plant = new Job("plant", 8, 1, 1, null, null, List.of(), 0, null, null, 1, null, true, false, "PLANT");
        Job weed = new Job("weed", 8, 1, 1, null, null, List.of(), 0, null, null, 1, null, true, false, "WEED");
        Schedule s = solve(order(List.of(weeds, plants), List.of(plant, weed)), 200);
        assertThat(s.stints())
                .anyMatch(t -> t.job().equals("plant") && t.helper().equals("b"));
    }

    /** Their files' horizon and MPM-Time come out of the data as it stands here. */
    @ParameterizedTest
    @MethodSource("org.rootling.work.calc.PublishedProject#all")
    void thePublishedProjectsAreThoseOfTheirFiles(PublishedProject p) {
        assertThat(Arrays.stream(p.jobs()).mapToInt(j -> j[1]).sum()).isEqualTo(p.horizon());
        int[] ends = new int[32];
        for (int[] j : p.jobs()) {
            ends[j[0]] = j[1] + Arrays.stream(j).skip(4).map(b -> ends[b]).max().orElse(0);
        }
        assertThat(Arrays.stream(ends).max()).hasValue(p.criticalPath());
    }

    /** Our work may be interrupted, which can only help; no schedule is shorter than the critical path. */
    @ParameterizedTest
    @MethodSource("org.rootling.work.calc.PublishedProject#all")
    void aPublishedProjectIsNotLongerThanItsKnownOptimum(PublishedProject p) {
        Schedule s = solve(p.order(), 6000);
        assertThat(s.finish()).isBetween(MONDAY.plusDays(p.criticalPath() - 1), MONDAY.plusDays(p.optimum() - 1));
        assertThat(s.bound().finish())
                .isBetween(MONDAY.plusDays(p.criticalPath() - 1), MONDAY.plusDays(p.optimum() - 1));
    }

    /**
     * Job shop LA05 (S. Lawrence 1984, "Resource constrained project scheduling: an experimental investigation of heuristic
     * scheduling techniques (supplement)", Carnegie-Mellon University) as in the OR-Library's jobshop1.txt, compared with the
     * copies in google/or-tools, examples/data/jobshop/la05, and hromadka/jobshop, jobshop1.txt; optimum 593
     * (ptal/kobe-scheduling, data/jssp/la/optimum/optimum.csv). A job shop is a project with machines as resources. Its first
     * machine has work for 593 as well, so that interruption cannot shorten it.
     */
    @Test
    void theJobShopLa05ReachesItsKnownOptimum() {
        String[] lines = {
            "1 72 0 87 4 95 2 66 3 60", "4 5 3 35 0 48 2 39 1 54", "1 46 3 20 2 21 0 97 4 55",
            "0 59 3 19 4 46 1 34 2 37", "4 23 2 73 3 25 1 24 0 28", "3 28 0 45 4 5 1 78 2 83",
            "0 53 3 71 1 37 4 29 2 12", "4 12 2 87 3 33 1 55 0 38", "2 49 3 83 1 40 0 48 4 7",
            "2 65 3 17 0 90 4 27 1 23"
        };
        List<Helper> machines = new ArrayList<>();
        for (int m = 0; m < 5; m++) {
            machines.add(helper("m" + m, 1, "M" + m));
        }
        List<Job> jobs = new ArrayList<>();
        int load = 0;
        for (int j = 0; j < lines.length; j++) {
            String[] n = lines[j].split(" ");
            for (int k = 0; k < 5; k++) {
                int time = Integer.parseInt(n[2 * k + 1]);
                load += n[2 * k].equals("0") ? time : 0;
                String id = j + "." + k;
                jobs.add(k == 0 ? skilled(id, time, "M" + n[0]) : skilled(id, time, "M" + n[2 * k], j + "." + (k - 1)));
            }
        }
        assertThat(load).isEqualTo(593);
        Schedule s = solve(order(machines, jobs), 3000);
        assertThat(s.finish()).isEqualTo(MONDAY.plusDays(592));
        assertThat(s.proven()).isTrue();
    }

    @Test
    void everyBetterAnswerFoundOnTheWayKeepsTheRulesToo() {
        Random r = new Random(61);
        AtomicInteger answers = new AtomicInteger();
        for (int i = 0; i < 40; i++) {
            WorkOrder order = Orders.random(r, 4, 15, 24, 40, false);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            new ScheduleSearch(order, s -> {
                        answers.incrementAndGet();
                        assertThat(ScheduleRules.broken(order, s)).isEmpty();
                    })
                    .run(Duration.ofSeconds(30), 300);
        }
        assertThat(answers).hasValueGreaterThan(40);
    }

    @Test
    void smallOrdersMatchExhaustiveSearchAndTheBoundNeverExceedsIt() {
        Random r = new Random(2027);
        int compared = 0;
        int equal = 0;
        List<String> worse = new ArrayList<>();
        while (compared < 120) {
            WorkOrder order = Orders.random(r, 1 + r.nextInt(2), 2 + r.nextInt(2), 3, 4, false);
            if (OrderCheck.fault(order).isPresent()) {
                continue;
            }
            long best = Exhaustive.best(order, 14);
            if (best >= Exhaustive.NONE) {
                continue;
            }
            compared++;
            Schedule s = solve(order, 400);
            long finish = s.finish() == null ? 0 : s.finish().toEpochDay() - MONDAY.toEpochDay();
            long found = s.weightedLateDays() * 1000 + finish;
            assertThat(found).isGreaterThanOrEqualTo(best);
            assertThat(s.bound().weightedLateDays()).isLessThanOrEqualTo(best / 1000);
            assertThat(s.bound().finish()).isBeforeOrEqualTo(MONDAY.plusDays(best % 1000));
            if (found == best) {
                equal++;
            } else {
                worse.add(found + " > " + best + " " + order);
            }
        }
        assertThat(equal).as("not optimal: %s", worse).isGreaterThanOrEqualTo(118);
    }

    /**
     * McNaughton 1959 ("Scheduling with deadlines and loss functions", Management Science 6): with work
     * that may be interrupted, m equal workers need max(longest, total / m). From memory. The bound is
     * that length; the search interrupts work only where people leave, so it may stay above it, though
     * never by more than Graham's factor 2 - 1/m for any list (1969, from memory).
     */
    @Test
    void equalWorkersAreBoundByMcNaughtonsLength() {
        Random r = new Random(59);
        for (int i = 0; i < 50; i++) {
            int workers = 2 + r.nextInt(3);
            List<Helper> helpers = new ArrayList<>();
            for (int w = 0; w < workers; w++) {
                helpers.add(helper("w" + w, 1));
            }
            List<Job> jobs = new ArrayList<>();
            int longest = 0;
            int total = 0;
            for (int j = 0; j < 6; j++) {
                int p = 1 + r.nextInt(8);
                longest = Math.max(longest, p);
                total += p;
                jobs.add(job("j" + j, p, 1, 1));
            }
            // One quarter a day turns the length into days.
            int length = Math.max(longest, (total + workers - 1) / workers);
            Schedule s = solve(order(helpers, jobs), 500);
            long needed = s.finish().toEpochDay() - MONDAY.toEpochDay() + 1;
            assertThat(needed * workers).isLessThanOrEqualTo((2L * workers - 1) * length);
            assertThat(s.bound().finish()).isEqualTo(MONDAY.plusDays(length - 1));
        }
    }

    /**
     * Johnson 1954 ("Optimal two- and three-stage production schedules with setup times included", Naval
     * Research Logistics Quarterly 1): his rule gives the shortest two-stage length; interruption does
     * not shorten it. From memory.
     */
    @Test
    void twoStagesReachTheLengthOfJohnsonsRule() {
        Random r = new Random(54);
        for (int i = 0; i < 30; i++) {
            List<int[]> pairs = new ArrayList<>();
            List<Job> jobs = new ArrayList<>();
            for (int j = 0; j < 6; j++) {
                int[] p = {1 + r.nextInt(7), 1 + r.nextInt(7)};
                pairs.add(p);
                jobs.add(skilled("a" + j, p[0], "first"));
                jobs.add(skilled("b" + j, p[1], "second", "a" + j));
            }
            // First those that are shorter in the first stage, rising; then the others, falling in the second.
            pairs.sort(Comparator.comparingInt((int[] p) -> p[0] <= p[1] ? 0 : 1)
                    .thenComparingInt(p -> p[0] <= p[1] ? p[0] : -p[1]));
            int first = 0;
            int second = 0;
            for (int[] p : pairs) {
                first += p[0];
                second = Math.max(first, second) + p[1];
            }
            WorkOrder order = order(List.of(helper("one", 1, "first"), helper("two", 1, "second")), jobs);
            assertThat(solve(order, 4000).finish()).isEqualTo(MONDAY.plusDays(second - 1));
        }
    }

    /** Smith 1956: weight over length gives the least weighted sum of ends on one worker. From memory. */
    @Test
    void oneWorkerFollowsSmithsRatio() {
        Random r = new Random(56);
        for (int i = 0; i < 30; i++) {
            List<int[]> pairs = new ArrayList<>();
            List<Job> jobs = new ArrayList<>();
            for (int j = 0; j < 6; j++) {
                int[] p = {1 + r.nextInt(7), 1 + r.nextInt(50)};
                pairs.add(p);
                jobs.add(due(job("j" + j, p[0], 1, 1), MONDAY.minusDays(1), p[1]));
            }
            pairs.sort((x, y) -> Integer.compare(x[0] * y[1], y[0] * x[1]));
            long sum = 0;
            int end = 0;
            for (int[] p : pairs) {
                end += p[0];
                sum += (long) end * p[1];
            }
            assertThat(solve(order(List.of(helper("w", 1)), jobs), 4000).weightedLateDays())
                    .isEqualTo(sum);
        }
    }

    @Test
    void aPinnedPersonIsOnTheJobThatDay() {
        WorkOrder order = new WorkOrder(
                MONDAY,
                List.of(helper("p1", 24), helper("p2", 24)),
                List.of(),
                List.of(job("t1", 18, 1, 2), job("t2", 30, 1, 2)),
                List.of(new Pin("t1", "p2", MONDAY.plusDays(1))));
        Schedule s = solve(order, 200);
        assertThat(s.unplanned()).isEmpty();
        assertThat(s.finish()).isEqualTo(MONDAY.plusDays(1));
    }

    @Test
    void theSameMovesGiveTheSameAnswer() {
        WorkOrder order = Orders.random(new Random(99), 5, 20, 30, 40, false);
        for (int seed = 100; OrderCheck.fault(order).isPresent(); seed++) {
            order = Orders.random(new Random(seed), 5, 20, 30, 40, false);
        }
        assertThat(solve(order, 500)).isEqualTo(solve(order, 500));
    }

    /** The time runs from the making of the search on: bounds, first schedules and the solver's set-up are part of it. */
    @Test
    void aSearchKeepsItsTime() {
        WorkOrder order = PlantingOrder.of(1);
        long began = System.nanoTime();
        // So many moves that only the time ends it.
        Schedule s = new ScheduleSearch(order, x -> {}).run(Duration.ofSeconds(2), Long.MAX_VALUE - 1);
        assertThat(Duration.ofNanos(System.nanoTime() - began))
                .isBetween(Duration.ofMillis(1800), Duration.ofMillis(2500));
        assertThat(ScheduleRules.broken(order, s)).isEmpty();
    }

    @Test
    void aSearchEndsSoonWhereNothingCanBeBetter() {
        List<Job> jobs = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            jobs.add(job("t" + i, 4, 1, 1));
        }
        AtomicInteger answers = new AtomicInteger();
        WorkOrder order = order(List.of(helper("a", 8), helper("b", 8)), jobs);
        long began = System.nanoTime();
        Schedule s =
                new ScheduleSearch(order, x -> answers.incrementAndGet()).run(Duration.ofSeconds(20), Long.MAX_VALUE);
        assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(7));
        assertThat(s.proven()).isTrue();
        assertThat(answers).hasPositiveValue();
    }

    @Test
    void aCancelledSearchStillAnswers() {
        Random r = new Random(1);
        WorkOrder order = Orders.random(r, 5, 30, 30, 40, false);
        while (OrderCheck.fault(order).isPresent()) {
            order = Orders.random(r, 5, 30, 30, 40, false);
        }
        ScheduleSearch[] search = new ScheduleSearch[1];
        search[0] = new ScheduleSearch(order, s -> search[0].cancel());
        Schedule s = search[0].run(Duration.ofMinutes(10), Long.MAX_VALUE);
        assertThat(ScheduleRules.broken(order, s)).isEmpty();
        assertThat(s.stints()).isNotEmpty();
    }

    @Test
    void nothingToDoIsDoneAtOnce() {
        Schedule s = solve(order(List.of(helper("p", 8)), List.of()), 10);
        assertThat(s.finish()).isNull();
        assertThat(s.stints()).isEmpty();
    }
}
