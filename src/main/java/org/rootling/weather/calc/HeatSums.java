package org.rootling.weather.calc;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashSet;
import java.util.Set;

/** Heat sums of days and seasons. Temperatures in °C, sums in °C·day. */
public final class HeatSums {
    /** Base of the Winkler and Huglin sums, °C. */
    public static final double BASE = 10;

    private HeatSums() {}

    /** What is done with a highest temperature above the cut. Source: PMC7581921, Table 3. */
    public enum UpperCut {
        /** It counts as it is. */
        NONE,
        /** It counts as the cut. */
        LEVEL,
        /** It counts as far below the cut as it lies above. */
        MIRRORED
    }

    /**
     * A sum over a season.
     *
     * @param sum °C·day of the days known
     * @param days how many were known
     * @param outOf how many days of the season have passed or are known
     */
    public record Sum(double sum, int days, int outOf) {
        /** Days that were left out for lack of a record. */
        public int missing() {
            return outOf - days;
        }
    }

    /** Degree days of one day: mean of the extremes over a base, never below 0 (after Amerine and Winkler 1944). */
    public static double degreeDays(double lowC, double highC, double baseC) {
        return Math.max(0, (lowC + highC) / 2 - baseC);
    }

    /** Degree days of one day with an upper cut on the highest temperature. */
    public static double degreeDays(double lowC, double highC, double baseC, double cutC, UpperCut cut) {
        double high = highC;
        if (highC > cutC && cut != UpperCut.NONE) {
            high = cut == UpperCut.LEVEL ? cutC : cutC - (highC - cutC);
        }
        return degreeDays(Math.min(lowC, high), high, baseC);
    }

    /** The Winkler sum of the days that fall in a season's span, up to a day. */
    public static Sum winkler(Collection<WeatherDay> days, Span season, LocalDate upTo) {
        double sum = 0;
        Set<LocalDate> seen = new HashSet<>();
        for (WeatherDay day : days) {
            if (season.has(day.date()) && !day.date().isAfter(upTo) && seen.add(day.date())) {
                sum += degreeDays(day.lowC(), day.highC(), BASE);
            }
        }
        return new Sum(sum, seen.size(), season.daysUntil(upTo));
    }

    /** Huglin's heat of one day without the factor of day length: mean of (mean - 10) and (highest - 10), from 0. */
    public static double huglinDay(double meanC, double highC) {
        return Math.max(0, (meanC - BASE + (highC - BASE)) / 2);
    }

    /** The Huglin index of the days that fall in a season's span, up to a day. Source: Huglin 1978. */
    public static Sum huglin(Collection<WeatherDay> days, Span season, LocalDate upTo, double latitudeDeg) {
        double sum = 0;
        Set<LocalDate> seen = new HashSet<>();
        for (WeatherDay day : days) {
            if (season.has(day.date()) && !day.date().isAfter(upTo) && seen.add(day.date())) {
                sum += huglinDay(day.meanC(), day.highC());
            }
        }
        return new Sum(sum * huglinK(latitudeDeg), seen.size(), season.daysUntil(upTo));
    }

    /**
     * Huglin's factor of day length by steps: 1.00 up to and at 40 degrees, then 1.02, 1.03, 1.04, 1.05, 1.06 for each
     * two degrees up to 50, each step's upper latitude belonging to it. Some publications print 1.02 at exactly 40.
     * Above 50 it is not defined; here 1.06 is kept and {@link #huglinDefined} says so. Source: documentation of the
     * xclim library after Huglin 1978.
     */
    public static double huglinK(double latitudeDeg) {
        double lat = Math.abs(latitudeDeg);
        if (lat <= 40) {
            return 1.00;
        }
        int step = (int) Math.ceil((Math.min(lat, 50) - 40) / 2);
        return 1.01 + 0.01 * step;
    }

    /** Huglin's factor of day length as a straight line: 1 + 0.06 (latitude - 40) / 10 between 40 and 50 degrees. */
    public static double huglinKInterpolated(double latitudeDeg) {
        double lat = Math.max(40, Math.min(50, Math.abs(latitudeDeg)));
        return 1 + 0.06 * (lat - 40) / 10;
    }

    /** Whether Huglin's factor is defined at a latitude. */
    public static boolean huglinDefined(double latitudeDeg) {
        return Math.abs(latitudeDeg) <= 50;
    }
}
