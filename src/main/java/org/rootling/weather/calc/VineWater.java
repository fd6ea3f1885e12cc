package org.rootling.weather.calc;

/**
 * Published figures of the grapevine's use of water.
 *
 * <p>Source: FAO Irrigation and Drainage Paper 56 (1998), Table 22, p. 165.
 */
public final class VineWater {
    /** Fraction of the total available water that wine grapes take without stress, at about 5 mm a day. */
    public static final double DEPLETION_FRACTION = 0.45;

    /** Least of the range of largest rooting depths of wine grapes, m. */
    public static final double ROOT_DEPTH_LOW_M = 1.0;

    /** Most of that range, m. */
    public static final double ROOT_DEPTH_HIGH_M = 2.0;

    private VineWater() {}
}
