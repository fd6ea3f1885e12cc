package org.rootling.work.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Chooses which jobs of a schedule give way to one that would be late: those that press less, that stand where the late one
 * could still be done in time, and that few others follow.
 */
final class RoomMaker {
    private static final int DAY = Grid.DAY;
    private static final int MOST_AT_ONCE = 8;

    private final Grid g;
    private final Timetable.@Nullable Kept[] kept;
    /** The slot by which each job must end so that nothing behind it is late; a bound, not a plan. */
    private final int[] latest;

    private final int[] followers;
    private final boolean[] barred;
    /** Whom each job made room for; -1 for none. */
    final int[] roomFor;

    RoomMaker(Grid g, Timetable.@Nullable Kept[] kept) {
        this.g = g;
        this.kept = kept;
        latest = new int[g.n];
        followers = new int[g.n];
        barred = new boolean[g.n];
        roomFor = new int[g.n];
        Arrays.fill(roomFor, -1);
        for (int i = g.n - 1; i >= 0; i--) {
            int j = g.topological[i];
            latest[j] = g.due[j] == Grid.NEVER ? Grid.NEVER : Math.max(0, g.due[j] + 1) * DAY;
            for (int a : g.after[j]) {
                followers[j] = Math.min(g.n, followers[j] + 1 + followers[a]);
                if (latest[a] != Grid.NEVER) {
                    int start = back(latest[a], (g.work[a] + g.max[a] - 1) / g.max[a]);
                    latest[j] = Math.min(latest[j], g.wait[a] == 0 ? start : (start / DAY - g.wait[a] + 1) * DAY);
                }
            }
        }
    }

    /** The slot by which a job must end so that nothing after it has to wait longer than it did; never if nothing does. */
    int awaitedBy(int j) {
        int by = Grid.NEVER;
        for (int a : g.after[j]) {
            int first = Timetable.Kept.firstSlot(kept[a]);
            if (first != Grid.NEVER) {
                by = Math.min(by, g.wait[a] == 0 ? first : (first / DAY - g.wait[a] + 1) * DAY);
            }
        }
        return by;
    }

    /** How many jobs come after a job, one after another. */
    int followers(int j) {
        return followers[j];
    }

    /** So many working quarters before a slot. */
    private int back(int end, int quarters) {
        int slot = end;
        int left = quarters;
        while (left > 0 && slot > 0) {
            slot--;
            if (slot % DAY < g.length(slot / DAY)) {
                left--;
            }
        }
        return slot;
    }

    /** The job that makes another late: itself, or the first before it that ends too late. */
    int root(Timetable t, int late) {
        int j = late;
        int before = late;
        while (before >= 0) {
            j = before;
            before = -1;
            for (int b : g.before[j]) {
                if (t.ends[b] > latest[b] && (before < 0 || t.ends[b] > t.ends[before])) {
                    before = b;
                }
            }
        }
        return j;
    }

    /** A few jobs that, freed, could let a late one end in time; none where nothing that presses less is in its way. */
    List<Integer> inTheWay(Timetable t, int pressing, boolean[] freed) {
        return inTheWay(t, pressing, latest[pressing], freed);
    }

    /** The same for one that is to end by some slot, whether or not it presses. */
    List<Integer> inTheWay(Timetable t, int pressing, int by, boolean[] freed) {
        int from = g.readyFrom(pressing, t.ends);
        int missing = missing(t, pressing, by);
        if (from == Grid.NEVER || missing == 0) {
            return List.of();
        }
        int[] gain = new int[g.n];
        List<Integer> jobs = new ArrayList<>();
        for (int j = 0; j < g.n; j++) {
            Timetable.Kept k = kept[j];
            if (k != null
                    && j != pressing
                    && !freed[j]
                    && !barred[j]
                    && latest[j] > latest[pressing]
                    && g.pins.get(j).isEmpty()) {
                gain[j] = Math.min(missing, room(j, k, pressing, from, by));
                if (gain[j] > 0) {
                    jobs.add(j);
                }
            }
        }
        jobs.sort(Comparator.comparingInt((Integer j) -> g.hold[j] ? 1 : 0)
                .thenComparingDouble(j -> -(double) gain[j] / (1 + followers[j]))
                .thenComparingInt(j -> -latest[j])
                .thenComparingInt(j -> -Timetable.Kept.firstSlot(kept[j])));
        List<Integer> few = new ArrayList<>();
        int sum = 0;
        for (int j : jobs) {
            if (sum >= missing || few.size() == MOST_AT_ONCE) {
                break;
            }
            few.add(j);
            sum += gain[j];
        }
        return few;
    }

    /** Person quarters of a job that lie behind the slot by which it is to end. */
    private int missing(Timetable t, int j, int by) {
        if (t.ends[j] == Grid.NEVER) {
            return g.work[j];
        }
        int missing = 0;
        for (int i = 0; i < t.runCount; i++) {
            int[] run = t.runs[i];
            if (run[0] == j) {
                missing += Math.max(0, run[3] - Math.max(run[2], by));
            }
        }
        return missing;
    }

    /** Person quarters that a job holds where another could use them in time. */
    private int room(int j, Timetable.Kept k, int pressing, int from, int by) {
        int room = 0;
        boolean sameTool = g.tool[j] >= 0 && g.tool[j] == g.tool[pressing];
        for (int i = 0; i < k.slots().length; i++) {
            int slot = k.slots()[i];
            if (slot >= from && slot < by && !g.shut(pressing, slot / DAY)) {
                long people = k.people()[i] & g.able[pressing] & g.present(slot / DAY, slot % DAY);
                room += Math.min(g.max[pressing], Math.max(Long.bitCount(people), sameTool ? 1 : 0));
            }
        }
        return room;
    }

    /** Forgets whom anything made room for. */
    void forget() {
        Arrays.fill(roomFor, -1);
    }

    /** These made things worse where they were freed: not again. */
    void bar(List<Integer> jobs) {
        jobs.forEach(j -> barred[j] = true);
    }
}
