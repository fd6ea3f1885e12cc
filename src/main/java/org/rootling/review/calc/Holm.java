package org.rootling.review.calc;

import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Holm's step-down correction for many comparisons (S. Holm, 1979, Scand. J. Stat. 6:65-70): holds the chance of even
 * one false alarm at the level asked for, whatever the tests share.
 */
public final class Holm {

    private Holm() {}

    /** Corrected p values in the order given, each at least its uncorrected one and at most 1. */
    public static double[] correct(double... p) {
        int m = p.length;
        int[] order = IntStream.range(0, m)
                .boxed()
                .sorted(Comparator.comparingDouble(i -> p[i]))
                .mapToInt(Integer::intValue)
                .toArray();
        double[] corrected = new double[m];
        double soFar = 0;
        for (int rank = 0; rank < m; rank++) {
            soFar = Math.max(soFar, Math.min(1, (m - rank) * p[order[rank]]));
            corrected[order[rank]] = soFar;
        }
        return corrected;
    }
}
