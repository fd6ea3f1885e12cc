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
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

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
