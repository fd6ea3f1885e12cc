package org.rootling.work.calc;

import java.util.ArrayList;
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
 * stands against them; only the rest is placed anew, around the others. If that would leave vines or due dates later than
 * they were, jobs that press less make room: as few as do ({@link Repair}). The finish may move; an earlier one is what a
 * search anew is for.
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
    private final Map<String, Integer> helpers = new HashMap<>();

    private Replan(WorkOrder order, List<Stint> stints) {
        search = new ScheduleSearch(order, s -> {});
        grid = search.grid();
        kept = new Timetable.Kept[grid.n];
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
                read(j, own);
            }
        }
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

    private void read(int j, List<Stint> own) {
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
    }

    private static long key(int slot, int helper) {
        return slot * 64L + helper;
    }

    private Result run() {
        Repair repair = new Repair(grid, kept, search.urgency());
        repair.run();
        Schedule schedule = search.schedule(repair.timetable);
        return new Result(schedule, moves(schedule, repair));
    }

    private List<Move> moves(Schedule schedule, Repair repair) {
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
            Why why = repair.timetable.why[j];
            if (repair.freed()[j] || why == null) {
                int whom = repair.roomFor(j);
                moves.add(new Move(
                        id,
                        Why.MADE_ROOM,
                        whom < 0 || whom == j
                                ? null
                                : grid.order.jobs().get(whom).id()));
            } else {
                moves.add(new Move(id, why, by(why, repair.timetable.whyBy[j])));
            }
        }
        return moves;
    }

    private @Nullable String by(Why why, int by) {
        return switch (why) {
            case ABSENT, TAKEN, SKILL -> grid.helpers.get(by).id();
            case WAITS -> by < 0 ? null : grid.order.jobs().get(by).id();
            case TOOL -> grid.order.tools().get(by).id();
            case WEATHER -> grid.date(by).toString();
            case GONE, MORE_WORK, MADE_ROOM -> null;
        };
    }
}
