package org.rootling.review.calc;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How heights are spread, in cm.
 *
 * @param vines how many were measured, at least 1
 * @param deviation sample standard deviation; 0 for one vine
 * @param quarter a quarter of the vines is below it; quartiles are interpolated between neighbours (R. J. Hyndman and Y.
 *     Fan, 1996, Am. Stat. 50:361-365, definition 7)
 * @param median half of the vines are below it
 * @param threeQuarters three quarters of the vines are below it
 * @param binCm width of a class; a class holds its lower bound
 * @param firstBinCm lower bound of the first class
 * @param counts vines of each class, from the first that has one to the last
 */
public record HeightSpread(
        int vines,
        double mean,
        double deviation,
        int least,
        double quarter,
        double median,
        double threeQuarters,
        int most,
        int binCm,
        int firstBinCm,
        List<Integer> counts) {

    private static final int[] BINS = {5, 10, 20, 50, 100};
    private static final int MOST_BINS = 16;

    public HeightSpread {
        counts = List.copyOf(counts);
    }

    /** The spread of these heights; null where there are none. */
    public static @Nullable HeightSpread of(List<Integer> heightsCm) {
        if (heightsCm.isEmpty()) {
            return null;
        }
        int[] sorted = heightsCm.stream().mapToInt(Integer::intValue).sorted().toArray();
        Sample sample = Sample.of(Arrays.stream(sorted).asDoubleStream().toArray());
        int least = sorted[0];
        int most = sorted[sorted.length - 1];
        int bin = BINS[BINS.length - 1];
        for (int width : BINS) {
            if (most / width - least / width < MOST_BINS) {
                bin = width;
                break;
            }
        }
        Integer[] counts = new Integer[most / bin - least / bin + 1];
        Arrays.fill(counts, 0);
        for (int height : sorted) {
            counts[height / bin - least / bin]++;
        }
        return new HeightSpread(
                sorted.length,
                sample.mean(),
                sample.deviation(),
                least,
                quantile(sorted, 0.25),
                quantile(sorted, 0.5),
                quantile(sorted, 0.75),
                most,
                bin,
                least / bin * bin,
                List.of(counts));
    }

    private static double quantile(int[] sorted, double share) {
        double at = share * (sorted.length - 1);
        int below = (int) at;
        int above = Math.min(below + 1, sorted.length - 1);
        return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
    }
}
