package org.rootling.work.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Finds which jobs of the schedule before must give way after a change so that nothing is later than it was, and as few as
 * do. First a few at a time, each where it stands in the way of what is most late. If that does not do, or moves many, two
 * other ways: ever more of them from what presses least, at last all, placed after the others, or when their old turn comes.
 * Each way takes back what it freed, half of it, a quarter, and so on down to single jobs, as long as nothing gets later by
 * it (delta debugging; Zeller and Hildebrandt 2002, from memory), and the one that moves fewest is taken. Freeing all in
 * their old turn is planning anew, so that the answer is never later than that would be, nor than the schedule before if
 * that was later. Last, what much else waits for gets room as well, where fewer move by it.
 */
final class Repair {
    /** Schedules tried at most; the more jobs, the longer each takes. */
    private static final int MOST_TRIES = 2000;

    private static final int FEWEST_TRIES = 60;
    private static final int TRIES_TIMES_JOBS = 800_000;
    private static final int MOST_ROUNDS_OF_ROOM = 160;
    /** More than one in so many moved: other ways are tried as well. */
    private static final int MANY = 10;

    private final Grid g;
    private final Timetable.@Nullable Kept[] kept;
    private final long[] urgency;
    private final RoomMaker room;
    /** The schedule of the last try; of the best after {@link #run}. */
    final Timetable timetable;

    private Choice chosen;
    /** The most late job where nothing gives way; -1 if none is. */
    private int pressing = -1;

    private int tries;

    /**
     * Jobs that hold nothing of what they had.
     *
     * @param inPlace whether they are placed when their old turn comes, or after all others by urgency
     * @param late as {@link #lateness} has it
     * @param moved jobs that are freed or could not stay
     */
    @SuppressWarnings("ArrayRecordComponent")
    private record Choice(boolean[] freed, boolean inPlace, long[] late, int moved) {
        boolean laterThan(long[] other) {
            return Arrays.compare(late, other) > 0;
        }

        /** Less late, down to the goal; of equals in this, fewer moved. */
        boolean betterThan(Choice other, long[] goal) {
            boolean tooLate = laterThan(goal);
            boolean otherTooLate = other.laterThan(goal);
            int compared =
                    tooLate && otherTooLate ? Arrays.compare(late, other.late) : Boolean.compare(tooLate, otherTooLate);
            return compared < 0 || (compared == 0 && moved < other.moved);
        }
    }

    /**
     * Prepares a repair.
     *
     * @param kept by job what it had; null for one that is new
     * @param urgency by job, the least first
     */
    Repair(Grid g, Timetable.@Nullable Kept[] kept, long[] urgency) {
        this.g = g;
        this.kept = kept;
        this.urgency = urgency;
        room = new RoomMaker(g, kept);
        timetable = new Timetable(g);
        tries = Math.max(FEWEST_TRIES, Math.min(MOST_TRIES, TRIES_TIMES_JOBS / Math.max(1, g.n)));
        chosen = attempt(new boolean[g.n], false);
    }

    /** Leaves the best answer in {@link #timetable}. */
    void run() {
        long[] goal = latenessBefore();
        pressing = mostLate(new boolean[g.n]);
        if (chosen.laterThan(goal)) {
            chosen = fewest(makeRoom(goal), goal);
        }
        if (chosen.laterThan(goal) || chosen.moved > g.n / MANY) {
            for (boolean inPlace : new boolean[] {false, true}) {
                Choice wide = fewest(widened(inPlace, goal), goal);
                if (wide.betterThan(chosen, goal)) {
                    chosen = wide;
                    room.forget();
                }
            }
        }
        chosen = fewerWaiting(chosen, goal);
        attempt(chosen.freed, chosen.inPlace);
    }

    /**
     * Where others wait for a job that could not stay, lets a few without such followers give way to it, as long as fewer
     * move by that.
     */
    private Choice fewerWaiting(Choice choice, long[] goal) {
        Choice best = choice;
        long[] reached = choice.laterThan(goal) ? choice.late : goal;
        boolean[] tried = new boolean[g.n];
        attempt(best.freed, best.inPlace);
        for (int j = mostAwaited(best, tried); j >= 0 && tries > 0; j = mostAwaited(best, tried)) {
            tried[j] = true;
            int awaited = j;
            List<Integer> way = room.inTheWay(timetable, j, room.awaitedBy(j), best.freed);
            if (!way.isEmpty()) {
                boolean[] freed = best.freed.clone();
                way.forEach(w -> freed[w] = true);
                Choice then = attempt(freed, best.inPlace);
                if (then.moved < best.moved && !then.laterThan(reached)) {
                    best = fewest(then, reached);
                    way.forEach(w -> room.roomFor[w] = awaited);
                }
                attempt(best.freed, best.inPlace);
            }
        }
        return best;
    }

    /** Of the jobs that end too late for what came after them, and do not wait themselves, the one with most behind it. */
    private int mostAwaited(Choice now, boolean[] but) {
        int most = -1;
        for (int j = 0; j < g.n; j++) {
            if (!but[j]
                    && !now.freed[j]
                    && timetable.why[j] != null
                    && timetable.why[j] != Replan.Why.WAITS
                    && timetable.ends[j] != Grid.NEVER
                    && timetable.ends[j] > room.awaitedBy(j)
                    && (most < 0 || room.followers(j) > room.followers(most))) {
                most = j;
            }
        }
        return most;
    }

    /** By job, whether it had to give way. */
    boolean[] freed() {
        return chosen.freed;
    }

    /** For whom a job made room; -1 if for none in particular. */
    int roomFor(int j) {
        return room.roomFor[j] < 0 ? pressing : room.roomFor[j];
    }

    private Choice attempt(boolean[] freed, boolean inPlace) {
        tries--;
        timetable.rebuild(ranking(freed, inPlace), g.max, kept, freed);
        int moved = 0;
        for (int j = 0; j < g.n; j++) {
            if (freed[j] || timetable.why[j] != null) {
                moved++;
            }
        }
        return new Choice(freed.clone(), inPlace, lateness(), moved);
    }

    /** Frees a few jobs at a time, each where it is in the way of what is most late, until nothing is later than the goal. */
    private Choice makeRoom(long[] goal) {
        Choice now = chosen;
        boolean[] freed = now.freed.clone();
        boolean[] hopeless = new boolean[g.n];
        int most = pressing;
        int rounds = Math.min(MOST_ROUNDS_OF_ROOM, 2 * g.n);
        while (now.laterThan(goal) && most >= 0 && rounds-- > 0 && tries > 0) {
            int root = room.root(timetable, most);
            List<Integer> way = room.inTheWay(timetable, root, freed);
            if (way.isEmpty()) {
                hopeless[most] = true;
            } else {
                way.forEach(j -> freed[j] = true);
                Choice then = attempt(freed, false);
                if (then.laterThan(now.late)) {
                    way.forEach(j -> freed[j] = false);
                    room.bar(way);
                    attempt(freed, false);
                } else {
                    now = then;
                    way.forEach(j -> room.roomFor[j] = root);
                    Arrays.fill(hopeless, false);
                }
            }
            most = mostLate(hopeless);
        }
        return now;
    }

    /** Frees ever more, from what presses least, until nothing is later than the goal: the first that does, or the least late. */
    private Choice widened(boolean inPlace, long[] goal) {
        boolean[] freed = new boolean[g.n];
        List<Integer> jobs = leastPressing();
        Choice best = null;
        for (int count = 1; best == null || best.laterThan(goal); count *= 2) {
            for (int i = count / 2; i < Math.min(count, jobs.size()); i++) {
                freed[jobs.get(i)] = true;
            }
            Choice now = attempt(freed, inPlace);
            if (best == null || best.laterThan(now.late)) {
                best = now;
            }
            if (count >= jobs.size()) {
                break;
            }
        }
        return best;
    }

    /** Lets as many as possible have back what they had, without anything later than the goal or than it is by now. */
    private Choice fewest(Choice choice, long[] goal) {
        Choice best = choice;
        long[] reached = choice.laterThan(goal) ? choice.late : goal;
        List<Integer> out = new ArrayList<>();
        for (int j = 0; j < g.n; j++) {
            if (choice.freed[j]) {
                out.add(j);
            }
        }
        out.sort(Comparator.comparingInt(j -> Timetable.Kept.firstSlot(kept[j])));
        for (int size = (out.size() + 1) / 2; size > 0; size /= 2) {
            for (int from = 0; from < out.size() && tries > 0; ) {
                List<Integer> back = out.subList(from, Math.min(out.size(), from + size));
                boolean[] freed = best.freed.clone();
                back.forEach(j -> freed[j] = false);
                Choice without = attempt(freed, best.inPlace);
                if (without.laterThan(reached) || without.moved > best.moved) {
                    from += size;
                } else {
                    best = without;
                    back.clear();
                }
            }
        }
        return best;
    }

    /** Pinned jobs first, then as before by time; the freed ones and new ones last by urgency, unless they keep their turn. */
    private int[] ranking(boolean[] freed, boolean inPlace) {
        Integer[] jobs = new Integer[g.n];
        Arrays.setAll(jobs, i -> i);
        Arrays.sort(
                jobs,
                Comparator.comparingInt((Integer j) -> g.pins.get(j).isEmpty() ? 1 : 0)
                        .thenComparingInt(j -> freed[j] && !inPlace ? Grid.NEVER : Timetable.Kept.firstSlot(kept[j]))
                        .thenComparingLong(j -> urgency[j])
                        .thenComparingInt(j -> j));
        return Arrays.stream(jobs).mapToInt(i -> i).toArray();
    }

    /** Those with the latest due day first, and of these the ones that were to begin last; pinned ones at the end. */
    private List<Integer> leastPressing() {
        List<Integer> jobs = new ArrayList<>();
        for (int j = 0; j < g.n; j++) {
            if (kept[j] != null) {
                jobs.add(j);
            }
        }
        jobs.sort(Comparator.comparingInt((Integer j) -> g.pins.get(j).isEmpty() ? 0 : 1)
                .thenComparingInt(j -> g.hold[j] ? 1 : 0)
                .thenComparingInt(j -> -g.due[j])
                .thenComparingInt(j -> -Timetable.Kept.firstSlot(kept[j])));
        return jobs;
    }

    /** Jobs without a place, vine-days late, other weighted days late. */
    private long[] lateness() {
        long[] late = new long[3];
        for (int j = 0; j < g.n; j++) {
            if (timetable.ends[j] == Grid.NEVER) {
                late[0]++;
            } else {
                late[g.hold[j] ? 1 : 2] += weightedDaysLate(j, timetable.ends[j]);
            }
        }
        return late;
    }

    private long[] latenessBefore() {
        long[] late = new long[3];
        for (int j = 0; j < g.n; j++) {
            Timetable.Kept k = kept[j];
            if (k != null && k.slots().length > 0) {
                late[g.hold[j] ? 1 : 2] += weightedDaysLate(j, k.slots()[k.slots().length - 1] + 1);
            }
        }
        return late;
    }

    private long weightedDaysLate(int j, int end) {
        return g.due[j] == Grid.NEVER ? 0 : g.weight[j] * Math.max(0, (end - 1) / Grid.DAY - (long) g.due[j]);
    }

    private int mostLate(boolean[] but) {
        int most = -1;
        long worst = 0;
        for (int j = 0; j < g.n; j++) {
            if (timetable.ends[j] != Grid.NEVER && !but[j]) {
                long late = weightedDaysLate(j, timetable.ends[j]) * (g.hold[j] ? 1_000_000 : 1);
                if (late > worst) {
                    worst = late;
                    most = j;
                }
            }
        }
        return most;
    }
}
