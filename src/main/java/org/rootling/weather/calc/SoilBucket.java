package org.rootling.weather.calc;

/**
 * The water balance of a rooted soil layer, day by day, all in mm of water over the bed.
 *
 * <p>Source: Allen, Pereira, Raes, Smith, FAO Irrigation and Drainage Paper 56 (1998), chapter 8, equations 82 to 88.
 *
 * <p><b>Timing rule.</b> The paper's Example 38 lets a day's early watering drain before that day's evapotranspiration
 * (17 mm percolate), while equation 88 as printed subtracts the evapotranspiration first (about 11 mm). This class
 * follows the example: rain and watering come first and what exceeds field capacity drains; then the stress coefficient
 * is taken from the depletion that is left; then the crop's use is added.
 */
public final class SoilBucket {

    private SoilBucket() {}

    /**
     * The outcome of one day.
     *
     * @param stress stress coefficient Ks, 0 to 1 (equation 84)
     * @param usedMm evapotranspiration adjusted for stress, mm
     * @param percolationMm water that drained below the roots, mm
     * @param depletionMm depletion at the end of the day, mm below field capacity
     */
    public record Day(double stress, double usedMm, double percolationMm, double depletionMm) {}

    /**
     * Total available water, equation 82.
     *
     * @param fieldCapacity water content at field capacity, m³/m³
     * @param wiltingPoint water content at wilting point, m³/m³
     * @param rootDepthM rooting depth, m
     * @return mm
     */
    public static double totalAvailableMm(double fieldCapacity, double wiltingPoint, double rootDepthM) {
        return 1000 * (fieldCapacity - wiltingPoint) * rootDepthM;
    }

    /** Readily available water in mm, equation 83: the fraction {@code p} of the total that is had without stress. */
    public static double readilyAvailableMm(double totalMm, double p) {
        return p * totalMm;
    }

    /**
     * The depletion fraction adjusted for the day's demand, Table 22 note 2: p + 0.04 (5 - ETc).
     *
     * @param tableP the table's fraction, for an ETc of about 5 mm a day
     * @param etcMm the crop's evapotranspiration, mm a day
     * @return kept within 0.1 to 0.8 (the limits are from memory)
     */
    public static double adjustedFraction(double tableP, double etcMm) {
        return Math.max(0.1, Math.min(0.8, tableP + 0.04 * (5 - etcMm)));
    }

    /** Stress coefficient Ks, equation 84: 1 until the readily available water is gone, then falling to 0. */
    public static double stress(double depletionMm, double totalMm, double p) {
        if (depletionMm <= p * totalMm) {
            return 1;
        }
        return Math.max(0, (totalMm - depletionMm) / ((1 - p) * totalMm));
    }

    /**
     * One day of the balance by the timing rule above.
     *
     * @param depletionMm depletion at the start of the day
     * @param totalMm total available water
     * @param p depletion fraction
     * @param rainMm rain less run-off
     * @param wateringMm watering
     * @param demandMm the crop's evapotranspiration without stress (Kc times reference)
     */
    public static Day day(
            double depletionMm, double totalMm, double p, double rainMm, double wateringMm, double demandMm) {
        double watered = depletionMm - rainMm - wateringMm;
        double percolation = Math.max(0, -watered);
        double start = Math.max(0, watered);
        double ks = stress(start, totalMm, p);
        double end = Math.min(totalMm, start + ks * demandMm);
        return new Day(ks, end - start, percolation, end);
    }

    /** The depletion at the end of {@link #day} alone, for long runs. */
    public static double depletionAfter(double depletionMm, double totalMm, double p, double waterMm, double demandMm) {
        double start = Math.max(0, depletionMm - waterMm);
        return Math.min(totalMm, start + stress(start, totalMm, p) * demandMm);
    }
}
