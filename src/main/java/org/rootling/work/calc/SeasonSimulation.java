package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Plays a season many times, day by day: lost days, people who do not come and the true length of each
 * job are drawn; the jobs are then worked on in the wanted order by whoever is there. The same seed
 * gives the same seasons, so two inputs can be compared draw by draw.
 */
public final class SeasonSimulation {
    /** Seasons that are not done by then count as never. */
    public static final int MOST_DAYS = 730;

    private final SeasonInput in;
    private final int n;
    private final int[][] before;
    private final long[] able;
    private final int[] tool;
    private final double[][] hours;
    private final Map<String, Integer> steps = new HashMap<>();

    /**
     * The answer.
     *
     * @param lots by lot: chance that all its jobs are done by its run-out day
     * @param finish days after the start on which the seasons were done, sorted; {@link #MOST_DAYS} is never
     */
    public record Result(LocalDate start, Map<String, Double> lots, List<Integer> finish) {
        /** The date by which a share of the seasons was done; null if fewer ever were. */
        public @Nullable LocalDate reached(double share) {
            int day = finish.get(Math.min(finish.size(), (int) Math.ceil(share * finish.size())) - 1);
            return day >= MOST_DAYS ? null : start.plusDays(day);
        }

        /** Mean days after the start. */
        public double meanDays() {
            return finish.stream().mapToInt(d -> d).average().orElse(0);
        }
    }

    private SeasonSimulation(SeasonInput in) {
        this.in = in;
        n = in.jobs().size();
        Map<String, Integer> index = new HashMap<>();
        in.jobs().forEach(j -> index.put(j.id(), index.size()));
        before = new int[n][];
        able = new long[n];
        tool = new int[n];
        for (int j = 0; j < n; j++) {
            SeasonInput.Work job = in.jobs().get(j);
            before[j] = job.after().stream()
                    .filter(index::containsKey)
                    .mapToInt(index::get)
                    .toArray();
            for (int w = 0; w < in.workers().size(); w++) {
                if (job.skill() == null || in.workers().get(w).skills().contains(job.skill())) {
                    able[j] |= 1L << w;
                }
            }
            tool[j] = -1;
            for (int t = 0; t < in.tools().size(); t++) {
                if (in.tools().get(t).id().equals(job.tool())) {
                    tool[j] = t;
                }
            }
            steps.putIfAbsent(job.step(), steps.size());
        }
        hours = new double[7][in.workers().size()];
        for (DayOfWeek d : DayOfWeek.values()) {
            for (int w = 0; w < in.workers().size(); w++) {
                hours[d.getValue() - 1][w] = in.workers().get(w).hours().getOrDefault(d, 0.0);
            }
        }
    }

    /** Plays the seasons. At most 64 workers. */
    public static Result run(SeasonInput input, int seasons, long seed) {
        if (input.workers().size() > WorkOrder.MOST_HELPERS) {
            throw new IllegalArgumentException("more than 64 workers");
        }
        SeasonSimulation simulation = new SeasonSimulation(input);
        int[] finish = new int[seasons];
        Map<String, Integer> inTime = new TreeMap<>();
        input.jobs().forEach(j -> {
            if (j.lot() != null) {
                inTime.put(j.lot(), 0);
            }
        });
        int[] ends = new int[simulation.n];
        for (int s = 0; s < seasons; s++) {
            finish[s] = simulation.play(new SplittableRandom(seed * 1_000_003L + s), ends);
            Map<String, Boolean> lots = new HashMap<>();
            for (int j = 0; j < simulation.n; j++) {
                SeasonInput.Work job = input.jobs().get(j);
                if (job.lot() != null) {
                    boolean good = ends[j] < MOST_DAYS
                            && (job.runsOut() == null
                                    || !input.start().plusDays(ends[j]).isAfter(job.runsOut()));
                    lots.merge(job.lot(), good, Boolean::logicalAnd);
                }
            }
            lots.forEach((lot, good) -> inTime.merge(lot, good ? 1 : 0, Integer::sum));
        }
        Arrays.sort(finish);
        Map<String, Double> chances = new TreeMap<>();
        inTime.forEach((lot, count) -> chances.put(lot, (double) count / seasons));
        return new Result(input.start(), chances, Arrays.stream(finish).boxed().toList());
    }

    /** One season; fills in the end day of each job and returns the last. */
    private int play(SplittableRandom random, int[] ends) {
        double[] rest = new double[n];
        double[] stepError = new double[steps.size()];
        for (int s = 0; s < stepError.length; s++) {
            stepError[s] = random.nextGaussian();
        }
        for (int j = 0; j < n; j++) {
            SeasonInput.Work job = in.jobs().get(j);
            // Half of the variance is the step's error in this season, half the job's own.
            double z = (stepError[steps.getOrDefault(job.step(), 0)] + random.nextGaussian()) / Math.sqrt(2);
            rest[j] = job.medianHours() * Math.exp(job.logSd() * z);
        }
        Arrays.fill(ends, MOST_DAYS);
        List<Integer> open = new ArrayList<>();
        for (int j = 0; j < n; j++) {
            open.add(j);
        }
        double[] left = new double[in.workers().size()];
        double[] toolLeft = new double[in.tools().size()];
        int last = 0;
        // Weather and people have streams of their own, so that a change to one leaves the other alone.
        SplittableRandom weather = random.split();
        SplittableRandom people = random.split();
        for (int day = 0; day < MOST_DAYS && !open.isEmpty(); day++) {
            LocalDate date = in.start().plusDays(day);
            boolean lost = weather.nextDouble() < in.lostDay().get(date.getMonthValue() - 1);
            double longest = 0;
            for (int w = 0; w < left.length; w++) {
                boolean comes = people.nextDouble() >= in.noShow();
                left[w] = comes && !in.workers().get(w).daysOff().contains(date)
                        ? hours[date.getDayOfWeek().getValue() - 1][w]
                        : 0;
                longest = Math.max(longest, left[w]);
            }
            if (longest == 0) {
                continue;
            }
            for (int t = 0; t < toolLeft.length; t++) {
                toolLeft[t] = longest * in.tools().get(t).count();
            }
            last = Math.max(last, workDay(day, date, lost, longest, open, rest, left, toolLeft, ends));
        }
        return open.isEmpty() ? last : MOST_DAYS;
    }

    private int workDay(
            int day,
            LocalDate date,
            boolean lost,
            double longest,
            List<Integer> open,
            double[] rest,
            double[] left,
            double[] toolLeft,
            int[] ends) {
        int last = 0;
        for (int i = 0; i < open.size(); i++) {
            int j = open.get(i);
            SeasonInput.Work job = in.jobs().get(j);
            if ((lost && job.outdoors())
                    || (job.earliest() != null && date.isBefore(job.earliest()))
                    || !ready(j, day, ends)) {
                continue;
            }
            double limit = longest;
            if (tool[j] >= 0) {
                limit = Math.min(limit, toolLeft[tool[j]]);
            }
            double spent = crew(j, job.maxPeople(), limit, rest[j], left);
            rest[j] -= spent;
            if (tool[j] >= 0) {
                toolLeft[tool[j]] -= spent / Math.max(1, Math.min(job.maxPeople(), Long.bitCount(able[j])));
            }
            if (rest[j] < 1e-9) {
                ends[j] = day;
                last = day;
                open.remove(i--);
            }
        }
        return last;
    }

    private boolean ready(int j, int day, int[] ends) {
        for (int b : before[j]) {
            if (ends[b] == MOST_DAYS || day < ends[b] + in.jobs().get(j).waitDays()) {
                return false;
            }
        }
        return true;
    }

    /** Hours put into a job today by those with most time left, each no longer than the limit. */
    private double crew(int j, int most, double limit, double need, double[] left) {
        double spent = 0;
        long used = 0;
        for (int k = 0; k < most && need - spent > 1e-9; k++) {
            int best = -1;
            for (int w = 0; w < left.length; w++) {
                if (((able[j] >> w) & 1) == 1
                        && ((used >> w) & 1) == 0
                        && left[w] > 1e-9
                        && (best < 0 || left[w] > left[best])) {
                    best = w;
                }
            }
            if (best < 0) {
                break;
            }
            double hours = Math.min(Math.min(left[best], limit), need - spent);
            left[best] -= hours;
            spent += hours;
            used |= 1L << best;
        }
        return spent;
    }
}
