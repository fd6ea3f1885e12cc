package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.function.IntPredicate;
import org.jspecify.annotations.Nullable;

/**
 * Plays a season many times, day by day: the weather, people who do not come and the true length of each job are drawn; the
 * jobs are then worked on in the wanted order by whoever is there. The weather of a day is that of a whole recorded day about
 * the same date of a random year, and the days after it follow the record for a number of days that is geometric, so that
 * spells last about as long as they did (the stationary bootstrap; Politis and Romano, <i>J. Am. Stat. Assoc.</i> 89 (1994)
 * 1303–1313, from memory). The same seed gives the same seasons, and every draw hangs on the season and on what it is about
 * (a date, a person, a job) rather than on the order of drawing, so that two inputs are compared in the same seasons (common
 * random numbers; Law, <i>Simulation Modeling and Analysis</i>, ch. 11, from memory).
 */
public final class SeasonSimulation {
    /** Seasons that are not done by then count as never. */
    public static final int MOST_DAYS = 730;

    /** What the draws of the weather are about. */
    private static final long WEATHER = 0x5bd1e995L;

    private static final long SPELL = 0x1b873593L;

    private final SeasonInput in;
    private final int n;
    private final int[][] before;
    private final long[] able;
    private final int[] tool;
    private final int[] wait;
    private final int[] least;
    private final int[] most;
    private final int[] earliest;
    private final boolean[] outdoors;
    private final double[][] hours;
    private final boolean[][] off;
    /** By job, what the weather takes from it; shared between those that stand the same. */
    private final Lost[] lost;

    /** By day of the season, the recorded days it may turn out like: places in the record. */
    private final int[][] like;

    /** By place in the record, the place of the day after. */
    private final int[] next;

    /** Chance that a day does not follow the record from the day before. */
    private final double anew;

    private final int startWeekday;
    private final long[] jobKey;
    private final long[] stepKey;
    private final long[] workerKey;

    /**
     * The answer.
     *
     * @param lots by lot: chance that all its jobs are done by its run-out day
     * @param finish days after the start on which the seasons were done, sorted; {@link #MOST_DAYS} is never
     * @param lotFinish the same by lot
     * @param seasons how many were played; fewer than asked for when stopped
     */
    public record Result(
            LocalDate start,
            Map<String, Double> lots,
            List<Integer> finish,
            Map<String, List<Integer>> lotFinish,
            int seasons) {
        /** The date by which a share of the seasons was done; null if fewer ever were. */
        public @Nullable LocalDate reached(double share) {
            return reached(finish, share);
        }

        /** The date by which a lot was planted in a share of the seasons. */
        public @Nullable LocalDate reached(String lot, double share) {
            return reached(lotFinish.getOrDefault(lot, List.of()), share);
        }

        private @Nullable LocalDate reached(List<Integer> days, double share) {
            if (days.isEmpty()) {
                return null;
            }
            int day = days.get(Math.min(days.size(), (int) Math.ceil(share * days.size())) - 1);
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
        wait = new int[n];
        least = new int[n];
        most = new int[n];
        earliest = new int[n];
        outdoors = new boolean[n];
        lost = new Lost[n];
        like = RecordedDays.like(in.start(), MOST_DAYS, in.weather().recorded());
        next = RecordedDays.next(in.weather().recorded());
        anew = 1 / in.weather().follow();
        Map<String, Lost> losses = new HashMap<>();
        jobKey = new long[n];
        stepKey = new long[n];
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
            wait[j] = job.waitDays();
            least[j] = job.minPeople();
            most[j] = Math.max(job.minPeople(), job.maxPeople());
            earliest[j] = job.earliest() == null ? 0 : day(job.earliest());
            outdoors[j] = job.outdoors();
            SeasonInput.Losses own = in.weather().ofSteps().get(job.step());
            lost[j] = losses.computeIfAbsent(
                    own == null ? "" : job.step(),
                    k -> lost(own == null ? in.weather().usual() : own));
            jobKey[j] = mix(job.id().hashCode());
            stepKey[j] = mix(job.step().hashCode() + (1L << 40));
        }
        startWeekday = in.start().getDayOfWeek().getValue() - 1;
        int people = in.workers().size();
        hours = new double[7][people];
        off = new boolean[people][MOST_DAYS];
        workerKey = new long[people];
        for (int w = 0; w < people; w++) {
            SeasonInput.Worker worker = in.workers().get(w);
            for (DayOfWeek d : DayOfWeek.values()) {
                hours[d.getValue() - 1][w] = worker.hours().getOrDefault(d, 0.0);
            }
            for (LocalDate day : worker.daysOff()) {
                int d = day(day);
                if (d >= 0 && d < MOST_DAYS) {
                    off[w][d] = true;
                }
            }
            workerKey[w] = mix(worker.id().hashCode() + (2L << 40));
        }
    }

    /**
     * Which days are lost to some kind of work.
     *
     * @param recorded by place in the record
     * @param foretold by day of the season; null where no forecast tells
     */
    @SuppressWarnings("ArrayRecordComponent")
    private record Lost(boolean[] recorded, @Nullable Boolean[] foretold) {
        /** Whether it is lost, where a day turns out like a recorded one; -1 is a day like none, on which all can work. */
        boolean on(int day, int recordedDay) {
            Boolean told = foretold[day];
            return told == null ? recordedDay >= 0 && recorded[recordedDay] : told;
        }
    }

    private Lost lost(SeasonInput.Losses losses) {
        List<LocalDate> days = in.weather().recorded();
        boolean[] recorded = new boolean[days.size()];
        for (int i = 0; i < recorded.length; i++) {
            recorded[i] = losses.recorded().contains(days.get(i));
        }
        @Nullable Boolean[] foretold = new Boolean[MOST_DAYS];
        losses.foretold().forEach((date, isLost) -> {
            int d = day(date);
            if (d >= 0 && d < MOST_DAYS) {
                foretold[d] = isLost;
            }
        });
        return new Lost(recorded, foretold);
    }

    private int day(LocalDate date) {
        long d = date.toEpochDay() - in.start().toEpochDay();
        return (int) Math.max(-1, Math.min(MOST_DAYS, d));
    }

    /** Plays the seasons. At most 64 workers. */
    public static Result run(SeasonInput input, int seasons, long seed) {
        return run(input, seasons, seed, played -> true);
    }

    /**
     * Plays the seasons. At most 64 workers.
     *
     * @param goOn told how many were played, now and then; false stops
     */
    public static Result run(SeasonInput input, int seasons, long seed, IntPredicate goOn) {
        if (input.workers().size() > WorkOrder.MOST_HELPERS) {
            throw new IllegalArgumentException("more than 64 workers");
        }
        SeasonSimulation simulation = new SeasonSimulation(input);
        int[] finish = new int[seasons];
        Map<String, int[]> lots = new TreeMap<>();
        Map<String, Integer> inTime = new TreeMap<>();
        input.jobs().forEach(j -> {
            if (j.lot() != null) {
                lots.put(j.lot(), new int[seasons]);
                inTime.put(j.lot(), 0);
            }
        });
        int[] ends = new int[simulation.n];
        int played = 0;
        while (played < seasons) {
            finish[played] = simulation.play(mix(seed * 1_000_003L + played), ends);
            simulation.readLots(played, ends, lots, inTime);
            played++;
            if (played % 50 == 0 && !goOn.test(played)) {
                break;
            }
        }
        int count = played;
        Map<String, Double> chances = new TreeMap<>();
        inTime.forEach((lot, good) -> chances.put(lot, (double) good / count));
        Map<String, List<Integer>> lotFinish = new TreeMap<>();
        lots.forEach((lot, days) -> lotFinish.put(lot, sorted(days, count)));
        return new Result(input.start(), chances, sorted(finish, count), lotFinish, count);
    }

    private static List<Integer> sorted(int[] days, int count) {
        int[] part = Arrays.copyOf(days, count);
        Arrays.sort(part);
        return Arrays.stream(part).boxed().toList();
    }

    private void readLots(int season, int[] ends, Map<String, int[]> lots, Map<String, Integer> inTime) {
        Map<String, Boolean> good = new HashMap<>();
        for (int j = 0; j < n; j++) {
            SeasonInput.Work job = in.jobs().get(j);
            if (job.lot() == null) {
                continue;
            }
            int[] days = lots.get(job.lot());
            if (days != null) {
                days[season] = Math.max(days[season], ends[j]);
            }
            boolean intime = ends[j] < MOST_DAYS
                    && (job.runsOut() == null || !in.start().plusDays(ends[j]).isAfter(job.runsOut()));
            good.merge(job.lot(), intime, Boolean::logicalAnd);
        }
        good.forEach((lot, g) -> inTime.merge(lot, g ? 1 : 0, Integer::sum));
    }

    /** Spreads the bits of a number (variant 13 of Stafford's mixers, as in SplittableRandom). */
    private static long mix(long z) {
        z = (z ^ (z >>> 30)) * 0xbf58476d1ce4e5b9L;
        z = (z ^ (z >>> 27)) * 0x94d049bb133111ebL;
        return z ^ (z >>> 31);
    }

    /** A number in [0, 1) that hangs on the season and what it is about. */
    private static double draw(long season, long about, int day) {
        return (mix(mix(season ^ about) + day * 0x9e3779b97f4a7c15L) >>> 11) * 0x1.0p-53;
    }

    private static double gaussian(long season, long about) {
        return new SplittableRandom(season ^ about).nextGaussian();
    }

    /** The place in the record of the weather of a day, after that of the day before; -1 where there is none like it. */
    private int weather(long season, int day, int before) {
        int follows = before < 0 || draw(season, SPELL, day) < anew ? -1 : next[before];
        int[] days = like[day];
        return follows >= 0 || days.length == 0 ? follows : days[(int) (draw(season, WEATHER, day) * days.length)];
    }

    /** One season; fills in the end day of each job and returns the last. */
    private int play(long season, int[] ends) {
        double[] rest = new double[n];
        for (int j = 0; j < n; j++) {
            SeasonInput.Work job = in.jobs().get(j);
            double hoursHere = job.medianHours();
            if (job.logSd() > 0) {
                // Half of the variance is the step's error in this season, half the job's own.
                double z = (gaussian(season, stepKey[j]) + gaussian(season, jobKey[j])) / Math.sqrt(2);
                hoursHere *= Math.exp(job.logSd() * z);
            }
            rest[j] = hoursHere;
        }
        Arrays.fill(ends, MOST_DAYS);
        int[] open = new int[n];
        Arrays.setAll(open, j -> j);
        int left = n;
        double[] free = new double[workerKey.length];
        double[] toolFree = new double[in.tools().size()];
        int last = 0;
        int weather = -1;
        for (int day = 0; day < MOST_DAYS && left > 0; day++) {
            // One recorded day for all work, so that each step meets the rain, cold and wind of the same day.
            weather = weather(season, day, weather);
            int weekday = (startWeekday + day) % 7;
            double longest = 0;
            double sum = 0;
            for (int w = 0; w < free.length; w++) {
                double h = off[w][day] ? 0 : hours[weekday][w];
                free[w] = h > 0 && draw(season, workerKey[w], day) >= in.noShow() ? h : 0;
                longest = Math.max(longest, free[w]);
                sum += free[w];
            }
            if (longest == 0) {
                continue;
            }
            for (int t = 0; t < toolFree.length; t++) {
                toolFree[t] = longest * in.tools().get(t).count();
            }
            int stay = 0;
            int i = 0;
            for (; i < left && sum > 1e-9; i++) {
                int j = open[i];
                if (!(outdoors[j] && lost[j].on(day, weather)) && day >= earliest[j] && ready(j, day, ends)) {
                    double spent = work(j, longest, rest[j], free, toolFree);
                    rest[j] -= spent;
                    sum -= spent;
                    if (rest[j] < 1e-9) {
                        ends[j] = day;
                        last = day;
                        continue;
                    }
                }
                open[stay++] = j;
            }
            System.arraycopy(open, i, open, stay, left - i);
            left = stay + left - i;
        }
        return left == 0 ? last : MOST_DAYS;
    }

    private boolean ready(int j, int day, int[] ends) {
        for (int b : before[j]) {
            if (ends[b] == MOST_DAYS || day < ends[b] + wait[j]) {
                return false;
            }
        }
        return true;
    }

    /** Hours put into a job today by those with most time left, each no longer than its tool is free. */
    private double work(int j, double longest, double need, double[] free, double[] toolFree) {
        double limit = tool[j] >= 0 ? Math.min(longest, toolFree[tool[j]]) : longest;
        if (limit <= 1e-9 || (least[j] > 1 && there(j, free) < least[j])) {
            return 0;
        }
        double spent = 0;
        long used = 0;
        for (int k = 0; k < most[j] && need - spent > 1e-9; k++) {
            int best = -1;
            for (int w = 0; w < free.length; w++) {
                if (((able[j] >> w) & 1) == 1
                        && ((used >> w) & 1) == 0
                        && free[w] > 1e-9
                        && (best < 0 || free[w] > free[best])) {
                    best = w;
                }
            }
            if (best < 0) {
                break;
            }
            double h = Math.min(Math.min(free[best], limit), need - spent);
            free[best] -= h;
            spent += h;
            used |= 1L << best;
        }
        if (tool[j] >= 0) {
            toolFree[tool[j]] -= spent / Math.max(1, Math.min(most[j], Long.bitCount(able[j])));
        }
        return spent;
    }

    private int there(int j, double[] free) {
        int count = 0;
        for (int w = 0; w < free.length; w++) {
            if (((able[j] >> w) & 1) == 1 && free[w] > 1e-9) {
                count++;
            }
        }
        return count;
    }
}
