package org.rootling.weather.calc;

/**
 * Soils by texture, with water held at field capacity and wilting point, m³/m³. The values are the middles of the
 * published ranges; a bed or block may state its own.
 *
 * <p>Source: FAO Irrigation and Drainage Paper 56 (1998), Table 19, p. 144.
 */
public enum SoilType {
    SAND(0.07, 0.17, 0.02, 0.07),
    LOAMY_SAND(0.11, 0.19, 0.03, 0.10),
    SANDY_LOAM(0.18, 0.28, 0.06, 0.16),
    LOAM(0.20, 0.30, 0.07, 0.17),
    SILT_LOAM(0.22, 0.36, 0.09, 0.21),
    SILT(0.28, 0.36, 0.12, 0.22),
    SILTY_CLAY_LOAM(0.30, 0.37, 0.17, 0.24),
    SILTY_CLAY(0.30, 0.42, 0.17, 0.29),
    CLAY(0.32, 0.40, 0.20, 0.24);

    private final double fieldCapacityLow;
    private final double fieldCapacityHigh;
    private final double wiltingPointLow;
    private final double wiltingPointHigh;

    SoilType(double fieldCapacityLow, double fieldCapacityHigh, double wiltingPointLow, double wiltingPointHigh) {
        this.fieldCapacityLow = fieldCapacityLow;
        this.fieldCapacityHigh = fieldCapacityHigh;
        this.wiltingPointLow = wiltingPointLow;
        this.wiltingPointHigh = wiltingPointHigh;
    }

    /** Middle of the range at field capacity, m³/m³. */
    public double fieldCapacity() {
        return (fieldCapacityLow + fieldCapacityHigh) / 2;
    }

    /** Middle of the range at wilting point, m³/m³. */
    public double wiltingPoint() {
        return (wiltingPointLow + wiltingPointHigh) / 2;
    }
}
