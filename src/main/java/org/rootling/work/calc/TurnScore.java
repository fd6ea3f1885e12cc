package org.rootling.work.calc;

import ai.timefold.solver.core.api.score.buildin.bendablelong.BendableLongScore;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * Rates a ranking, in this order: jobs without a place; vine-days by which holds run out before their vines are planted;
 * weighted days past other due dates; the finish; an uneven load; interrupted work and walks between blocks.
 */
final class TurnScore {
    /** More quarters of work on the last day than these count as so many. */
    static final long MOST = 8191;

    private final Grid grid;
    final Timetable timetable;
    private final int[] ranking;
    private final int[] crew;
    private final long[] keys;

    TurnScore(Grid grid) {
        this.grid = grid;
        timetable = new Timetable(grid);
        ranking = new int[grid.n];
        crew = new int[grid.n];
        keys = new long[grid.n];
    }

    /** Builds the schedule of these turns in {@link #timetable} and rates it. */
    BendableLongScore score(List<Turn> turns) {
        for (Turn t : turns) {
            keys[t.job()] = ((long) t.rank() << 32) | t.job();
            crew[t.job()] = t.crew();
        }
        Arrays.sort(keys);
        for (int i = 0; i < keys.length; i++) {
            ranking[i] = (int) keys[i];
        }
        timetable.build(ranking, crew);
        return rate();
    }

    private BendableLongScore rate() {
        long unplanned = 0;
        long holdLate = 0;
        long late = 0;
        int last = 0;
        for (int j = 0; j < grid.n; j++) {
            int end = timetable.ends[j];
            if (end == Grid.NEVER) {
                unplanned++;
                continue;
            }
            int day = (end - 1) / Grid.DAY;
            last = Math.max(last, day);
            if (grid.due[j] != Grid.NEVER && day > grid.due[j]) {
                long days = grid.weight[j] * (day - grid.due[j]);
                if (grid.hold[j]) {
                    holdLate += days;
                } else {
                    late += days;
                }
            }
        }
        return BendableLongScore.of(
                new long[] {-unplanned},
                new long[] {-holdLate, -late, finish(last, workedOn(last)), -spread(), -scattered()});
    }

    /** Quarters on the last day: the fewer, the nearer is a finish one day earlier. */
    private long workedOn(int day) {
        long sum = 0;
        for (int i = 0; i < timetable.runCount; i++) {
            int[] run = timetable.runs[i];
            if (run[2] / Grid.DAY == day) {
                sum += run[3] - run[2];
            }
        }
        return Math.min(MOST, sum);
    }

    /** The part of the score for a finish on a day (from the start) with so many quarters of work on it. */
    static long finish(long day, long quarters) {
        return -(day * (MOST + 1) + quarters);
    }

    /** Hours between the most and the least loaded. */
    private long spread() {
        int most = 0;
        int least = Integer.MAX_VALUE;
        for (int load : timetable.load) {
            most = Math.max(most, load);
            least = Math.min(least, load);
        }
        return timetable.load.length == 0 ? 0 : (most - least) / 4;
    }

    /** Two points for each run of work, one for each walk to another block, less one for each run wished for. */
    private long scattered() {
        long points = 2L * timetable.runCount;
        for (int i = 0; i < timetable.runCount; i++) {
            int[] run = timetable.runs[i];
            points -= (grid.wishing[run[0]] >> run[1]) & 1;
        }
        return grid.grouped ? points + walks() : points;
    }

    private long walks() {
        int[][] runs = Arrays.copyOf(timetable.runs, timetable.runCount);
        Arrays.sort(runs, Comparator.comparingLong(r -> ((long) r[1] << 32) | r[2]));
        long walks = 0;
        for (int i = 1; i < runs.length; i++) {
            int[] a = runs[i - 1];
            int[] b = runs[i];
            if (a[1] == b[1] && a[2] / Grid.DAY == b[2] / Grid.DAY && grid.group[a[0]] != grid.group[b[0]]) {
                walks++;
            }
        }
        return walks;
    }
}
