package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.apache.commons.statistics.inference.TTest;
import org.jspecify.annotations.Nullable;

/**
 * How fast the vines of a block grow, and which rows stay behind.
 *
 * @param pace cm a day of each vine between its last two looks; null with fewer than {@link #FEWEST} such vines
 * @param weeks by week since the first look
 * @param behind rows shorter than all others together beyond chance, shortest first
 * @param rowsCompared rows with enough vines to be compared
 */
public record Growth(@Nullable Sample pace, List<Week> weeks, List<RowBehind> behind, int rowsCompared) {

    /** Looks nearer together than this many days tell more of the ruler than of the vine: common practice, no source. */
    public static final int APART = 4;

    /** Fewer vines measured twice say nothing about the next: common practice, no source. */
    public static final int FEWEST = 5;

    private static final int FEWEST_IN_ROW = 3;
    private static final double LEVEL = 0.05;

    public Growth {
        weeks = List.copyOf(weeks);
        behind = List.copyOf(behind);
    }

    /**
     * A measurement.
     *
     * @param day days since any fixed day
     * @param cm height of the longest shoot, cm
     */
    public record Look(int day, int cm) {}

    /** A vine with its looks of one season, in the order of days. */
    public record Vine(int row, List<Look> looks) {
        public Vine {
            looks = List.copyOf(looks);
        }

        public Look last() {
            return looks.get(looks.size() - 1);
        }
    }

    /**
     * Mean growth in one week.
     *
     * @param firstDay first of its seven days
     * @param vines that were measured before and after, if only for a part of it
     * @param cm mean growth in seven days, each vine's growth spread evenly over the days between its looks
     */
    public record Week(int firstDay, int vines, double cm) {}

    /**
     * A row that stays behind.
     *
     * @param mean mean height in cm, brought to the day of the last look by the mean pace
     * @param others the same of all other rows together
     * @param p two-sided p of Welch's t test, after Holm's correction over all rows compared
     */
    public record RowBehind(int row, int vines, double mean, double others, double p) {}

    public static Growth of(List<Vine> vines) {
        List<Vine> seen = vines.stream().filter(v -> !v.looks().isEmpty()).toList();
        double[] paces = seen.stream()
                .mapToDouble(Growth::pace)
                .filter(p -> !Double.isNaN(p))
                .toArray();
        Sample pace = paces.length < FEWEST ? null : Sample.of(paces);
        return rows(seen, pace);
    }

    /** cm a day between the last look and the latest one at least {@link #APART} days before it; NaN without. */
    private static double pace(Vine vine) {
        Look last = vine.last();
        for (int i = vine.looks().size() - 2; i >= 0; i--) {
            Look before = vine.looks().get(i);
            if (last.day() - before.day() >= APART) {
                return (double) (last.cm() - before.cm()) / (last.day() - before.day());
            }
        }
        return Double.NaN;
    }

    private static List<Week> weeks(List<Vine> vines) {
        int first = vines.stream().mapToInt(v -> v.looks().get(0).day()).min().orElse(0);
        Map<Integer, double[]> weeks = new TreeMap<>();
        for (Vine vine : vines) {
            Map<Integer, double[]> mine = new HashMap<>();
            for (int i = 1; i < vine.looks().size(); i++) {
                Look from = vine.looks().get(i - 1);
                Look to = vine.looks().get(i);
                double rate = (double) (to.cm() - from.cm()) / (to.day() - from.day());
                for (int week = (from.day() - first) / 7; first + 7 * week < to.day(); week++) {
                    int start = first + 7 * week;
                    int days = Math.min(to.day(), start + 7) - Math.max(from.day(), start);
                    double[] sum = mine.computeIfAbsent(week, w -> new double[2]);
                    sum[0] += rate * days;
                    sum[1] += days;
                }
            }
            mine.forEach((week, sum) -> {
                double[] all = weeks.computeIfAbsent(week, w -> new double[3]);
                all[0] += sum[0];
                all[1] += sum[1];
                all[2]++;
            });
        }
        List<Week> lines = new ArrayList<>();
        weeks.forEach((week, sum) -> lines.add(new Week(first + 7 * week, (int) sum[2], 7 * sum[0] / sum[1])));
        return lines;
    }

    private static Growth rows(List<Vine> vines, @Nullable Sample pace) {
        int lastDay = vines.stream().mapToInt(v -> v.last().day()).max().orElse(0);
        double perDay = pace == null ? 0 : pace.mean();
        Map<Integer, List<Double>> byRow = new TreeMap<>();
        for (Vine vine : vines) {
            byRow.computeIfAbsent(vine.row(), r -> new ArrayList<>())
                    .add(vine.last().cm() + perDay * (lastDay - vine.last().day()));
        }
        double[] whole = new double[3];
        byRow.values().forEach(heights -> heights.forEach(h -> add(whole, h)));
        List<RowBehind> compared = new ArrayList<>();
        byRow.forEach((row, heights) -> {
            double[] here = new double[3];
            heights.forEach(h -> add(here, h));
            double[] rest = {whole[0] - here[0], whole[1] - here[1], whole[2] - here[2]};
            if (here[0] >= FEWEST_IN_ROW && rest[0] >= FEWEST_IN_ROW) {
                Sample mine = sample(here);
                Sample others = sample(rest);
                compared.add(new RowBehind(row, mine.n(), mine.mean(), others.mean(), welch(mine, others)));
            }
        });
        double[] corrected =
                Holm.correct(compared.stream().mapToDouble(RowBehind::p).toArray());
        List<RowBehind> behind = new ArrayList<>();
        for (int i = 0; i < corrected.length; i++) {
            RowBehind row = compared.get(i);
            if (corrected[i] < LEVEL && row.mean() < row.others()) {
                behind.add(new RowBehind(row.row(), row.vines(), row.mean(), row.others(), corrected[i]));
            }
        }
        behind.sort(java.util.Comparator.comparingDouble(RowBehind::mean));
        return new Growth(pace, weeks(vines), behind, compared.size());
    }

    private static void add(double[] sums, double value) {
        sums[0]++;
        sums[1] += value;
        sums[2] += value * value;
    }

    /** Sums of heights up to 500 cm: the difference of squares loses nothing that counts. */
    private static Sample sample(double[] sums) {
        double mean = sums[1] / sums[0];
        double variance = Math.max(0, (sums[2] - sums[0] * mean * mean) / (sums[0] - 1));
        return new Sample((int) sums[0], mean, variance < 1e-9 ? 0 : variance);
    }

    /** Welch's t test (B. L. Welch, 1947, Biometrika 34:28-35). */
    static double welch(Sample a, Sample b) {
        if (a.variance() == 0 && b.variance() == 0) {
            return a.mean() == b.mean() ? 1 : 0;
        }
        return TTest.withDefaults()
                .test(a.mean(), a.variance(), a.n(), b.mean(), b.variance(), b.n())
                .getPValue();
    }
}
