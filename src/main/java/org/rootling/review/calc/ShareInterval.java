package org.rootling.review.calc;

import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.interval.BinomialConfidenceInterval;

/**
 * A share of vines alive with its two-sided confidence interval, all three between 0 and 1.
 *
 * <p>Wilson's score interval (E. B. Wilson, 1927, J. Am. Stat. Assoc. 22:209-212): it stays within 0 and 1 and keeps
 * its meaning when every vine or none is alive, where the usual plus-minus interval collapses to a point.
 *
 * @param share alive divided by planted
 * @param low lower bound
 * @param high upper bound
 */
public record ShareInterval(double share, double low, double high) {

    /** Wider than this many parts of one, an interval tells little: common practice, no source. */
    private static final double WIDE = 0.20;

    /**
     * The interval for {@code alive} of {@code planted} vines.
     *
     * @param alive vines alive, 0 to {@code planted}
     * @param planted vines planted, at least 1
     * @param confidence two-sided confidence level, above 0 and below 1
     */
    public static ShareInterval wilson(int alive, int planted, double confidence) {
        if (planted < 1 || alive < 0 || alive > planted) {
            throw new IllegalArgumentException(alive + " alive of " + planted + " planted");
        }
        if (!(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("confidence " + confidence);
        }
        var interval = BinomialConfidenceInterval.WILSON_SCORE.fromErrorRate(planted, alive, 1 - confidence);
        return new ShareInterval((double) alive / planted, interval.getLowerBound(), interval.getUpperBound());
    }

    /**
     * The same for vines drawn at random from a finite number, none twice: Wilson's interval with the sample taken as so
     * much larger as its variance is smaller by (N - n) / (N - 1) (W. G. Cochran, Sampling Techniques, 1977, chapter 3).
     * Where all were looked at, nothing is left to chance.
     *
     * @param alive vines alive, 0 to {@code looked}
     * @param looked vines looked at, 1 to {@code vines}
     * @param vines vines there are
     * @param confidence two-sided confidence level, above 0 and below 1
     */
    public static ShareInterval ofFinite(int alive, int looked, int vines, double confidence) {
        if (looked < 1 || alive < 0 || alive > looked || looked > vines || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException(
                    alive + " alive of " + looked + " looked at of " + vines + ", confidence " + confidence);
        }
        double share = (double) alive / looked;
        if (looked == vines) {
            return new ShareInterval(share, share, share);
        }
        double n = looked * (vines - 1.0) / (vines - looked);
        double z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - confidence) / 2);
        double part = z * z / n;
        double middle = (share + part / 2) / (1 + part);
        double half = z / (1 + part) * Math.sqrt(share * (1 - share) / n + part / (4 * n));
        return new ShareInterval(share, Math.max(0, middle - half), Math.min(1, middle + half));
    }

    /** Whether the numbers are so small that the share says little: the interval spans more than 20 points. */
    public boolean smallNumbers() {
        return high - low > WIDE;
    }
}
