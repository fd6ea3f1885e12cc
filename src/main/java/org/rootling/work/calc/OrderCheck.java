package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.work.calc.OrderFault.Kind;

/** Finds the first reason why an order can never be fulfilled, whatever the search does. */
public final class OrderCheck {
    private final WorkOrder order;
    private final Map<String, Job> jobs = new HashMap<>();
    private final Map<String, Helper> helpers = new HashMap<>();
    private final Map<String, Tool> tools = new HashMap<>();

    private OrderCheck(WorkOrder order) {
        this.order = order;
    }

    /** The first fault of an order; empty where it has none and may be planned. */
    public static Optional<OrderFault> fault(WorkOrder order) {
        return Optional.ofNullable(new OrderCheck(order).find());
    }

    private @Nullable OrderFault find() {
        if (order.helpers().size() > WorkOrder.MOST_HELPERS) {
            return OrderFault.of(Kind.TOO_MANY_PEOPLE, Integer.toString(WorkOrder.MOST_HELPERS));
        }
        for (Helper h : order.helpers()) {
            if (helpers.put(h.id(), h) != null) {
                return OrderFault.of(Kind.SAME_ID_TWICE, h.id());
            }
        }
        for (Tool t : order.tools()) {
            if (tools.put(t.id(), t) != null) {
                return OrderFault.of(Kind.SAME_ID_TWICE, t.id());
            }
        }
        for (Job j : order.jobs()) {
            if (jobs.put(j.id(), j) != null) {
                return OrderFault.of(Kind.SAME_ID_TWICE, j.id());
            }
        }
        OrderFault links = links();
        if (links != null) {
            return links;
        }
        List<String> circle = circle();
        if (!circle.isEmpty()) {
            return new OrderFault(Kind.CIRCLE, circle);
        }
        for (Job j : order.jobs()) {
            OrderFault fault = crew(j);
            if (fault != null) {
                return fault;
            }
        }
        return pins();
    }

    private @Nullable OrderFault links() {
        LocalDate end = order.start().plusDays(WorkOrder.HORIZON_DAYS / 2);
        for (Job j : order.jobs()) {
            for (String before : j.after()) {
                if (!jobs.containsKey(before)) {
                    return OrderFault.of(Kind.UNKNOWN_JOB, j.id(), before);
                }
            }
            if (j.tool() != null) {
                Tool tool = tools.get(j.tool());
                if (tool == null) {
                    return OrderFault.of(Kind.UNKNOWN_TOOL, j.id(), j.tool());
                }
                if (tool.count() < 1) {
                    return OrderFault.of(Kind.NO_SUCH_TOOL_LEFT, j.id(), j.tool());
                }
            }
            if (j.earliest() != null && j.earliest().isAfter(end)) {
                return OrderFault.of(Kind.TOO_FAR_AHEAD, j.id());
            }
        }
        return null;
    }

    /** A circle of jobs that wait for each other, in the order in which they wait; empty if none. */
    private List<String> circle() {
        Map<String, Integer> waitsFor = new HashMap<>();
        Map<String, List<String>> next = new HashMap<>();
        Deque<String> free = new ArrayDeque<>();
        for (Job j : order.jobs()) {
            Set<String> before = new LinkedHashSet<>(j.after());
            waitsFor.put(j.id(), before.size());
            before.forEach(b -> next.computeIfAbsent(b, k -> new ArrayList<>()).add(j.id()));
            if (before.isEmpty()) {
                free.add(j.id());
            }
        }
        while (!free.isEmpty()) {
            String id = free.remove();
            waitsFor.remove(id);
            for (String n : next.getOrDefault(id, List.of())) {
                if (waitsFor.merge(n, -1, Integer::sum) == 0) {
                    free.add(n);
                }
            }
        }
        if (waitsFor.isEmpty()) {
            return List.of();
        }
        // Every job left waits for another one left, so walking back must come round.
        List<String> trail = new ArrayList<>();
        String at = order.jobs().stream()
                .map(Job::id)
                .filter(waitsFor::containsKey)
                .findFirst()
                .orElseThrow();
        while (!trail.contains(at)) {
            trail.add(at);
            at = get(at).after().stream()
                    .filter(waitsFor::containsKey)
                    .findFirst()
                    .orElseThrow();
        }
        return trail.subList(trail.indexOf(at), trail.size());
    }

    private Job get(String id) {
        Job job = jobs.get(id);
        if (job == null) {
            throw new IllegalArgumentException(id);
        }
        return job;
    }

    private @Nullable OrderFault crew(Job j) {
        List<Helper> able = order.helpers().stream().filter(h -> able(h, j)).toList();
        if (able.isEmpty() && j.skill() != null) {
            return OrderFault.of(Kind.SKILL_NOBODY_HAS, j.id(), j.skill());
        }
        if (able.size() < j.minPeople()) {
            return OrderFault.of(
                    Kind.TOO_FEW_PEOPLE, j.id(), Integer.toString(j.minPeople()), Integer.toString(able.size()));
        }
        int together = together(able);
        if (together < j.minPeople()) {
            return OrderFault.of(Kind.PEOPLE_NEVER_TOGETHER, j.id(), Integer.toString(j.minPeople()));
        }
        if (!Crews.fits(j.quarters(), j.minPeople(), Math.min(j.maxPeople(), together))) {
            return OrderFault.of(Kind.HOURS_DO_NOT_DIVIDE, j.id(), Integer.toString(j.minPeople()));
        }
        return null;
    }

    static boolean able(Helper h, Job j) {
        return j.skill() == null || h.skills().contains(j.skill());
    }

    /** Most of these people who work on the same weekday; days off end, weekdays come again. */
    private static int together(List<Helper> able) {
        int most = 0;
        for (DayOfWeek day : DayOfWeek.values()) {
            most = Math.max(most, (int) able.stream()
                    .filter(h -> h.quarters().getOrDefault(day, 0) > 0)
                    .count());
        }
        return most;
    }

    private @Nullable OrderFault pins() {
        Map<String, Integer> slots = new HashMap<>();
        for (Pin pin : new LinkedHashSet<>(order.pins())) {
            Job job = jobs.get(pin.job());
            if (job == null) {
                return OrderFault.of(Kind.UNKNOWN_JOB, "pinned", pin.job());
            }
            Helper helper = helpers.get(pin.helper());
            if (helper == null) {
                return OrderFault.of(Kind.UNKNOWN_PERSON, pin.job(), pin.helper());
            }
            if (!able(helper, job)) {
                return OrderFault.of(Kind.PIN_SKILL, pin.job(), pin.helper());
            }
            if (helper.quartersOn(pin.date()) == 0) {
                return OrderFault.of(
                        Kind.PIN_ABSENT, pin.job(), pin.helper(), pin.date().toString());
            }
            if (pin.date().isAfter(order.start().plusDays(WorkOrder.HORIZON_DAYS / 2))) {
                return OrderFault.of(Kind.TOO_FAR_AHEAD, pin.job());
            }
            if (pin.date().isBefore(order.start())
                    || (job.earliest() != null && pin.date().isBefore(job.earliest()))) {
                return OrderFault.of(
                        Kind.PIN_TOO_EARLY, pin.job(), pin.helper(), pin.date().toString());
            }
            if (slots.merge(pin.job(), 1, Integer::sum) > job.quarters()) {
                return OrderFault.of(Kind.PIN_MORE_THAN_WORK, pin.job());
            }
        }
        return order.pins().isEmpty() ? null : pinsTooEarly();
    }

    /** A pin on a day when what comes before cannot be done, however the people are used. */
    private @Nullable OrderFault pinsTooEarly() {
        Grid grid = new Grid(order);
        int[] heads = LowerBound.heads(grid);
        for (Pin pin : order.pins()) {
            int j = grid.jobIndex(pin.job());
            long day = pin.date().toEpochDay() - order.start().toEpochDay();
            if (day < grid.readyFrom(j, heads) / WorkOrder.DAY_QUARTERS) {
                return OrderFault.of(
                        Kind.PIN_TOO_EARLY, pin.job(), pin.helper(), pin.date().toString());
            }
        }
        return null;
    }
}
