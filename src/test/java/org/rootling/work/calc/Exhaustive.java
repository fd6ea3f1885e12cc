package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Finds the least weighted late days, and among those the earliest finish, by trying every way to put
 * people on jobs in every quarter hour. Only for very small orders.
 */
final class Exhaustive {
    private final WorkOrder order;
    private final int horizon;
    private final Map<String, Long> seen = new HashMap<>();
    static final long NONE = Long.MAX_VALUE / 4;

    private Exhaustive(WorkOrder order, int horizon) {
        this.order = order;
        this.horizon = horizon;
    }

    /** Weighted late days times 1000 plus the finish day (from 0); {@link #NONE} if not within the days. */
    static long best(WorkOrder order, int horizon) {
        int n = order.jobs().size();
        int[] rest = order.jobs().stream().mapToInt(Job::quarters).toArray();
        int[] done = new int[n];
        Arrays.fill(done, -1);
        return new Exhaustive(order, horizon).from(0, 0, rest, done);
    }

    private long from(int day, int quarter, int[] rest, int[] done) {
        if (Arrays.stream(rest).allMatch(r -> r == 0)) {
            long late = 0;
            int finish = 0;
            for (int j = 0; j < done.length; j++) {
                int d = done[j] / 64;
                finish = Math.max(finish, d);
                LocalDate due = order.jobs().get(j).due();
                if (due != null) {
                    late += order.jobs().get(j).weight()
                            * Math.max(0, order.start().plusDays(d).toEpochDay() - due.toEpochDay());
                }
            }
            return late * 1000 + finish;
        }
        LocalDate date = order.start().plusDays(day);
        int length =
                order.helpers().stream().mapToInt(h -> h.quartersOn(date)).max().orElse(0);
        if (quarter >= length) {
            return day + 1 >= horizon ? NONE : from(day + 1, 0, rest, done);
        }
        // On later days only the day of an end matters, not its quarter.
        int[] ends = Arrays.stream(done)
                .map(d -> d >= 0 && d / 64 < day ? d / 64 * 64 : d)
                .toArray();
        String key = day + "/" + quarter + Arrays.toString(rest) + Arrays.toString(ends);
        Long known = seen.get(key);
        if (known != null) {
            return known;
        }
        List<Helper> here = order.helpers().stream()
                .filter(h -> h.quartersOn(date) > quarter)
                .toList();
        List<int[]> crews = new ArrayList<>();
        assign(0, here, new int[rest.length], rest, done, day, quarter, crews);
        long best = NONE;
        for (int[] crew : crews) {
            int[] nextRest = rest.clone();
            int[] nextDone = done.clone();
            for (int j = 0; j < crew.length; j++) {
                nextRest[j] -= crew[j];
                if (crew[j] > 0 && nextRest[j] == 0) {
                    nextDone[j] = day * 64 + quarter;
                }
            }
            best = Math.min(best, from(day, quarter + 1, nextRest, nextDone));
        }
        seen.put(key, best);
        return best;
    }

    private void assign(
            int h, List<Helper> here, int[] crew, int[] rest, int[] done, int day, int quarter, List<int[]> into) {
        if (h == here.size()) {
            if (allowed(crew) && into.stream().noneMatch(c -> Arrays.equals(c, crew))) {
                into.add(crew.clone());
            }
            return;
        }
        assign(h + 1, here, crew, rest, done, day, quarter, into);
        for (int j = 0; j < crew.length; j++) {
            Job job = order.jobs().get(j);
            boolean skilled = job.skill() == null || here.get(h).skills().contains(job.skill());
            if (skilled && crew[j] < Math.min(rest[j], job.maxPeople()) && open(job, done, day, quarter)) {
                crew[j]++;
                assign(h + 1, here, crew, rest, done, day, quarter, into);
                crew[j]--;
            }
        }
    }

    private boolean open(Job job, int[] done, int day, int quarter) {
        if (job.earliest() != null && order.start().plusDays(day).isBefore(job.earliest())) {
            return false;
        }
        for (String b : job.after()) {
            int i = 0;
            while (!order.jobs().get(i).id().equals(b)) {
                i++;
            }
            if (done[i] < 0) {
                return false;
            }
            if (job.waitDays() == 0 ? done[i] >= day * 64 + quarter : day < done[i] / 64 + job.waitDays()) {
                return false;
            }
        }
        return true;
    }

    private boolean allowed(int[] crew) {
        Map<String, Integer> tools = new HashMap<>();
        for (int j = 0; j < crew.length; j++) {
            Job job = order.jobs().get(j);
            if (crew[j] > 0) {
                if (crew[j] < job.minPeople()) {
                    return false;
                }
                if (job.tool() != null) {
                    tools.merge(job.tool(), 1, Integer::sum);
                }
            }
        }
        return order.tools().stream().allMatch(t -> tools.getOrDefault(t.id(), 0) <= t.count());
    }
}
