package org.rootling.review.calc;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How heights are spread, in cm; the classes are whole numbers of cm or of inches (1 in = 2.54 cm by definition).
 *
 * @param vines how many were measured, at least 1
 * @param deviation sample standard deviation; 0 for one vine
 * @param quarter a quarter of the vines is below it; quartiles are interpolated between neighbours (R. J. Hyndman and Y.
 *     Fan, 1996, Am. Stat. 50:361-365, definition 7)
 * @param median half of the vines are below it
 * @param threeQuarters three quarters of the vines are below it
 * @param scale unit of the classes
 * @param bin width of a class in that unit; a class holds its lower bound
 * @param firstBin lower bound of the first class in that unit
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
        Scale scale,
        int bin,
        int firstBin,
        List<Integer> counts) {

    /** What the classes are counted in. */
    public enum Scale {
        CENTIMETRE(1),
        INCH(2.54);

        private final double cm;

        Scale(double cm) {
            this.cm = cm;
        }

        /** A height in cm in this unit. */
        public double of(double heightCm) {
            return heightCm / cm;
        }
    }

    private static final int[] CENTIMETRES = {5, 10, 20, 50, 100};
    private static final int[] INCHES = {2, 4, 8, 20, 40};
    private static final int MOST_BINS = 16;

    public HeightSpread {
        counts = List.copyOf(counts);
    }

    /** Lower bound of a class in its unit, counted from 0. */
    public int from(int index) {
        return firstBin + index * bin;
    }

    /** What a class is written up to: its last whole centimetre, or the inch that it ends below. */
    public int to(int index) {
        return from(index + 1) - (scale == Scale.CENTIMETRE ? 1 : 0);
    }

    /** The spread of these heights with classes in cm; null where there are none. */
    public static @Nullable HeightSpread of(List<Integer> heightsCm) {
        return of(heightsCm, Scale.CENTIMETRE);
    }

    /** The spread of these heights; null where there are none. */
    public static @Nullable HeightSpread of(List<Integer> heightsCm, Scale scale) {
        if (heightsCm.isEmpty()) {
            return null;
        }
        int[] sorted = heightsCm.stream().mapToInt(Integer::intValue).sorted().toArray();
        Sample sample = Sample.of(Arrays.stream(sorted).asDoubleStream().toArray());
        int least = sorted[0];
        int most = sorted[sorted.length - 1];
        int[] widths = scale == Scale.INCH ? INCHES : CENTIMETRES;
        int bin = widths[widths.length - 1];
        for (int width : widths) {
            if (index(most, scale, width) - index(least, scale, width) < MOST_BINS) {
                bin = width;
                break;
            }
        }
        int first = index(least, scale, bin);
        Integer[] counts = new Integer[index(most, scale, bin) - first + 1];
        Arrays.fill(counts, 0);
        for (int height : sorted) {
            counts[index(height, scale, bin) - first]++;
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
                scale,
                bin,
                first * bin,
                List.of(counts));
    }

    private static int index(int heightCm, Scale scale, int width) {
        return (int) Math.floor(scale.of(heightCm) / width + 1e-9);
    }

    private static double quantile(int[] sorted, double share) {
        double at = share * (sorted.length - 1);
        int below = (int) at;
        int above = Math.min(below + 1, sorted.length - 1);
        return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
    }
}
