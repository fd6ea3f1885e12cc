package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * How many vines to look at, and which, so that the share alive is known as well as wanted.
 *
 * @param vines vines there are
 * @param size vines to look at
 * @param picks which, in the order of the rows
 */
public record SamplingPlan(int vines, int size, List<Pick> picks) {

    public SamplingPlan {
        picks = List.copyOf(picks);
    }

    /**
     * A vine to look at.
     *
     * @param row index of the row in the list given
     * @param vine which vine of that row, counted from 1 over those that stand there
     */
    public record Pick(int row, int vine) {}

    /**
     * Vines to look at for a share within plus or minus {@code margin}: the finite-population size of W. G. Cochran,
     * Sampling Techniques (1977), chapter 4, the same that R. V. Krejcie and D. W. Morgan (1970) tabulate, rounded up.
     *
     * @param vines vines there are, 0 or more
     * @param confidence level, above 0 and below 1
     * @param margin half width wanted, above 0 and at most 0.5
     * @param expectedShare share thought to be alive; 0.5 asks for most and is right when nothing is known
     */
    public static int size(int vines, double confidence, double margin, double expectedShare) {
        if (vines < 0
                || !(confidence > 0 && confidence < 1)
                || !(margin > 0 && margin <= 0.5)
                || !(expectedShare > 0 && expectedShare < 1)) {
            throw new IllegalArgumentException("vines " + vines + ", confidence " + confidence + ", margin " + margin
                    + ", share " + expectedShare);
        }
        if (vines == 0) {
            return 0;
        }
        double z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - confidence) / 2);
        double endless = z * z * expectedShare * (1 - expectedShare) / (margin * margin);
        double size = endless / (1 + (endless - 1) / vines);
        return (int) Math.max(1, Math.min(vines, Math.ceil(size - 1e-9)));
    }

    /**
     * Picks {@code size} vines at random, spread over the rows: the vines in row order are cut into as many stretches of
     * equal length as vines are wanted, and one is drawn in each, so that no part of the block is left out.
     *
     * @param vinesInRow vines standing in each row
     * @param seed the same seed picks the same vines again
     */
    public static SamplingPlan pick(List<Integer> vinesInRow, int size, long seed) {
        long all = vinesInRow.stream().mapToLong(Integer::longValue).sum();
        if (size < 0 || size > all) {
            throw new IllegalArgumentException(size + " of " + all + " vines");
        }
        var random = new SplittableRandom(seed);
        List<Pick> picks = new ArrayList<>(size);
        int row = 0;
        long before = 0;
        for (int i = 0; i < size; i++) {
            long from = all * i / size;
            long to = all * (i + 1) / size;
            long chosen = from + random.nextLong(to - from);
            while (chosen - before >= vinesInRow.get(row)) {
                before += vinesInRow.get(row++);
            }
            picks.add(new Pick(row, (int) (chosen - before) + 1));
        }
        return new SamplingPlan(Math.toIntExact(all), size, picks);
    }
}
