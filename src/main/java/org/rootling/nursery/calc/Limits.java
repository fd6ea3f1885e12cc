package org.rootling.nursery.calc;

import org.jspecify.annotations.Nullable;
import org.rootling.weather.calc.HeatSums;

/**
 * What a kind of store allows. A part that is null does not apply there.
 *
 * @param days weighted days of waiting, null where days do not count
 * @param warmth degree days until buds move
 * @param dryness how long or how far it may dry out between waterings
 */
public record Limits(
        @Nullable Double days,
        @Nullable WarmthLimit warmth,
        @Nullable DryLimit dryness) {

    public Limits {
        if (days != null && !(days > 0)) {
            throw new IllegalArgumentException("days must be above 0");
        }
    }

    /** The simple form that needs no weather: so many days in all, water at least every so many days. */
    public static Limits simple(@Nullable Double days, @Nullable Double wateringDays) {
        return new Limits(days, null, wateringDays == null ? null : new DryLimit.Interval(wateringDays));
    }

    /**
     * Degree days until buds move.
     *
     * @param baseC base temperature, °C
     * @param upperCutC temperatures above this count as this, °C; null for no cut
     * @param degreeDays the sum allowed, °C·day
     * @param storeC the store's own set temperature, °C, which then takes the place of the weather; null outdoors
     */
    public record WarmthLimit(
            double baseC,
            @Nullable Double upperCutC,
            double degreeDays,
            @Nullable Double storeC) {

        public WarmthLimit {
            if (!(degreeDays > 0)) {
                throw new IllegalArgumentException("degreeDays must be above 0");
            }
        }

        /** Degree days of one day, never below 0; a lowest temperature above the cut counts as the cut too. */
        double ofDay(double lowC, double highC) {
            double cut = upperCutC == null ? Double.POSITIVE_INFINITY : upperCutC;
            return HeatSums.degreeDays(lowC, highC, baseC, cut, HeatSums.UpperCut.LEVEL);
        }
    }
}
