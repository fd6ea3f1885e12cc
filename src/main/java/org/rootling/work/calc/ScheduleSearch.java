package org.rootling.work.calc;

import ai.timefold.solver.core.api.score.buildin.bendablelong.BendableLongScore;
import ai.timefold.solver.core.api.solver.Solver;
import ai.timefold.solver.core.api.solver.SolverConfigOverride;
import ai.timefold.solver.core.api.solver.SolverFactory;
import ai.timefold.solver.core.config.localsearch.LocalSearchPhaseConfig;
import ai.timefold.solver.core.config.localsearch.LocalSearchType;
import ai.timefold.solver.core.config.solver.SolverConfig;
import ai.timefold.solver.core.config.solver.termination.TerminationConfig;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;
import org.jspecify.annotations.Nullable;

/**
 * Looks for the best schedule of an order: some well-known priority rules first (Kolisch 1996), then
 * Timefold's local search over the ranking of the jobs and their crew sizes. There is a valid answer
 * from the first moment on; {@link #cancel()} from another thread ends the search with the best so far.
 */
public final class ScheduleSearch {
    private static final int FEWEST_MS = 20;

    private final long began = System.nanoTime();
    private final Grid grid;
    private final Schedule.Bound bound;
    private final Consumer<Schedule> better;
    private final AtomicBoolean cancelled = new AtomicBoolean();
    private volatile @Nullable Solver<TurnOrder> solver;

    /**
     * Prepares a search; its time runs from here on.
     *
     * @param order an order without {@linkplain OrderCheck#fault fault}
     * @param better told of each better answer as it is found
     */
    public ScheduleSearch(WorkOrder order, Consumer<Schedule> better) {
        grid = new Grid(order);
        bound = new LowerBound(grid).bound();
        this.better = better;
    }

    /** The best schedule found in the given time; sooner when none can be better or none better is found for long. */
    public static Schedule best(WorkOrder order, Duration limit) {
        return new ScheduleSearch(order, s -> {}).run(limit, Long.MAX_VALUE);
    }

    /** Ends the search, from any thread; {@link #run} then answers with the best so far. */
    public void cancel() {
        cancelled.set(true);
        Solver<TurnOrder> running = solver;
        if (running != null) {
            running.terminateEarly();
        }
    }

    /**
     * Searches until the time is over, so many moves were tried, nothing can be better or nothing better is found for long,
     * or cancelled.
     *
     * @param limit counted from the making of this search on
     * @param moves tried at most; with a number here and ample time the answer is always the same
     */
    public Schedule run(Duration limit, long moves) {
        TurnScore rater = new TurnScore(grid);
        if (grid.n == 0) {
            return new Schedule(List.of(), null, List.of(), List.of(), bound, true);
        }
        List<Turn> start = firstTurns(rater);
        Schedule schedule = schedule(rater, start);
        better.accept(schedule);
        if (grid.n < 2 || moves <= 0) {
            return schedule;
        }
        TurnOrder turns = new TurnOrder(start, rater);
        if (moves < Long.MAX_VALUE) {
            turns = search(turns, new TerminationConfig().withMoveCountLimit(moves), limit);
            return schedule(new TurnScore(grid), turns.turns());
        }
        if (!schedule.proven()) {
            // A third of the time without any better answer is enough.
            TerminationConfig end = new TerminationConfig()
                    .withUnimprovedMillisecondsSpentLimit(Math.max(1000, limit.toMillis() / 3))
                    .withBestScoreLimit(atBound().toString());
            turns = search(turns, end, limit);
            schedule = schedule(new TurnScore(grid), turns.turns());
        }
        if (schedule.proven()) {
            // Nothing can be earlier or less late: a little time more for an even load and few walks.
            Duration little = limit.dividedBy(4).plusNanos(System.nanoTime() - began);
            TerminationConfig end =
                    new TerminationConfig().withUnimprovedMillisecondsSpentLimit(Math.max(500, limit.toMillis() / 10));
            turns = search(turns, end, little.compareTo(limit) < 0 ? little : limit);
            schedule = schedule(new TurnScore(grid), turns.turns());
        }
        return schedule;
    }

    Grid grid() {
        return grid;
    }

    /** Every score from this one on is that of a schedule which reaches the bound. */
    private BendableLongScore atBound() {
        boolean dates = otherDates();
        long late = bound.weightedLateDays();
        long never = 1L << 40;
        LocalDate finish = bound.finish();
        long last =
                finish == null ? -1 : finish.toEpochDay() - grid.order.start().toEpochDay();
        return BendableLongScore.of(new long[] {0}, new long[] {
            dates ? 0 : -late, dates ? -late : 0, TurnScore.finish(last, TurnScore.MOST), -never, -never
        });
    }

    /** Whether anything but holds has a due day. */
    private boolean otherDates() {
        for (int j = 0; j < grid.n; j++) {
            if (!grid.hold[j] && grid.due[j] != Grid.NEVER) {
                return true;
            }
        }
        return false;
    }

    /** Only what ends a search differs from one to the next, and making the rest anew would take much of a short one. */
    private static final class Solvers {
        static final SolverFactory<TurnOrder> FACTORY = SolverFactory.create(new SolverConfig()
                .withSolutionClass(TurnOrder.class)
                .withEntityClasses(Turn.class)
                .withEasyScoreCalculatorClass(TurnCalculator.class)
                .withPhases(new LocalSearchPhaseConfig().withLocalSearchType(LocalSearchType.LATE_ACCEPTANCE)));
    }

    private TurnOrder search(TurnOrder start, TerminationConfig end, Duration limit) {
        SolverFactory<TurnOrder> solvers = Solvers.FACTORY;
        // The last step and the answer take their time as well.
        Duration until = limit.minus(limit.dividedBy(50));
        long left = until.minusNanos(System.nanoTime() - began).toMillis();
        if (left < FEWEST_MS || cancelled.get()) {
            return start;
        }
        Solver<TurnOrder> running = solvers.buildSolver(
                new SolverConfigOverride<TurnOrder>().withTerminationConfig(end.withMillisecondsSpentLimit(left)));
        TurnScore reporter = new TurnScore(grid);
        running.addEventListener(event -> {
            better.accept(schedule(reporter, event.getNewBestSolution().turns()));
        });
        solver = running;
        if (cancelled.get()) {
            return start;
        }
        try {
            return running.solve(start);
        } finally {
            solver = null;
        }
    }

    /** The best of several priority rules. */
    private List<Turn> firstTurns(TurnScore rater) {
        int[] heads = LowerBound.heads(grid);
        long[] tails = tails();
        long[] urgency = urgency();
        List<ToLongFunction<Integer>> rules = List.of(
                j -> urgency[j],
                j -> -tails[j],
                j -> heads[j],
                j -> grid.due[j] == Grid.NEVER ? Integer.MAX_VALUE : grid.due[j] * 100_000L - grid.weight[j],
                j -> -grid.weight[j],
                j -> -grid.work[j]);
        List<Turn> best = List.of();
        BendableLongScore bestScore = null;
        for (ToLongFunction<Integer> rule : rules) {
            for (boolean small : new boolean[] {false, true}) {
                List<Turn> turns = ranked(rule, small);
                BendableLongScore score = rater.score(turns);
                if (bestScore == null || score.compareTo(bestScore) > 0) {
                    bestScore = score;
                    best = turns;
                }
            }
        }
        return best;
    }

    private List<Turn> ranked(ToLongFunction<Integer> rule, boolean small) {
        Integer[] jobs = new Integer[grid.n];
        Arrays.setAll(jobs, i -> i);
        long[] keys = new long[grid.n];
        Arrays.setAll(keys, rule::applyAsLong);
        Arrays.sort(
                jobs,
                Comparator.comparingInt((Integer j) -> grid.pins.get(j).isEmpty() ? 1 : 0)
                        .thenComparingLong(j -> keys[j]));
        Turn[] turns = new Turn[grid.n];
        for (int i = 0; i < jobs.length; i++) {
            int j = jobs[i];
            turns[j] = new Turn(j, grid.min[j], grid.max[j], i, small ? grid.min[j] : grid.max[j]);
        }
        return new ArrayList<>(List.of(turns));
    }

    /** Longest chain of crew time from each job's start to the end of all. */
    private long[] tails() {
        long[] tails = new long[grid.n];
        for (int i = grid.n - 1; i >= 0; i--) {
            int j = grid.topological[i];
            for (int a : grid.after[j]) {
                tails[j] = Math.max(tails[j], tails[a] + (long) grid.wait[a] * 32);
            }
            tails[j] += (grid.work[j] + grid.max[j] - 1) / grid.max[j];
        }
        return tails;
    }

    /** The earliest due day of a job or of anything that waits for it, heavier ones first. */
    long[] urgency() {
        long[] due = new long[grid.n];
        long[] weight = new long[grid.n];
        for (int i = grid.n - 1; i >= 0; i--) {
            int j = grid.topological[i];
            due[j] = grid.due[j] == Grid.NEVER ? 1_000_000 : grid.due[j];
            weight[j] = grid.weight[j];
            for (int a : grid.after[j]) {
                if (due[a] - grid.wait[a] < due[j]) {
                    due[j] = due[a] - grid.wait[a];
                    weight[j] = Math.max(weight[j], weight[a]);
                }
            }
        }
        long[] result = new long[grid.n];
        Arrays.setAll(result, j -> due[j] * 1_000_000L - Math.min(999_999, weight[j]));
        return result;
    }

    private Schedule schedule(TurnScore rater, List<Turn> turns) {
        rater.score(turns);
        return schedule(rater.timetable);
    }

    Schedule schedule(Timetable t) {
        List<Stint> stints = new ArrayList<>();
        for (int i = 0; i < t.runCount; i++) {
            int[] run = t.runs[i];
            if (t.ends[run[0]] == Grid.NEVER) {
                continue;
            }
            int day = run[2] / Grid.DAY;
            stints.add(new Stint(
                    grid.order.jobs().get(run[0]).id(),
                    grid.helpers.get(run[1]).id(),
                    grid.date(day),
                    run[2] - day * Grid.DAY,
                    run[3] - day * Grid.DAY));
        }
        stints = joined(stints);
        List<Schedule.Late> late = new ArrayList<>();
        List<String> unplanned = new ArrayList<>();
        int last = -1;
        for (int j = 0; j < grid.n; j++) {
            Job job = grid.order.jobs().get(j);
            if (t.ends[j] == Grid.NEVER) {
                unplanned.add(job.id());
                continue;
            }
            int day = (t.ends[j] - 1) / Grid.DAY;
            last = Math.max(last, day);
            if (grid.due[j] != Grid.NEVER && day > grid.due[j]) {
                late.add(new Schedule.Late(job.id(), day - (long) grid.due[j], job.weight()));
            }
        }
        long sum = late.stream().mapToLong(l -> l.days() * l.weight()).sum();
        // The bound is one on all late days together: where holds and other dates compete, it says too little.
        boolean holdLate = late.stream().anyMatch(l -> grid.hold[grid.jobIndex(l.job())]);
        boolean proven = unplanned.isEmpty()
                && !(holdLate && otherDates())
                && sum == bound.weightedLateDays()
                && bound.finish() != null
                && grid.date(last).equals(bound.finish());
        return new Schedule(stints, last < 0 ? null : grid.date(last), late, unplanned, bound, proven);
    }

    /** Sorted, with runs that touch joined to one. */
    private static List<Stint> joined(List<Stint> stints) {
        stints.sort(
                Comparator.comparing(Stint::date).thenComparing(Stint::helper).thenComparingInt(Stint::from));
        List<Stint> result = new ArrayList<>();
        for (Stint s : stints) {
            Stint before = result.isEmpty() ? null : result.get(result.size() - 1);
            if (before != null
                    && before.helper().equals(s.helper())
                    && before.job().equals(s.job())
                    && before.date().equals(s.date())
                    && before.to() == s.from()) {
                result.set(result.size() - 1, new Stint(s.job(), s.helper(), s.date(), before.from(), s.to()));
            } else {
                result.add(s);
            }
        }
        result.sort(
                Comparator.comparing(Stint::date).thenComparingInt(Stint::from).thenComparing(Stint::helper));
        return result;
    }
}
