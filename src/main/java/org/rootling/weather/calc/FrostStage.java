package org.rootling.weather.calc;

/**
 * How much frost green parts bear at each stage, °C, as warning levels. Two published tables disagree from late swell
 * on (the temperature one gives for 10 % damage the other gives for 50 %), and the air at the vine may be colder than
 * at the thermometer: so these are levels to warn at, never promises.
 *
 * <p>Sources: Snyder and de Melo-Abreu, Frost protection, FAO 2005, vol. 1 Table 4.8 (Concord), read in a copy; Michigan
 * State University table, read in a copy.
 */
public enum FrostStage {
    FIRST_SWELL(-10.6, -19.4, 13),
    LATE_SWELL(-6.1, -12.2, 26),
    BUD_BURST(-3.9, -8.9, 28),
    FIRST_LEAF(-2.8, -6.1, 28.5),
    SECOND_LEAF(-2.2, -5.6, 29),
    THIRD_LEAF(-2.2, -3.3, 28),
    FOURTH_LEAF(-2.2, -2.8, 28);

    private final double tenPercentC;
    private final double ninetyPercentC;
    private final double cautiousC;

    FrostStage(double tenPercentC, double ninetyPercentC, double cautiousF) {
        this.tenPercentC = tenPercentC;
        this.ninetyPercentC = ninetyPercentC;
        this.cautiousC = (cautiousF - 32) / 1.8;
    }

    /** Where the FAO table puts 10 % damage, °C. */
    public double tenPercentC() {
        return tenPercentC;
    }

    /** Where the FAO table puts 90 % damage, °C. */
    public double ninetyPercentC() {
        return ninetyPercentC;
    }

    /** Where the other table puts the first damage, °C; warmer than or about equal to {@link #tenPercentC}. */
    public double cautiousC() {
        return Math.max(cautiousC, tenPercentC);
    }

    /** How a night looks. The order is from calm to grave. */
    public enum Warning {
        NONE,
        /** Near the first damage of the more cautious table. */
        WATCH,
        /** Some damage likely. */
        DAMAGE,
        /** Heavy damage likely. */
        HEAVY
    }

    /**
     * The warning for a night.
     *
     * @param lowC lowest air temperature recorded or foretold, °C
     * @param marginC how much colder it may be at the vine than at the thermometer, K
     */
    public Warning warning(double lowC, double marginC) {
        double atVine = lowC - marginC;
        if (atVine <= ninetyPercentC) {
            return Warning.HEAVY;
        }
        if (atVine <= tenPercentC) {
            return Warning.DAMAGE;
        }
        return atVine <= cautiousC() ? Warning.WATCH : Warning.NONE;
    }
}
