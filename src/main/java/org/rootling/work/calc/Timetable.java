package org.rootling.work.calc;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Builds one schedule from a ranking of the jobs and a crew size for each: jobs are placed one after
 * another, each as early as the people and tools left over allow (serial schedule generation, Kolisch
 * 1996, here with work that may be interrupted). Whatever the ranking, no hard rule is broken; the
 * search only has to find a good ranking.
 */
final class Timetable {
    private static final int DAY = Grid.DAY;

    private final Grid g;
    private long[] busy = new long[DAY * 64];
    private final int[][] toolUse;
    /** People and tools that jobs of the schedule before still hold, while it is being kept. */
    private long[] reserved = new long[DAY * 64];

    private final int[][] toolReserved;
    private boolean ignoreReserved;
    private @Nullable Kept @Nullable [] kept;
    private boolean[] freed = new boolean[0];
    /** Why a job of the schedule before could not stay as it was, and whom or what it is about; null where it could. */
    final Replan.@Nullable Why[] why;

    final int[] whyBy;
    private int touched;
    /** For each day, people held back for pins that are not placed yet. */
    private final long[] held;

    final int[] ends;
    /** Quarters worked by each helper. */
    final int[] load;
    /** Runs without a break: {job, helper, from slot, to slot}. */
    int[][] runs = new int[256][];

    int runCount;
    private final int[] openRun = new int[64];
    private long crewBefore;
    private int slotBefore;
    private int rest;

    Timetable(Grid g) {
        this.g = g;
        toolUse = new int[g.toolCount.length][busy.length];
        toolReserved = new int[g.toolCount.length][busy.length];
        why = new Replan.Why[g.n];
        whyBy = new int[g.n];
        held = new long[g.days];
        ends = new int[g.n];
        load = new int[g.helpers.size()];
    }

    /**
     * Places all jobs.
     *
     * @param ranking jobs, first served first; those a job waits for are placed before it
     * @param crew most people to use on each job
     */
    void build(int[] ranking, int[] crew) {
        clear();
        for (int j : ranking) {
            placeWithThoseBefore(j, crew);
        }
    }

    /**
     * What the schedule before had planned for a job.
     *
     * @param slots in order
     * @param people who was to work in each
     * @param gone whether somebody of it is not there any more at all
     */
    @SuppressWarnings("ArrayRecordComponent")
    record Kept(int[] slots, long[] people, boolean gone) {
        /** {@link Grid#NEVER} if it had none. */
        static int firstSlot(@Nullable Kept k) {
            return k == null || k.slots.length == 0 ? Grid.NEVER : k.slots[0];
        }
    }

    /**
     * Places all jobs so that those of a schedule before stay as they were wherever that is still possible: each keeps
     * its slots as far as nothing stands against them, and only the rest is placed anew, around what the others hold.
     *
     * @param kept by job; null for one that is new
     * @param freed jobs that hold nothing, to make room for others
     */
    void rebuild(int[] ranking, int[] crew, @Nullable Kept[] kept, boolean[] freed) {
        clear();
        this.kept = kept;
        this.freed = freed;
        for (int j = 0; j < g.n; j++) {
            reserve(j, 1);
        }
        try {
            for (int j : ranking) {
                placeWithThoseBefore(j, crew);
            }
        } finally {
            this.kept = null;
        }
    }

    private void reserve(int j, int sign) {
        Kept k = holding(j);
        if (k == null) {
            return;
        }
        for (int i = 0; i < k.slots().length; i++) {
            int slot = k.slots()[i];
            ensure(slot);
            if (sign > 0) {
                reserved[slot] |= k.people()[i];
            } else {
                reserved[slot] &= ~k.people()[i];
            }
            if (g.tool[j] >= 0) {
                toolReserved[g.tool[j]][slot] += sign;
            }
        }
    }

    private @Nullable Kept holding(int j) {
        return kept == null || freed[j] ? null : kept[j];
    }

    /** Keeps of a job what it held, as far as nothing stands against it; returns the end slot so far, or -1 if a pin would be lost. */
    private int keep(int j, Kept k, int ready) {
        int[] slots = new int[k.slots().length];
        long[] crews = new long[slots.length];
        int count = 0;
        if (k.gone()) {
            lose(j, Replan.Why.GONE, -1);
        }
        for (int i = 0; i < k.slots().length && rest > 0; i++) {
            long here = stillThere(j, k.slots()[i], k.people()[i], ready);
            int size = Math.min(Math.min(Long.bitCount(here), g.max[j]), rest);
            if (size >= g.min[j] && size > 0) {
                slots[count] = k.slots()[i];
                crews[count++] = firstFew(here, size);
                rest -= size;
            }
        }
        // What is left over must be work that a crew of the right size can do.
        while (count > 0 && rest > 0 && !Crews.fits(rest, g.min[j], g.max[j])) {
            rest += Long.bitCount(crews[--count]);
        }
        if (!pinsIn(j, slots, crews, count)) {
            rest = g.work[j];
            return -1;
        }
        for (int i = 0; i < count; i++) {
            busy[slots[i]] |= crews[i];
            if (g.tool[j] >= 0) {
                toolUse[g.tool[j]][slots[i]]++;
            }
            record(j, slots[i], crews[i]);
        }
        if (rest > 0) {
            lose(j, Replan.Why.MORE_WORK, -1);
        }
        return count == 0 ? 0 : slots[count - 1] + 1;
    }

    /** Who of a slot's people can still work in it; notes why others cannot. */
    private long stillThere(int j, int slot, long people, int ready) {
        int day = slot / DAY;
        if (slot < ready) {
            lose(j, Replan.Why.WAITS, lastBefore(j));
            return 0;
        }
        if (g.shut(j, day) && !pinnedOn(j, day)) {
            lose(j, Replan.Why.WEATHER, day);
            return 0;
        }
        if (g.tool[j] >= 0 && toolUse[g.tool[j]][slot] >= g.toolCount[g.tool[j]]) {
            lose(j, Replan.Why.TOOL, g.tool[j]);
            return 0;
        }
        long present = people & g.present(day, slot % DAY);
        if (present != people) {
            lose(j, Replan.Why.ABSENT, Long.numberOfTrailingZeros(people & ~present));
        }
        long able = present & g.able[j];
        if (able != present) {
            lose(j, Replan.Why.SKILL, Long.numberOfTrailingZeros(present & ~able));
        }
        long free = able & ~busy[slot];
        if (free != able) {
            lose(j, Replan.Why.TAKEN, Long.numberOfTrailingZeros(able & ~free));
        }
        return free;
    }

    private void lose(int j, Replan.Why reason, int by) {
        if (why[j] == null) {
            why[j] = reason;
            whyBy[j] = by;
        }
    }

    private int lastBefore(int j) {
        int last = -1;
        for (int b : g.before[j]) {
            if (last < 0 || ends[b] > ends[last]) {
                last = b;
            }
        }
        return last;
    }

    private boolean pinnedOn(int j, int day) {
        return g.pins.get(j).stream().anyMatch(p -> p.day() == day);
    }

    /** Whether every pinned person of a job is on it on the pinned day. */
    private boolean pinsIn(int j, int[] slots, long[] crews, int count) {
        for (Grid.PinDay pin : g.pins.get(j)) {
            long there = 0;
            for (int i = 0; i < count; i++) {
                if (slots[i] / DAY == pin.day()) {
                    there |= crews[i];
                }
            }
            if ((pin.people() & ~there) != 0) {
                return false;
            }
        }
        return true;
    }

    private void clear() {
        Arrays.fill(busy, 0, touched, 0);
        Arrays.fill(reserved, 0, touched, 0);
        Arrays.fill(why, null);
        for (int[] use : toolUse) {
            Arrays.fill(use, 0, touched, 0);
        }
        for (int[] use : toolReserved) {
            Arrays.fill(use, 0, touched, 0);
        }
        touched = 0;
        runCount = 0;
        Arrays.fill(load, 0);
        Arrays.fill(ends, 0);
        Arrays.fill(held, 0);
        for (int j = 0; j < g.n; j++) {
            for (Grid.PinDay pin : g.pins.get(j)) {
                held[pin.day()] |= pin.people();
            }
        }
    }

    private void placeWithThoseBefore(int j, int[] crew) {
        if (ends[j] != 0) {
            return;
        }
        // A chain may be thousands long: walk it with a stack of our own.
        int[] stack = new int[16];
        int top = 0;
        stack[top++] = j;
        while (top > 0) {
            int at = stack[top - 1];
            boolean ready = true;
            if (ends[at] == 0) {
                for (int b : g.before[at]) {
                    if (ends[b] == 0) {
                        if (top == stack.length) {
                            stack = Arrays.copyOf(stack, top * 2);
                        }
                        stack[top++] = b;
                        ready = false;
                    }
                }
                if (ready) {
                    place(at, crew[at]);
                }
            }
            if (ready) {
                top--;
            }
        }
    }

    private void place(int j, int wanted) {
        int ready = g.readyFrom(j, ends);
        int cap = Math.max(g.min[j], Math.min(wanted, g.max[j]));
        if (!Crews.fits(g.work[j], g.min[j], cap)) {
            cap = g.max[j];
        }
        rest = g.work[j];
        crewBefore = 0;
        slotBefore = -2;
        ends[j] = Grid.NEVER;
        if (ready == Grid.NEVER) {
            return;
        }
        int last = 0;
        Kept before = holding(j);
        if (before != null) {
            reserve(j, -1);
        }
        if (before != null) {
            last = keep(j, before, ready);
        }
        if (before != null && last >= 0) {
            for (Grid.PinDay pin : g.pins.get(j)) {
                release(j, pin.day(), pin.people());
            }
        } else if (!g.pins.get(j).isEmpty()) {
            // A new choice of the lead goes before what others held.
            ignoreReserved = true;
            last = placePins(j, ready);
            ignoreReserved = false;
            if (last < 0) {
                return;
            }
        }
        crewBefore = 0;
        slotBefore = -2;
        int quarter = ready % DAY;
        for (int day = ready / DAY; day < g.days && rest > 0; day++) {
            long able = g.present(day) & g.able[j] & ~held[day];
            if (Long.bitCount(able) >= g.min[j] && !g.shut(j, day)) {
                int length = g.length(day);
                for (int q = quarter; q < length && rest > 0; q++) {
                    if (work(j, day, q, able, 0, g.min[j], cap, last > 0)) {
                        last = Math.max(last, day * DAY + q + 1);
                    }
                }
            }
            quarter = 0;
        }
        if (rest == 0) {
            ends[j] = last;
        }
    }

    /** Works on a job in one slot with as many as possible of those able; false if too few are free. */
    private boolean work(int j, int day, int q, long able, long must, int min, int cap, boolean again) {
        int slot = day * DAY + q;
        ensure(slot);
        long free = g.present(day, q) & able & ~busy[slot];
        if (!ignoreReserved) {
            free &= ~reserved[slot];
        }
        int count = Long.bitCount(free);
        if (count < min || (must & ~free) != 0) {
            return false;
        }
        int tool = g.tool[j];
        if (tool >= 0 && toolUse[tool][slot] + (ignoreReserved ? 0 : toolReserved[tool][slot]) >= g.toolCount[tool]) {
            return false;
        }
        if (again && workedOn(j, slot)) {
            return false;
        }
        int size = Crews.size(rest, min, g.max[j], Math.min(count, cap));
        if (size < Math.max(1, Long.bitCount(must))) {
            return false;
        }
        long crew = choose(j, free, must, size, slot);
        busy[slot] |= crew;
        if (tool >= 0) {
            toolUse[tool][slot]++;
        }
        rest -= size;
        record(j, slot, crew);
        return true;
    }

    private boolean workedOn(int j, int slot) {
        for (int i = runCount - 1; i >= 0; i--) {
            int[] run = runs[i];
            if (run[0] != j) {
                return false;
            }
            if (run[2] <= slot && slot < run[3]) {
                return true;
            }
        }
        return false;
    }

    /** Those already at it go on; then those with the fewest sought skills, the least loaded first. */
    private long choose(int j, long free, long must, int size, int slot) {
        long crew = must;
        if (slotBefore == slot - 1) {
            long stay = crewBefore & free & ~crew;
            while (stay != 0 && Long.bitCount(crew) < size) {
                crew |= Long.lowestOneBit(stay);
                stay &= stay - 1;
            }
        }
        int missing = size - Long.bitCount(crew);
        long open = free & ~crew;
        if (missing == Long.bitCount(open)) {
            return crew | open;
        }
        while (missing-- > 0) {
            int best = Long.numberOfTrailingZeros(open);
            for (long m = open & (open - 1); m != 0; m &= m - 1) {
                int h = Long.numberOfTrailingZeros(m);
                if (burden(j, h) < burden(j, best)) {
                    best = h;
                }
            }
            crew |= 1L << best;
            open &= ~(1L << best);
        }
        return crew;
    }

    /** The least burdened is taken first; a wish weighs three hours. */
    private int burden(int j, int h) {
        return load[h] + 8 * h - (((g.wishing[j] >> h) & 1) == 1 ? 12 : 0);
    }

    private void record(int j, int slot, long crew) {
        boolean follows = slotBefore == slot - 1 && slot % DAY != 0;
        for (long m = crew; m != 0; m &= m - 1) {
            int h = Long.numberOfTrailingZeros(m);
            load[h]++;
            if (follows && ((crewBefore >> h) & 1) == 1) {
                runs[openRun[h]][3] = slot + 1;
            } else {
                if (runCount == runs.length) {
                    runs = Arrays.copyOf(runs, runCount * 2);
                }
                int[] run = runs[runCount];
                if (run == null) {
                    run = new int[4];
                    runs[runCount] = run;
                }
                run[0] = j;
                run[1] = h;
                run[2] = slot;
                run[3] = slot + 1;
                openRun[h] = runCount++;
            }
        }
        crewBefore = crew;
        slotBefore = slot;
    }

    private void ensure(int slot) {
        if (slot >= busy.length) {
            int size = Math.max(slot + 1, busy.length * 2);
            busy = Arrays.copyOf(busy, size);
            reserved = Arrays.copyOf(reserved, size);
            for (int t = 0; t < toolUse.length; t++) {
                toolUse[t] = Arrays.copyOf(toolUse[t], size);
                toolReserved[t] = Arrays.copyOf(toolReserved[t], size);
            }
        }
        if (slot >= touched) {
            touched = slot + 1;
        }
    }

    /**
     * Places what pinned people do on their pinned days: all they can, but so that every later pin of
     * the job keeps its share. Returns the end slot so far, or -1 if a pin cannot be kept.
     */
    private int placePins(int j, int ready) {
        int pending = 0;
        for (Grid.PinDay pin : g.pins.get(j)) {
            pending += Math.max(g.min[j], Long.bitCount(pin.people()));
        }
        int last = 0;
        for (Grid.PinDay pin : g.pins.get(j)) {
            int day = pin.day();
            int share = Math.max(g.min[j], Long.bitCount(pin.people()));
            pending -= share;
            long companions = g.present(day) & g.able[j] & ~(held[day] & ~pin.people());
            long missing = pin.people();
            int first = day == ready / DAY ? ready % DAY : 0;
            if (day < ready / DAY) {
                return -1;
            }
            // Others may be pinned to other jobs with the same people that day: leave them an even part.
            int others = othersOnDay(j, day, pin.people());
            int length = g.length(day);
            int most = others == 0 ? length : Math.max(1, (length - first) / (others + 1));
            int used = 0;
            for (int q = first; q < length && rest > pending && used < most; q++) {
                long now = g.present(day, q) & pin.people();
                if (now == 0) {
                    continue;
                }
                // Whoever has not had a turn yet comes first when the crew cannot hold all.
                long wanted = firstFew(missing & now, g.max[j]);
                wanted |= firstFew(now & ~wanted, g.max[j] - Long.bitCount(wanted));
                wanted &= ~busyAt(day * DAY + q);
                if (wanted == 0) {
                    continue;
                }
                int size = Math.max(g.min[j], Long.bitCount(wanted));
                int keep = rest - pending;
                if (size > keep && Long.bitCount(wanted) > 1) {
                    wanted = firstFew(missing & wanted, Math.max(1, keep));
                    if (wanted == 0) {
                        break;
                    }
                    size = Math.max(g.min[j], Long.bitCount(wanted));
                }
                int able = Crews.size(rest, g.min[j], g.max[j], size);
                if (able < size) {
                    able = smallestAbove(j, size);
                }
                if (able == 0) {
                    continue;
                }
                if (workExactly(j, day, q, companions, wanted, able)) {
                    missing &= ~wanted;
                    used++;
                    last = Math.max(last, day * DAY + q + 1);
                }
            }
            release(j, day, pin.people());
            if (missing != 0) {
                return -1;
            }
        }
        return last;
    }

    private int smallestAbove(int j, int size) {
        for (int n = size + 1; n <= g.max[j] && n <= rest; n++) {
            if (Crews.fits(rest - n, g.min[j], g.max[j])) {
                return n;
            }
        }
        return 0;
    }

    private boolean workExactly(int j, int day, int q, long able, long must, int size) {
        if (!Crews.fits(rest - size, g.min[j], g.max[j])) {
            return false;
        }
        return work(j, day, q, able | must, must, size, size, false);
    }

    private long busyAt(int slot) {
        return slot < busy.length ? busy[slot] : 0;
    }

    private static long firstFew(long people, int count) {
        long result = 0;
        while (people != 0 && count-- > 0) {
            result |= Long.lowestOneBit(people);
            people &= people - 1;
        }
        return result;
    }

    private int othersOnDay(int j, int day, long people) {
        int count = 0;
        for (int i = 0; i < g.n; i++) {
            if (i != j && ends[i] == 0) {
                for (Grid.PinDay pin : g.pins.get(i)) {
                    if (pin.day() == day && (pin.people() & people) != 0) {
                        count++;
                    }
                }
            }
        }
        return count;
    }

    /** People stay held on a day only while another job pinned to them is still to be placed. */
    private void release(int j, int day, long people) {
        long still = 0;
        for (int i = 0; i < g.n; i++) {
            if (i != j && ends[i] == 0) {
                for (Grid.PinDay pin : g.pins.get(i)) {
                    if (pin.day() == day) {
                        still |= pin.people();
                    }
                }
            }
        }
        held[day] = (held[day] & ~people) | (still & people);
    }
}
