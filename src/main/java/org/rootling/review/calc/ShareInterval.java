package org.rootling.review.calc;

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

    /** Whether the numbers are so small that the share says little: the interval spans more than 20 points. */
    public boolean smallNumbers() {
        return high - low > WIDE;
    }
}
