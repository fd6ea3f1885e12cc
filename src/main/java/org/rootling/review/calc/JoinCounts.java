package org.rootling.review.calc;

import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Whether dead vines stand together: join counts of a two-coloured map (A. D. Cliff and J. K. Ord, Spatial Processes,
 * 1981; moments by P. A. P. Moran, 1948, Biometrika 35:255-260), black for dead and white for alive.
 *
 * @param vines vines alive or dead
 * @param dead the dead ones among them
 * @param along joins to the next place in the row
 * @param across joins to the place beside in the next row
 * @param both all joins
 * @param permuted whether the chances are from permutations; otherwise from the moments
 */
public record JoinCounts(int vines, int dead, Direction along, Direction across, Direction both, boolean permuted) {

    /** Permutations for the chance of such a cluster. */
    public static final int PERMUTATIONS = 999;

    /** Dead vines placed over all permutations before the exact moments take over: about half a second's work. */
    private static final long PERMUTATION_LIMIT = 20_000_000;

    /** The same where the normal distribution is as good: some hundredths of a second. */
    private static final long NORMAL_LIMIT = 1_000_000;

    /** So many dead pairs expected, their number is as good as normal: common practice, no source. */
    private static final double MANY_PAIRS = 50;

    /**
     * Joins in one direction.
     *
     * <p>Expectations and variances are non-free: the number of dead vines is given, their places are random.
     *
     * @param joins pairs of neighbours
     * @param bb both dead
     * @param bw one dead
     * @param ww both alive
     * @param clusteredP chance of as many dead pairs or more if the dead stood anywhere; from permutations
     *     {@code (count + 1) / (999 + 1)}, or from the moments and the normal distribution where there are too many dead
     *     to permute; 1 where there is nothing to judge
     */
    public record Direction(
            long joins,
            long bb,
            long bw,
            long ww,
            Moments bbMoments,
            Moments bwMoments,
            Moments wwMoments,
            double clusteredP) {}

    /** Expectation and variance of a count under random placing. */
    public record Moments(double expected, double variance) {
        /** Standard deviation. */
        public double spread() {
            return Math.sqrt(variance);
        }
    }

    /** Counts and test of a stand; the same seed gives the same p. */
    public static JoinCounts of(Stand stand, long seed) {
        int dead = 0;
        for (boolean d : stand.dead()) {
            dead += d ? 1 : 0;
        }
        Counter along = new Counter(stand, true, false);
        Counter across = new Counter(stand, false, true);
        Counter both = new Counter(stand, true, true);
        boolean something = dead > 1 && dead < stand.size();
        double fewest = Math.min(along.same(dead).expected(), across.same(dead).expected());
        long work = (long) dead * PERMUTATIONS;
        boolean permute = work <= (fewest < MANY_PAIRS ? PERMUTATION_LIMIT : NORMAL_LIMIT);
        double[] p = {1, 1, 1};
        if (something && permute) {
            p = permuted(stand, dead, along.bb, across.bb, seed);
        }
        return new JoinCounts(
                stand.size(),
                dead,
                along.direction(dead, something && !permute ? null : p[0]),
                across.direction(dead, something && !permute ? null : p[1]),
                both.direction(dead, something && !permute ? null : p[2]),
                permute);
    }

    private static double[] permuted(Stand stand, int dead, long along, long across, long seed) {
        var random = new SplittableRandom(seed);
        int n = stand.size();
        int[] vines = new int[n];
        for (int i = 0; i < n; i++) {
            vines[i] = i;
        }
        boolean[] marked = new boolean[n];
        int[] asMany = new int[3];
        int[] next = stand.next();
        int[] beside = stand.beside();
        for (int round = 0; round < PERMUTATIONS; round++) {
            for (int i = 0; i < dead; i++) {
                int j = i + random.nextInt(n - i);
                int chosen = vines[j];
                vines[j] = vines[i];
                vines[i] = chosen;
                marked[chosen] = true;
            }
            long a = 0;
            long c = 0;
            for (int i = 0; i < dead; i++) {
                int vine = vines[i];
                a += next[vine] != Stand.NOBODY && marked[next[vine]] ? 1 : 0;
                c += beside[vine] != Stand.NOBODY && marked[beside[vine]] ? 1 : 0;
            }
            for (int i = 0; i < dead; i++) {
                marked[vines[i]] = false;
            }
            asMany[0] += a >= along ? 1 : 0;
            asMany[1] += c >= across ? 1 : 0;
            asMany[2] += a + c >= along + across ? 1 : 0;
        }
        double[] p = new double[3];
        for (int i = 0; i < 3; i++) {
            p[i] = (asMany[i] + 1.0) / (PERMUTATIONS + 1.0);
        }
        return p;
    }

    private static final class Counter {
        private final int n;
        private long joins;
        private long bb;
        private long bw;
        /** Pairs of joins that share a vine. */
        private final long touching;

        Counter(Stand stand, boolean along, boolean across) {
            n = stand.size();
            int[] degree = new int[n];
            boolean[] dead = stand.dead();
            for (int i = 0; i < n; i++) {
                if (along) {
                    join(i, stand.next()[i], dead, degree);
                }
                if (across) {
                    join(i, stand.beside()[i], dead, degree);
                }
            }
            long pairs = 0;
            for (int k : degree) {
                pairs += (long) k * (k - 1) / 2;
            }
            touching = pairs;
        }

        private void join(int i, int j, boolean[] dead, int[] degree) {
            if (j != Stand.NOBODY) {
                joins++;
                degree[i]++;
                degree[j]++;
                bb += dead[i] && dead[j] ? 1 : 0;
                bw += dead[i] != dead[j] ? 1 : 0;
            }
        }

        Direction direction(int black, @Nullable Double p) {
            int white = n - black;
            Moments blacks = same(black);
            double chance = p != null ? p : normal(blacks);
            return new Direction(
                    joins,
                    bb,
                    bw,
                    joins - bb - bw,
                    blacks,
                    different(black, white),
                    same(white),
                    joins == 0 ? 1 : chance);
        }

        /** With half a count of continuity. */
        private double normal(Moments m) {
            return m.variance() > 0
                    ? NormalDistribution.of(0, 1)
                            .survivalProbability((bb - 0.5 - m.expected()) / Math.sqrt(m.variance()))
                    : 1;
        }

        private Moments same(double m) {
            double two = m * (m - 1) / falling(2);
            double three = m * (m - 1) * (m - 2) / falling(3);
            double four = m * (m - 1) * (m - 2) * (m - 3) / falling(4);
            return moments(joins * two, two, three, four);
        }

        private Moments different(double b, double w) {
            double two = 2 * b * w / falling(2);
            double three = b * w * (b + w - 2) / falling(3);
            double four = 4 * b * (b - 1) * w * (w - 1) / falling(4);
            return moments(joins * two, two, three, four);
        }

        /** Chances that one join, two touching joins and two apart all are of the kind. */
        private Moments moments(double expected, double one, double touchingBoth, double apartBoth) {
            double ordered = 2.0 * touching;
            double apart = (double) joins * (joins - 1) - ordered;
            double variance = joins * one + ordered * touchingBoth + apart * apartBoth - expected * expected;
            return new Moments(expected, Math.max(0, variance));
        }

        /** n (n - 1) ... of so many factors; 1 instead of 0, where the chances above are 0 as well. */
        private double falling(int factors) {
            double product = 1;
            for (int i = 0; i < factors; i++) {
                product *= n - i;
            }
            return product > 0 ? product : 1;
        }
    }
}
