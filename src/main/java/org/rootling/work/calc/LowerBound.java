package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;

/**
 * What no schedule can undercut, by relaxing one rule at a time: each job alone in an empty calendar
 * after those before it (critical path), and the work that must lie between two days against the
 * hours people and tools have there (energy reasoning, as in Baptiste, Le Pape and Nuijten,
 * <i>Constraint-Based Scheduling</i>, 2001, ch. 3).
 */
final class LowerBound {
    private final Grid grid;
    private final int[] heads;
    private final List<long[]> crews;

    LowerBound(Grid grid) {
        this.grid = grid;
        heads = heads(grid);
        crews = Arrays.stream(grid.able)
                .distinct()
                .mapToObj(a -> new long[] {a})
                .toList();
    }

    /** Earliest possible end slot of each job, others aside; {@link Grid#NEVER} beyond the horizon. */
    static int[] heads(Grid g) {
        int[] ends = Grid.never(g.n);
        for (int j : g.topological) {
            ends[j] = aloneFrom(g, j, g.readyFrom(j, ends));
            for (Grid.PinDay pin : g.pins.get(j)) {
                if (ends[j] != Grid.NEVER) {
                    ends[j] = Math.max(ends[j], pin.day() * Grid.DAY + 1);
                }
            }
        }
        return ends;
    }

    private static int aloneFrom(Grid g, int j, int ready) {
        if (ready == Grid.NEVER) {
            return Grid.NEVER;
        }
        int rest = g.work[j];
        int quarter = ready % Grid.DAY;
        for (int day = ready / Grid.DAY; day < g.days; day++) {
            if (open(g, j, day) && Long.bitCount(g.present(day) & g.able[j]) >= g.min[j]) {
                for (int q = quarter; q < g.length(day); q++) {
                    int most = Math.min(g.max[j], Long.bitCount(g.present(day, q) & g.able[j]));
                    if (most >= g.min[j]) {
                        rest -= most;
                        if (rest <= 0) {
                            return day * Grid.DAY + q + 1;
                        }
                    }
                }
            }
            quarter = 0;
        }
        return Grid.NEVER;
    }

    /** A job with pins may work on them on a lost day, so that for it no day is taken away. */
    private static boolean open(Grid g, int j, int day) {
        return !g.shut(j, day) || !g.pins.get(j).isEmpty();
    }

    Schedule.Bound bound() {
        return new Schedule.Bound(finish(), weightedLateDays());
    }

    private @Nullable LocalDate finish() {
        if (grid.n == 0) {
            return null;
        }
        int day = finishDay();
        return day < 0 ? null : grid.date(day);
    }

    /** Day on which the last job can end at the earliest; -1 if some job never can. */
    int finishDay() {
        int day = 0;
        for (int end : heads) {
            if (end == Grid.NEVER) {
                return -1;
            }
            day = Math.max(day, (end - 1) / Grid.DAY);
        }
        // What cannot be done by one day cannot be done by an earlier one, so halving is safe.
        int step = 1;
        int low = day;
        while (!possible(low)) {
            day = low + 1;
            low = low + step;
            step *= 2;
            if (low >= grid.days) {
                return day;
            }
        }
        int high = low;
        while (day < high) {
            int middle = (day + high) / 2;
            if (possible(middle)) {
                high = middle;
            } else {
                day = middle + 1;
            }
        }
        return day;
    }

    /** Whether relaxed reasoning leaves it open that all is done by the end of a day. */
    private boolean possible(int last) {
        int[] starts = new int[grid.n];
        int[] ends = latestEnds(last);
        for (int j = 0; j < grid.n; j++) {
            starts[j] = grid.readyFrom(j, heads) / Grid.DAY;
            if (starts[j] > ends[j]) {
                return false;
            }
        }
        TreeSet<Integer> from = new TreeSet<>();
        TreeSet<Integer> to = new TreeSet<>();
        for (int j = 0; j < grid.n; j++) {
            from.add(starts[j]);
            to.add(ends[j]);
        }
        List<Integer> froms = few(from);
        List<Integer> tos = few(to);
        if (!tos.contains(last)) {
            tos.add(last);
        }
        for (int a : froms) {
            for (long[] crew : crews) {
                if (!energy(a, tos, crew[0], starts, ends)) {
                    return false;
                }
            }
            for (int t = 0; t < grid.toolCount.length; t++) {
                if (!toolTime(a, tos, t, starts, ends)) {
                    return false;
                }
            }
        }
        return true;
    }

    /** At most some dozens of the days: any subset keeps the bound true, all of them cost too much. */
    private static List<Integer> few(SortedSet<Integer> all) {
        List<Integer> list = new ArrayList<>(all);
        int step = Math.max(1, list.size() / 24);
        List<Integer> result = new ArrayList<>();
        for (int i = 0; i < list.size(); i += step) {
            result.add(list.get(i));
        }
        return result;
    }

    /** Work of jobs bound to a window that only this crew can do, against the hours the crew has. */
    private boolean energy(int from, List<Integer> tos, long crew, int[] starts, int[] ends) {
        for (int to : tos) {
            if (to < from) {
                continue;
            }
            long need = 0;
            for (int j = 0; j < grid.n; j++) {
                if (starts[j] >= from && ends[j] <= to && (grid.able[j] & ~crew) == 0) {
                    need += grid.work[j];
                }
            }
            if (need > 0 && need > hours(from, to, crew, need)) {
                return false;
            }
        }
        return true;
    }

    /** Person quarters of a crew from one day to another; stops counting once there are enough. */
    private long hours(int from, int to, long crew, long enough) {
        long sum = 0;
        for (int day = from; day <= to && sum < enough; day++) {
            long people = grid.present(day) & crew;
            if (people != 0) {
                for (int q = 0; q < grid.length(day); q++) {
                    sum += Long.bitCount(grid.present(day, q) & crew);
                }
            }
        }
        return sum;
    }

    private boolean toolTime(int from, List<Integer> tos, int tool, int[] starts, int[] ends) {
        for (int to : tos) {
            if (to < from) {
                continue;
            }
            long need = 0;
            long users = 0;
            int least = Integer.MAX_VALUE;
            for (int j = 0; j < grid.n; j++) {
                if (grid.tool[j] == tool && starts[j] >= from && ends[j] <= to) {
                    need += (grid.work[j] + grid.max[j] - 1) / grid.max[j];
                    users |= grid.able[j];
                    least = Math.min(least, grid.min[j]);
                }
            }
            long have = 0;
            for (int day = from; need > 0 && day <= to && have < need; day++) {
                for (int q = 0; q < grid.length(day); q++) {
                    int people = Long.bitCount(grid.present(day, q) & users);
                    have += Math.min(grid.toolCount[tool], people / least);
                }
            }
            if (need > have) {
                return false;
            }
        }
        return true;
    }

    /** Latest day on which each job may end so that those after it can still be done by the last day. */
    private int[] latestEnds(int last) {
        int[] ends = new int[grid.n];
        Arrays.fill(ends, last);
        for (int i = grid.n - 1; i >= 0; i--) {
            int j = grid.topological[i];
            int start = latestStart(j, ends[j]);
            for (int b : grid.before[j]) {
                ends[b] = Math.min(ends[b], start - grid.wait[j]);
            }
        }
        return ends;
    }

    /** Latest day on which a job alone may start to end on a day; -1 if it cannot. */
    private int latestStart(int j, int end) {
        int rest = grid.work[j];
        for (int day = Math.min(end, grid.days - 1); day >= 0; day--) {
            if (open(grid, j, day) && Long.bitCount(grid.present(day) & grid.able[j]) >= grid.min[j]) {
                for (int q = grid.length(day) - 1; q >= 0; q--) {
                    int most = Math.min(grid.max[j], Long.bitCount(grid.present(day, q) & grid.able[j]));
                    if (most >= grid.min[j]) {
                        rest -= most;
                    }
                }
                if (rest <= 0) {
                    return day;
                }
            }
        }
        return -1;
    }

    /**
     * Each job alone gives a sum of unavoidable late days. The jobs due by a day, taken together, give
     * another: if their work fills the hours until a later day, at least one of them ends there.
     */
    long weightedLateDays() {
        long alone = 0;
        TreeSet<Integer> dues = new TreeSet<>();
        for (int j = 0; j < grid.n; j++) {
            if (grid.due[j] == Grid.NEVER) {
                continue;
            }
            dues.add(grid.due[j]);
            int end = heads[j] == Grid.NEVER ? grid.days : (heads[j] - 1) / Grid.DAY;
            alone += grid.weight[j] * Math.max(0, end - grid.due[j]);
        }
        return Math.max(alone, together(dues));
    }

    private long together(SortedSet<Integer> dues) {
        long best = 0;
        for (int due : dues) {
            for (long[] crew : crews) {
                long need = 0;
                long lightest = Long.MAX_VALUE;
                for (int j = 0; j < grid.n; j++) {
                    if (grid.due[j] <= due && (grid.able[j] & ~crew[0]) == 0) {
                        need += grid.work[j];
                        lightest = Math.min(lightest, grid.weight[j]);
                    }
                }
                if (need > 0) {
                    best = Math.max(best, lightest * Math.max(0, filledOn(crew[0], need) - due));
                }
            }
        }
        return best;
    }

    /** Day on which a crew, all of it working from the start, has put in so many quarters. */
    private int filledOn(long crew, long need) {
        long sum = 0;
        for (int day = 0; day < grid.days; day++) {
            for (int q = 0; q < grid.length(day); q++) {
                sum += Long.bitCount(grid.present(day, q) & crew);
            }
            if (sum >= need) {
                return day;
            }
        }
        return grid.days;
    }
}
