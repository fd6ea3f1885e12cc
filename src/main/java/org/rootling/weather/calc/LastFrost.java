package org.rootling.weather.calc;

import java.util.Arrays;
import java.util.Collection;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;

/**
 * The last frost of spring by probability. A date at 10 % means: in one year of ten there is frost on a later day.
 * Years without any frost count as years; their share lowers the chance of frost after any date (two-part
 * distribution).
 *
 * <p>Sources: exceedance as in climate-service tables; ratio of years after the Midwestern Regional Climate Center;
 * the normal fit (mean + z · SD) and 1 - (1 - P)^n from memory.
 */
public final class LastFrost {

    private LastFrost() {}

    /**
     * The day after which frost came in at most the given share of the years.
     *
     * @param lastDays day number of each year's last frost (any common origin); null for a year without frost
     * @param chance chance of a later frost, 0 to 1
     * @return empty without years, or if even the earliest frost day is not needed to keep to the chance
     */
    public static OptionalInt byYears(Collection<@Nullable Integer> lastDays, double chance) {
        int years = lastDays.size();
        int[] sorted = lastDays.stream()
                .filter(d -> d != null)
                .mapToInt(Integer::intValue)
                .sorted()
                .toArray();
        int later = (int) Math.floor(chance * years + 1e-9);
        int index = sorted.length - 1 - later;
        return index < 0 ? OptionalInt.empty() : OptionalInt.of(sorted[index]);
    }

    /**
     * The same by a normal distribution fitted to the years with frost; needs three of them.
     *
     * @return day number, fractional
     */
    public static OptionalDouble byNormal(Collection<@Nullable Integer> lastDays, double chance) {
        double[] days = lastDays.stream()
                .filter(d -> d != null)
                .mapToDouble(Integer::doubleValue)
                .toArray();
        if (days.length < 3) {
            return OptionalDouble.empty();
        }
        double mean = Arrays.stream(days).average().orElseThrow();
        double square = Arrays.stream(days).map(d -> (d - mean) * (d - mean)).sum();
        double sd = Math.sqrt(square / (days.length - 1));
        double among = chance * lastDays.size() / days.length;
        return among >= 1 ? OptionalDouble.empty() : OptionalDouble.of(exceeded(mean, sd, among));
    }

    /** The day exceeded with a chance by a normal distribution. */
    public static double exceeded(double mean, double sd, double chance) {
        return sd > 0 ? NormalDistribution.of(mean, sd).inverseSurvivalProbability(chance) : mean;
    }

    /** The chance of at least one event in n years, each with chance p: 1 - (1 - p)^n. */
    public static double atLeastOnce(double p, int years) {
        return 1 - Math.pow(1 - p, years);
    }
}
