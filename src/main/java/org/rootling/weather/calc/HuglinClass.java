package org.rootling.weather.calc;

/**
 * Climates by Huglin index, °C·day: above the lower limit up to and with the upper.
 *
 * <p>Source: plantct.com, Huglin index, after Tonietto and Carbonneau.
 */
public enum HuglinClass {
    VERY_COOL("HI-3", Double.NEGATIVE_INFINITY, 1500),
    COOL("HI-2", 1500, 1800),
    TEMPERATE("HI-1", 1800, 2100),
    TEMPERATE_WARM("HI+1", 2100, 2400),
    WARM("HI+2", 2400, 3000),
    VERY_WARM("HI+3", 3000, Double.POSITIVE_INFINITY);

    private final String code;
    private final double lower;
    private final double upper;

    HuglinClass(String code, double lower, double upper) {
        this.code = code;
        this.lower = lower;
        this.upper = upper;
    }

    /** The published short name. */
    public String code() {
        return code;
    }

    /** Lower limit, not in the class, °C·day. */
    public double lower() {
        return lower;
    }

    /** Upper limit, in the class, °C·day. */
    public double upper() {
        return upper;
    }

    /** The class of an index. */
    public static HuglinClass of(double index) {
        for (HuglinClass c : values()) {
            if (index <= c.upper) {
                return c;
            }
        }
        return VERY_WARM;
    }
}
