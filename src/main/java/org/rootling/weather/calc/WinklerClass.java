package org.rootling.weather.calc;

/**
 * Regions by Winkler sum, °C·day. A sum equal to a limit belongs to the warmer class, save that 2700 is still V.
 *
 * <p>Source: Oxford Companion to Wine, "California heat summation", after Jones et al. 2010 and Anderson et al.
 */
public enum WinklerClass {
    TOO_COOL(0, 850),
    IA(850, 1111),
    IB(1111, 1389),
    II(1389, 1667),
    III(1667, 1944),
    IV(1944, 2222),
    V(2222, 2700),
    TOO_HOT(2700, Double.POSITIVE_INFINITY);

    private final double lower;
    private final double upper;

    WinklerClass(double lower, double upper) {
        this.lower = lower;
        this.upper = upper;
    }

    /** Lower limit, °C·day. */
    public double lower() {
        return lower;
    }

    /** Upper limit, °C·day. */
    public double upper() {
        return upper;
    }

    /** The class of a sum. */
    public static WinklerClass of(double sum) {
        for (WinklerClass c : values()) {
            if (sum < c.upper || (c == V && sum <= c.upper)) {
                return c;
            }
        }
        return TOO_HOT;
    }
}
