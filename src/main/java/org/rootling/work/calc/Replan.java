package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * A schedule after a change that moves only what must move. Every job keeps the time and people it had as far as nothing
 * stands against them; only the rest is placed anew, around the others. If that would leave vines or due dates later than a
 * schedule made in the old order would, jobs that press less make room: as few as do, and such as stand in the way.
 */
public final class Replan {
    /** Why a job could not stay as it was. */
    public enum Why {
        /** Somebody is not there at that time. */
        ABSENT,
        /** Somebody is not among the people any more. */
        GONE,
        /** The weather of the day. */
        WEATHER,
        /** It waits for another that ends later now. */
        WAITS,
        /** Too few of the tool. */
        TOOL,
        /** Its person is on something else that was fixed. */
        TAKEN,
        /** Its person lacks the skill that it needs now. */
        SKILL,
        /** There is more left to do than was planned. */
        MORE_WORK,
        /** It made room for one that presses more. */
        MADE_ROOM
    }

    /**
     * A job that is not where it was.
     *
     * @param by the helper, job, tool or date that it is about; null where the reason says all
     */
    public record Move(String job, Why why, @Nullable String by) {}

    /** The schedule after the change, and what moved. */
    public record Result(Schedule schedule, List<Move> moves) {
        public Result {
            moves = List.copyOf(moves);
        }
    }

    private final ScheduleSearch search;
    private final Grid grid;
    private final Map<String, Set<Long>> before = new HashMap<>();
    private final Timetable.@Nullable Kept[] kept;
    private final int[] firstSlot;
    private final int[] crew;
    private final RoomMaker room;

    private Replan(WorkOrder order, List<Stint> stints) {
        search = new ScheduleSearch(order, s -> {});
        grid = search.grid();
        kept = new Timetable.Kept[grid.n];
        firstSlot = new int[grid.n];
        crew = grid.max.clone();
        Arrays.fill(firstSlot, Grid.NEVER);
        Map<String, Integer> helpers = new HashMap<>();
        for (int h = 0; h < grid.helpers.size(); h++) {
            helpers.put(grid.helpers.get(h).id(), h);
        }
        Map<String, List<Stint>> byJob = new HashMap<>();
        for (Stint s : stints) {
            if (!s.date().isBefore(order.start())) {
                byJob.computeIfAbsent(s.job(), k -> new ArrayList<>()).add(s);
            }
        }
        for (int j = 0; j < grid.n; j++) {
            List<Stint> own = byJob.get(order.jobs().get(j).id());
            if (own != null) {
                read(j, own, helpers);
            }
        }
        room = new RoomMaker(grid, kept);
    }

    /**
     * Plans again.
     *
     * @param order an order without {@linkplain OrderCheck#fault fault}
     * @param stints of the schedule before; what lies before the order's start is over
     */
    public static Result of(WorkOrder order, List<Stint> stints) {
        return new Replan(order, stints).run();
    }

    private void read(int j, List<Stint> own, Map<String, Integer> helpers) {
        TreeMap<Integer, Long> slots = new TreeMap<>();
        boolean gone = false;
        Set<Long> all = new HashSet<>();
        for (Stint s : own) {
            Integer h = helpers.get(s.helper());
            if (h == null) {
                gone = true;
                continue;
            }
            long day = s.date().toEpochDay() - grid.order.start().toEpochDay();
            for (int q = s.from(); q < s.to() && day < grid.days; q++) {
                slots.merge((int) day * Grid.DAY + q, 1L << h, (a, b) -> a | b);
                all.add(key((int) day * Grid.DAY + q, h));
            }
        }
        before.put(grid.order.jobs().get(j).id(), all);
        kept[j] = new Timetable.Kept(
                slots.keySet().stream().mapToInt(i -> i).toArray(),
                slots.values().stream().mapToLong(i -> i).toArray(),
                gone);
        firstSlot[j] = slots.isEmpty() ? Grid.NEVER : slots.firstKey();
    }

    private static long key(int slot, int helper) {
        return slot * 64L + helper;
    }

    private Result run() {
        boolean[] freed = new boolean[grid.n];
        Timetable t = new Timetable(grid);
        t.rebuild(ranking(freed), crew, kept, freed);
        long[] stays = lateness(t);
        int pressing = mostLate(t, new boolean[grid.n]);
        Timetable anew = new Timetable(grid);
        anew.build(inOldOrder(), crew);
        // No worse than the schedule before, or than planning in its order would be: then what stays may stay.
        long[] target = lateness(anew);
        if (compare(target, latenessBefore()) < 0) {
            target = latenessBefore();
        }
        if (compare(stays, target) > 0) {
            makeRoom(t, freed, target);
        }
        if (compare(lateness(t), target) > 0) {
            boolean[] many = new boolean[grid.n];
            Timetable wide = fromTheLeastPressing(pressing, many, target, anew);
            if (compare(lateness(wide), lateness(t)) < 0) {
                t = wide;
                freed = many;
                Arrays.fill(room.roomFor, -1);
            }
        }
        Schedule schedule = search.schedule(t);
        return new Result(schedule, moves(schedule, t, freed, pressing));
    }

    /**
     * Frees few jobs at a time, each where it is in the way of what is most late, until nothing is later than it should be;
     * then those come back that need not have gone.
     */
    private void makeRoom(Timetable t, boolean[] freed, long[] target) {
        int tries = Math.max(20, Math.min(160, 64_000 / Math.max(1, grid.n)));
        boolean[] hopeless = new boolean[grid.n];
        List<Integer> went = new ArrayList<>();
        long[] late = lateness(t);
        int most = mostLate(t, hopeless);
        while (compare(late, target) > 0 && most >= 0 && tries-- > 0) {
            int pressing = room.root(t, most);
            List<Integer> way = room.inTheWay(t, pressing, freed);
            if (way.isEmpty()) {
                hopeless[most] = true;
            } else {
                way.forEach(j -> freed[j] = true);
                t.rebuild(ranking(freed), crew, kept, freed);
                long[] now = lateness(t);
                if (compare(now, late) > 0) {
                    way.forEach(j -> freed[j] = false);
                    room.bar(way);
                    t.rebuild(ranking(freed), crew, kept, freed);
                } else {
                    late = now;
                    went.addAll(way);
                    way.forEach(j -> room.roomFor[j] = pressing);
                    Arrays.fill(hopeless, false);
                }
            }
            most = mostLate(t, hopeless);
        }
        long[] reached = compare(late, target) > 0 ? late : target;
        for (int i = 0; i < went.size() && tries-- > 0; i++) {
            int j = went.get(i);
            freed[j] = false;
            t.rebuild(ranking(freed), crew, kept, freed);
            freed[j] = compare(lateness(t), reached) > 0;
        }
        t.rebuild(ranking(freed), crew, kept, freed);
    }

    /** Frees ever more, from what presses least; at last everything, planned anew in the old order. */
    private Timetable fromTheLeastPressing(int pressing, boolean[] freed, long[] target, Timetable anew) {
        Timetable t = new Timetable(grid);
        Integer[] least = leastPressing(pressing);
        for (int k = 1; ; k *= 2) {
            for (int i = 0; i < Math.min(k, least.length); i++) {
                freed[least[i]] = true;
            }
            t.rebuild(ranking(freed), crew, kept, freed);
            if (compare(lateness(t), target) <= 0) {
                return t;
            }
            if (k >= least.length) {
                Arrays.fill(freed, true);
                return anew;
            }
        }
    }

    /** Pinned jobs first, then as before by time, then the freed and new ones by urgency. */
    private int[] ranking(boolean[] freed) {
        long[] urgency = search.urgency();
        return sorted(Comparator.comparingInt((Integer j) -> grid.pins.get(j).isEmpty() ? 1 : 0)
                .thenComparingInt(j -> freed[j] ? Grid.NEVER : firstSlot[j])
                .thenComparingLong(j -> urgency[j]));
    }

    private int[] inOldOrder() {
        long[] urgency = search.urgency();
        return sorted(Comparator.comparingInt((Integer j) -> grid.pins.get(j).isEmpty() ? 1 : 0)
                .thenComparingInt(j -> firstSlot[j])
                .thenComparingLong(j -> urgency[j]));
    }

    private int[] sorted(Comparator<Integer> by) {
        Integer[] jobs = new Integer[grid.n];
        Arrays.setAll(jobs, i -> i);
        Arrays.sort(jobs, by.thenComparingInt(j -> j));
        return Arrays.stream(jobs).mapToInt(i -> i).toArray();
    }

    /** Those with the latest due day first, and of these the ones that were to begin last. */
    private Integer[] leastPressing(int pressing) {
        int due = pressing < 0 ? Grid.NEVER : grid.due[pressing];
        List<Integer> jobs = new ArrayList<>();
        for (int j = 0; j < grid.n; j++) {
            if (kept[j] != null && j != pressing && grid.pins.get(j).isEmpty() && grid.due[j] >= due) {
                jobs.add(j);
            }
        }
        jobs.sort(Comparator.comparingInt((Integer j) -> grid.hold[j] ? 1 : 0)
                .thenComparingLong(j -> -(long) grid.due[j])
                .thenComparingInt(j -> -firstSlot[j]));
        return jobs.toArray(Integer[]::new);
    }

    /** Jobs without a place, vine-days late, other weighted days late. */
    private long[] lateness(Timetable t) {
        long[] late = new long[3];
        for (int j = 0; j < grid.n; j++) {
            if (t.ends[j] == Grid.NEVER) {
                late[0]++;
            } else {
                late[grid.hold[j] ? 1 : 2] += daysLate(t, j) * grid.weight[j];
            }
        }
        return late;
    }

    private long[] latenessBefore() {
        long[] late = new long[3];
        for (int j = 0; j < grid.n; j++) {
            Timetable.Kept k = kept[j];
            if (k != null && k.slots().length > 0 && grid.due[j] != Grid.NEVER) {
                int day = k.slots()[k.slots().length - 1] / Grid.DAY;
                late[grid.hold[j] ? 1 : 2] += Math.max(0, day - (long) grid.due[j]) * grid.weight[j];
            }
        }
        return late;
    }

    private long daysLate(Timetable t, int j) {
        return grid.due[j] == Grid.NEVER || t.ends[j] == Grid.NEVER
                ? 0
                : Math.max(0, (t.ends[j] - 1) / Grid.DAY - (long) grid.due[j]);
    }

    private static int compare(long[] a, long[] b) {
        return Arrays.compare(a, b);
    }

    private int mostLate(Timetable t, boolean[] but) {
        int most = -1;
        long worst = 0;
        for (int j = 0; j < grid.n; j++) {
            long late = daysLate(t, j) * grid.weight[j] * (grid.hold[j] ? 1_000_000 : 1);
            if (late > worst && !but[j]) {
                worst = late;
                most = j;
            }
        }
        return most;
    }

    private List<Move> moves(Schedule schedule, Timetable t, boolean[] freed, int pressing) {
        Map<String, Integer> helpers = new HashMap<>();
        for (int h = 0; h < grid.helpers.size(); h++) {
            helpers.put(grid.helpers.get(h).id(), h);
        }
        Map<String, Set<Long>> now = new HashMap<>();
        for (Stint s : schedule.stints()) {
            int day = (int) (s.date().toEpochDay() - grid.order.start().toEpochDay());
            Set<Long> slots = now.computeIfAbsent(s.job(), k -> new HashSet<>());
            for (int q = s.from(); q < s.to(); q++) {
                slots.add(key(day * Grid.DAY + q, Objects.requireNonNull(helpers.get(s.helper()))));
            }
        }
        List<Move> moves = new ArrayList<>();
        for (int j = 0; j < grid.n; j++) {
            String id = grid.order.jobs().get(j).id();
            Set<Long> was = before.get(id);
            if (was == null || was.containsAll(now.getOrDefault(id, Set.of()))) {
                continue;
            }
            Timetable.Why why = t.why[j];
            if (freed[j] || why == null) {
                int whom = room.roomFor[j] < 0 ? pressing : room.roomFor[j];
                moves.add(new Move(
                        id,
                        Why.MADE_ROOM,
                        whom < 0 || whom == j
                                ? null
                                : grid.order.jobs().get(whom).id()));
            } else {
                moves.add(new Move(id, Why.valueOf(why.name()), by(why, t.whyBy[j])));
            }
        }
        return moves;
    }

    private @Nullable String by(Timetable.Why why, int by) {
        return switch (why) {
            case ABSENT, TAKEN, SKILL -> grid.helpers.get(by).id();
            case WAITS -> by < 0 ? null : grid.order.jobs().get(by).id();
            case TOOL -> grid.order.tools().get(by).id();
            case WEATHER -> date(by).toString();
            case GONE, MORE_WORK, MADE_ROOM -> null;
        };
    }

    private LocalDate date(int day) {
        return grid.date(day);
    }
}
