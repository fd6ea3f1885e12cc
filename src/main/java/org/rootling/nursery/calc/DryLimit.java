package org.rootling.nursery.calc;

/** How drying out is measured. Every placing counts as watered: vines go in moist (common practice, no source). */
public sealed interface DryLimit {

    /**
     * Days between waterings.
     *
     * @param days the longest interval
     */
    record Interval(double days) implements DryLimit {
        public Interval {
            positive(days, "days");
        }
    }

    /**
     * Hours since roots were last wetted, for a shed without soil. As days are recorded, a day counts 24 hours.
     *
     * @param hours the longest time
     */
    record Hours(double hours) implements DryLimit {
        public Hours {
            positive(hours, "hours");
        }
    }

    /**
     * A bed of soil by FAO-56: it has dried out when the readily available water is used.
     *
     * @param totalMm total available water in the rooted layer, mm
     * @param p fraction of it that is readily available
     * @param factor bed's use of water as a share of reference evapotranspiration (Kc)
     * @param rainReaches whether rain falls on it
     */
    record Bucket(double totalMm, double p, double factor, boolean rainReaches) implements DryLimit {
        public Bucket {
            positive(totalMm, "totalMm");
            positive(factor, "factor");
            if (!(p > 0 && p < 1)) {
                throw new IllegalArgumentException("p must lie between 0 and 1");
            }
        }

        /** Readily available water, mm. */
        public double allowedMm() {
            return p * totalMm;
        }
    }

    private static void positive(double value, String name) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " must be above 0");
        }
    }
}
