package org.rootling.training.calc;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.rootling.weather.calc.SoilBucket;
import org.rootling.weather.calc.VineWater;

/**
 * The water account of a young vine: a bucket as deep as its roots and as wide as the ground it drinks from, day by day.
 * The balance is FAO-56's (Allen, Pereira, Raes, Smith 1998, equations 82 to 88, by way of {@link SoilBucket}); how fast a
 * vine of the first year roots and how much it drinks are rules of thumb, see {@link Vine#YOUNG}.
 */
public final class YoungVineWater {

    private YoungVineWater() {}

    /**
     * How a young vine roots and drinks.
     *
     * @param startDepthM rooting depth at planting, m
     * @param endDepthM rooting depth after {@code depthDays}, m
     * @param startKc crop coefficient over its own ground at planting
     * @param endKc the same after {@code kcDays}
     * @param depletionFraction share of the store that is had without stress
     */
    public record Vine(
            double startDepthM,
            double endDepthM,
            int depthDays,
            double startKc,
            double endKc,
            int kcDays,
            double depletionFraction) {

        /**
         * Roots from 0.30 to 0.60 m in 150 days: common practice, no source. Kc 0.30 at planting (FAO-56 Table 12, wine
         * grapes, initial) to 0.45 after 120 days over its own ground: rule of thumb, no source; a full vineyard's 0.70
         * is never reached in the first year. Depletion fraction 0.45: FAO-56 Table 22.
         */
        public static final Vine YOUNG = new Vine(0.30, 0.60, 150, 0.30, 0.45, 120, VineWater.DEPLETION_FRACTION);

        public double depthM(long day) {
            return between(startDepthM, endDepthM, depthDays, day);
        }

        public double kc(long day) {
            return between(startKc, endKc, kcDays, day);
        }

        private static double between(double start, double end, int days, long day) {
            if (days <= 0 || day >= days) {
                return end;
            }
            return day <= 0 ? start : start + (end - start) * day / days;
        }
    }

    /** Water held by the soil, m³/m³. */
    public record Soil(double fieldCapacity, double wiltingPoint) {
        public Soil {
            if (!(wiltingPoint >= 0 && fieldCapacity > wiltingPoint && fieldCapacity < 1)) {
                throw new IllegalArgumentException("field capacity must lie above wilting point, both within 0 to 1");
            }
        }
    }

    /** A day's rain, reference evapotranspiration and watering, all in mm over the vine's ground. */
    public record Day(LocalDate date, double rainMm, double et0Mm, double wateringMm, boolean forecast) {}

    /**
     * The account at the end of a day.
     *
     * @param depletionMm missing to field capacity, mm
     * @param totalMm store between field capacity and wilting point, mm
     * @param readilyMm part of it that is had without stress, mm
     */
    public record State(LocalDate date, double depletionMm, double totalMm, double readilyMm, boolean forecast) {

        /** Share of the easily had water that is left, 0 to 1. */
        public double left() {
            return Math.max(0, 1 - depletionMm / readilyMm);
        }

        /** Whether the vine begins to lack water. */
        public boolean low() {
            return depletionMm >= readilyMm;
        }

        /** Litres that fill the ground of one vine: 1 mm on 1 m² is 1 litre. */
        public double litresToFill(double groundM2) {
            return depletionMm * groundM2;
        }
    }

    /**
     * Runs the account.
     *
     * @param startDepletionMm missing at the beginning of the first day; 0 after watering in
     * @param days without gaps, in order
     */
    public static List<State> run(Vine vine, Soil soil, LocalDate plantedOn, double startDepletionMm, List<Day> days) {
        List<State> states = new ArrayList<>(days.size());
        double depletion = startDepletionMm;
        for (Day day : days) {
            long age = ChronoUnit.DAYS.between(plantedOn, day.date());
            double total = SoilBucket.totalAvailableMm(soil.fieldCapacity(), soil.wiltingPoint(), vine.depthM(age));
            double p = vine.depletionFraction();
            depletion = SoilBucket.day(depletion, total, p, day.rainMm(), day.wateringMm(), vine.kc(age) * day.et0Mm())
                    .depletionMm();
            states.add(
                    new State(day.date(), depletion, total, SoilBucket.readilyAvailableMm(total, p), day.forecast()));
        }
        return states;
    }

    /** The first day from {@code from} on at whose end water runs low. */
    public static Optional<LocalDate> runsLow(List<State> states, LocalDate from) {
        return states.stream()
                .filter(s -> !s.date().isBefore(from) && s.low())
                .map(State::date)
                .findFirst();
    }
}
