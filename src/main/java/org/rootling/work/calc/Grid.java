package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * A {@link WorkOrder} as numbers: days from the start, slots of a quarter hour ({@code day * 64 +
 * quarter after 08:00}), crews as bit sets. Helpers are numbered so that those whose skills are
 * needed least elsewhere come first.
 */
final class Grid {
    static final int DAY = WorkOrder.DAY_QUARTERS;
    static final int NEVER = Integer.MAX_VALUE;

    final WorkOrder order;
    final int n;
    final List<Helper> helpers;
    final int days = WorkOrder.HORIZON_DAYS;
    final int[] work;
    final int[] min;
    final int[] max;
    final long[] able;
    final int[] tool;
    final int[] toolCount;
    final int[][] before;
    final int[][] after;
    final int[] wait;
    final int[] earliest;
    final int[] due;
    final long[] weight;
    final int[] group;
    final boolean[] hold;
    /** Those who would rather do the job's kind of work. */
    final long[] wishing;

    final boolean grouped;
    final int[] topological;
    /** Pins by job, by date: each {day, helper bit set}. */
    final List<List<PinDay>> pins;
    /** Who works in each quarter of a weekday, days off aside. */
    private final long[][] template = new long[7][DAY];

    private final int[] dayLength = new int[7];
    private final long[] off = new long[WorkOrder.HORIZON_DAYS];
    private static final boolean[] NO_DAY = {};
    /** By job, the days whose weather stops it; shared between those that stand the same. */
    private final boolean[][] lost;

    private final int startWeekday;
    private final Map<String, Integer> jobIndex = new HashMap<>();

    /** The people pinned to one job on one day. */
    record PinDay(int day, long people) {}

    Grid(WorkOrder order) {
        this.order = order;
        n = order.jobs().size();
        helpers = byScarcity(order);
        startWeekday = order.start().getDayOfWeek().getValue() - 1;
        calendar();
        work = new int[n];
        min = new int[n];
        max = new int[n];
        able = new long[n];
        tool = new int[n];
        before = new int[n][];
        after = new int[n][];
        wait = new int[n];
        earliest = new int[n];
        due = new int[n];
        weight = new long[n];
        group = new int[n];
        lost = new boolean[n][];
        hold = new boolean[n];
        wishing = new long[n];
        Map<String, Integer> tools = new HashMap<>();
        toolCount = new int[order.tools().size()];
        for (Tool t : order.tools()) {
            toolCount[tools.size()] = t.count();
            tools.put(t.id(), tools.size());
        }
        for (Job j : order.jobs()) {
            jobIndex.put(j.id(), jobIndex.size());
        }
        Map<String, Integer> groups = new HashMap<>();
        Map<Set<LocalDate>, boolean[]> lostOf = new HashMap<>();
        List<List<Integer>> next = new ArrayList<>();
        for (int j = 0; j < n; j++) {
            next.add(new ArrayList<>());
        }
        for (int j = 0; j < n; j++) {
            Job job = order.jobs().get(j);
            work[j] = job.quarters();
            for (int h = 0; h < helpers.size(); h++) {
                if (OrderCheck.able(helpers.get(h), job)) {
                    able[j] |= 1L << h;
                }
            }
            min[j] = job.minPeople();
            max[j] = Math.max(job.minPeople(), Math.min(job.maxPeople(), together(able[j])));
            Integer t = job.tool() == null ? null : tools.get(job.tool());
            tool[j] = t == null ? -1 : t;
            before[j] = job.after().stream().distinct().mapToInt(this::jobIndex).toArray();
            for (int b : before[j]) {
                next.get(b).add(j);
            }
            wait[j] = job.waitDays();
            earliest[j] = job.earliest() == null ? 0 : Math.max(0, day(job.earliest()));
            due[j] = job.due() == null ? NEVER : day(job.due());
            weight[j] = job.weight();
            Set<LocalDate> stopping = order.lostDays(job);
            lost[j] = stopping.isEmpty() ? NO_DAY : lostOf.computeIfAbsent(stopping, this::lost);
            hold[j] = job.hold();
            for (int h = 0; h < helpers.size(); h++) {
                if (job.kind() != null && helpers.get(h).wishes().contains(job.kind())) {
                    wishing[j] |= 1L << h;
                }
            }
            group[j] = job.group() == null ? -1 : groups.computeIfAbsent(job.group(), k -> groups.size());
        }
        grouped = groups.size() > 1;
        for (int j = 0; j < n; j++) {
            after[j] = next.get(j).stream().mapToInt(i -> i).toArray();
        }
        topological = topological();
        pins = pinDays();
    }

    /** Those come first whose skills the order asks least of. */
    private static List<Helper> byScarcity(WorkOrder order) {
        Map<String, Double> asked = new HashMap<>();
        for (Job j : order.jobs()) {
            if (j.skill() != null) {
                asked.merge(j.skill(), (double) j.quarters(), Double::sum);
            }
        }
        for (Map.Entry<String, Double> e : asked.entrySet()) {
            long holders = order.helpers().stream()
                    .filter(h -> h.skills().contains(e.getKey()))
                    .count();
            e.setValue(e.getValue() / Math.max(1, holders));
        }
        List<Helper> sorted = new ArrayList<>(order.helpers());
        sorted.sort(Comparator.comparingDouble(h ->
                h.skills().stream().mapToDouble(s -> asked.getOrDefault(s, 0.0)).sum()));
        return sorted;
    }

    private void calendar() {
        for (int h = 0; h < helpers.size(); h++) {
            Helper helper = helpers.get(h);
            for (DayOfWeek weekday : DayOfWeek.values()) {
                int quarters = Math.min(DAY, helper.quarters().getOrDefault(weekday, 0));
                int w = weekday.getValue() - 1;
                for (int q = 0; q < quarters; q++) {
                    template[w][q] |= 1L << h;
                }
                dayLength[w] = Math.max(dayLength[w], quarters);
            }
            for (LocalDate date : helper.daysOff()) {
                long d = date.toEpochDay() - order.start().toEpochDay();
                if (d >= 0 && d < days) {
                    off[(int) d] |= 1L << h;
                }
            }
        }
    }

    private boolean[] lost(Set<LocalDate> dates) {
        boolean[] result = new boolean[days];
        for (LocalDate date : dates) {
            long d = date.toEpochDay() - order.start().toEpochDay();
            if (d >= 0 && d < days) {
                result[(int) d] = true;
            }
        }
        return result;
    }

    /** Whether the weather of a day stops a job; a pin of the lead stands against any weather. */
    boolean shut(int j, int day) {
        return lost[j].length > 0 && lost[j][day];
    }

    private int[] topological() {
        int[] open = new int[n];
        int[] result = new int[n];
        int filled = 0;
        for (int j = 0; j < n; j++) {
            open[j] = before[j].length;
            if (open[j] == 0) {
                result[filled++] = j;
            }
        }
        for (int i = 0; i < filled; i++) {
            for (int a : after[result[i]]) {
                if (--open[a] == 0) {
                    result[filled++] = a;
                }
            }
        }
        if (filled < n) {
            throw new IllegalArgumentException("jobs wait for each other in a circle");
        }
        return result;
    }

    private List<List<PinDay>> pinDays() {
        List<List<PinDay>> result = new ArrayList<>();
        for (int j = 0; j < n; j++) {
            result.add(List.of());
        }
        Map<String, List<Pin>> byJob = new HashMap<>();
        order.pins()
                .forEach(p ->
                        byJob.computeIfAbsent(p.job(), k -> new ArrayList<>()).add(p));
        byJob.forEach((job, list) -> {
            List<PinDay> daysOfJob = new ArrayList<>();
            for (int d : new TreeSet<>(list.stream().map(p -> day(p.date())).toList())) {
                long people = 0;
                for (Pin p : list) {
                    if (day(p.date()) == d) {
                        people |= 1L << helperIndex(p.helper());
                    }
                }
                daysOfJob.add(new PinDay(d, people));
            }
            result.set(jobIndex(job), daysOfJob);
        });
        return result;
    }

    int jobIndex(String id) {
        Integer i = jobIndex.get(id);
        if (i == null) {
            throw new IllegalArgumentException(id);
        }
        return i;
    }

    int helperIndex(String id) {
        for (int h = 0; h < helpers.size(); h++) {
            if (helpers.get(h).id().equals(id)) {
                return h;
            }
        }
        throw new IllegalArgumentException(id);
    }

    private int together(long people) {
        int most = 0;
        for (long[] weekday : template) {
            most = Math.max(most, Long.bitCount(weekday[0] & people));
        }
        return most;
    }

    private int day(LocalDate date) {
        long d = date.toEpochDay() - order.start().toEpochDay();
        return (int) Math.max(-1_000_000, Math.min(1_000_000, d));
    }

    LocalDate date(int day) {
        return order.start().plusDays(day);
    }

    int weekday(int day) {
        return (startWeekday + day) % 7;
    }

    /** Everybody who works on the day. */
    long present(int day) {
        return template[weekday(day)][0] & ~off[day];
    }

    /** Everybody who works in the slot's quarter hour. */
    long present(int day, int quarter) {
        return template[weekday(day)][quarter] & ~off[day];
    }

    /** Quarters until the last one goes home. */
    int length(int day) {
        return dayLength[weekday(day)];
    }

    /** First slot in which a job may be worked on, given the ends (exclusive slots) of those before it. */
    int readyFrom(int j, int[] ends) {
        int ready = earliest[j] * DAY;
        for (int b : before[j]) {
            if (ends[b] == NEVER) {
                return NEVER;
            }
            ready = Math.max(ready, wait[j] == 0 ? ends[b] : ((ends[b] - 1) / DAY + wait[j]) * DAY);
        }
        return ready;
    }

    static int[] never(int n) {
        int[] result = new int[n];
        Arrays.fill(result, NEVER);
        return result;
    }
}
