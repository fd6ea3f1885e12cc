package org.rootling.weather.calc;

import java.util.EnumSet;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Reference evapotranspiration: the water a well-watered grass cover of 0.12 m would use.
 *
 * <p>Source: Allen, Pereira, Raes, Smith, FAO Irrigation and Drainage Paper 56 (1998), chapters 2 to 4; equation numbers
 * are the paper's. Temperatures in °C, pressures in kPa, radiation in MJ per m² and day (or hour), wind in m/s at 2 m.
 */
public final class Evapotranspiration {
    /** mm of water evaporated by 1 MJ per m², equation 20. */
    public static final double MM_PER_MJ = 0.408;

    private static final double ALBEDO = 0.23;
    private static final double STEFAN_BOLTZMANN_DAY = 4.903e-9;
    private static final double STEFAN_BOLTZMANN_HOUR = 2.043e-10;
    private static final double KELVIN = 273.16;

    private Evapotranspiration() {}

    /**
     * Where it is computed for.
     *
     * @param latitudeDeg degrees, south negative
     * @param altitudeM metres above the sea
     * @param coastal whether a large water body rules the air, which changes the radiation estimated from temperature
     */
    public record Site(double latitudeDeg, double altitudeM, boolean coastal) {
        double latitude() {
            return Math.toRadians(latitudeDeg);
        }
    }

    /**
     * What was measured on a day; null where nothing was.
     *
     * @param dayOfYear 1 to 366
     * @param humidityHighPct highest relative humidity, %
     * @param humidityLowPct lowest relative humidity, %
     * @param humidityMeanPct mean relative humidity, %, used when the extremes are missing
     * @param windMs mean wind at 2 m, m/s
     * @param radiationMj solar radiation, MJ per m²
     * @param sunHours hours of bright sunshine, used when the radiation is missing
     */
    public record Measured(
            int dayOfYear,
            double lowC,
            double highC,
            @Nullable Double humidityHighPct,
            @Nullable Double humidityLowPct,
            @Nullable Double humidityMeanPct,
            @Nullable Double windMs,
            @Nullable Double radiationMj,
            @Nullable Double sunHours) {

        /** A day of which only the extremes of temperature are known. */
        public static Measured temperatures(int dayOfYear, double lowC, double highC) {
            return new Measured(dayOfYear, lowC, highC, null, null, null, null, null, null);
        }

        boolean onlyTemperatures() {
            return humidityHighPct == null
                    && humidityMeanPct == null
                    && windMs == null
                    && radiationMj == null
                    && sunHours == null;
        }
    }

    /** What had to be assumed. */
    public enum Substitute {
        /** Dew point taken as the day's lowest temperature. */
        HUMIDITY,
        /** Wind taken as 2 m/s, the mean of over 2000 stations. */
        WIND,
        /** Radiation from the span of temperature, equation 50. */
        RADIATION
    }

    /** How the figure was come by. */
    public enum Method {
        PENMAN_MONTEITH,
        HARGREAVES
    }

    /**
     * A day's reference evapotranspiration with what led to it.
     *
     * @param et0Mm mm a day
     * @param slope slope of the vapour pressure curve, kPa/°C
     * @param psychrometric psychrometric constant, kPa/°C
     * @param saturation mean saturation vapour pressure, kPa
     * @param actual actual vapour pressure, kPa
     * @param extraterrestrial Ra, MJ per m² and day
     * @param solar Rs
     * @param clearSky Rso
     * @param netShort Rns
     * @param netLong Rnl
     */
    public record Daily(
            double et0Mm,
            Method method,
            Set<Substitute> substitutes,
            double slope,
            double psychrometric,
            double saturation,
            double actual,
            double extraterrestrial,
            double solar,
            double clearSky,
            double netShort,
            double netLong) {

        public Daily {
            substitutes = Set.copyOf(substitutes);
        }

        /** Net radiation Rn, MJ per m² and day. */
        public double net() {
            return netShort - netLong;
        }
    }

    /** An hour's reference evapotranspiration with what led to it; energies in MJ per m² and hour. */
    public record Hourly(
            double et0Mm,
            double slope,
            double psychrometric,
            double saturation,
            double actual,
            double extraterrestrial,
            double clearSky,
            double netShort,
            double netLong,
            double soilHeat) {}

    /** Saturation vapour pressure, equation 11, kPa. */
    public static double saturationPressure(double celsius) {
        return 0.6108 * Math.exp(17.27 * celsius / (celsius + 237.3));
    }

    /** Slope of the saturation vapour pressure curve, equation 13, kPa/°C. */
    public static double slope(double celsius) {
        return 4098 * saturationPressure(celsius) / Math.pow(celsius + 237.3, 2);
    }

    /** Air pressure at an altitude, equation 7, kPa. */
    public static double airPressure(double altitudeM) {
        return 101.3 * Math.pow((293 - 0.0065 * altitudeM) / 293, 5.26);
    }

    /** Psychrometric constant at an altitude, equation 8, kPa/°C. */
    public static double psychrometric(double altitudeM) {
        return 0.665e-3 * airPressure(altitudeM);
    }

    /** Wind at 2 m from wind measured at another height over grass, equation 47, m/s. */
    public static double windAt2m(double windMs, double heightM) {
        return windMs * 4.87 / Math.log(67.8 * heightM - 5.42);
    }

    /** Solar radiation from hours of sunshine, equation 35. */
    public static double radiationFromSun(double sunHours, double daylightHours, double extraterrestrial) {
        double share = daylightHours > 0 ? Math.min(1, sunHours / daylightHours) : 0;
        return (0.25 + 0.50 * share) * extraterrestrial;
    }

    /** Solar radiation from the span of temperature, equation 50, with 0.16 inland and 0.19 (from memory) at a coast. */
    public static double radiationFromTemperature(
            double lowC, double highC, double extraterrestrial, double clearSky, boolean coastal) {
        double k = coastal ? 0.19 : 0.16;
        return Math.min(clearSky, k * Math.sqrt(Math.max(0, highC - lowC)) * extraterrestrial);
    }

    /** Soil heat flux over a month, equation 44, MJ per m² and day; over a day it is taken as 0. */
    public static double monthlySoilHeat(double meanC, double meanOfMonthBeforeC) {
        return 0.14 * (meanC - meanOfMonthBeforeC);
    }

    /**
     * Evapotranspiration by Hargreaves, equation 52, mm a day. The radiation is taken in mm of water.
     */
    public static double hargreaves(double lowC, double highC, double extraterrestrialMj) {
        double mean = (lowC + highC) / 2;
        double span = Math.max(0, highC - lowC);
        return Math.max(0, 0.0023 * (mean + 17.8) * Math.sqrt(span) * MM_PER_MJ * extraterrestrialMj);
    }

    /** The best that can be had of a day: Hargreaves when only temperatures are known, else {@link #penmanMonteith}. */
    public static Daily reference(Site site, Measured day) {
        Daily full = penmanMonteith(site, day);
        if (!day.onlyTemperatures()) {
            return full;
        }
        return new Daily(
                hargreaves(day.lowC(), day.highC(), full.extraterrestrial()),
                Method.HARGREAVES,
                full.substitutes(),
                full.slope(),
                full.psychrometric(),
                full.saturation(),
                full.actual(),
                full.extraterrestrial(),
                full.solar(),
                full.clearSky(),
                full.netShort(),
                full.netLong());
    }

    /** Evapotranspiration of a day by Penman-Monteith, equation 6, with the paper's substitutes for what is missing. */
    public static Daily penmanMonteith(Site site, Measured day) {
        Set<Substitute> substitutes = EnumSet.noneOf(Substitute.class);
        double mean = (day.lowC() + day.highC()) / 2;
        double slope = slope(mean);
        double gamma = psychrometric(site.altitudeM());
        double low = saturationPressure(day.lowC());
        double high = saturationPressure(day.highC());
        double saturation = (low + high) / 2;
        double actual = Math.min(saturation, actualPressure(day, low, high, substitutes));
        double wind = 2;
        if (day.windMs() == null) {
            substitutes.add(Substitute.WIND);
        } else {
            wind = Math.max(0.5, day.windMs());
        }
        double ra = Sun.extraterrestrial(site.latitude(), day.dayOfYear());
        double clear = (0.75 + 2e-5 * site.altitudeM()) * ra;
        double solar;
        if (day.radiationMj() != null) {
            solar = day.radiationMj();
        } else if (day.sunHours() != null) {
            solar = radiationFromSun(day.sunHours(), Sun.daylightHours(site.latitude(), day.dayOfYear()), ra);
        } else {
            substitutes.add(Substitute.RADIATION);
            solar = radiationFromTemperature(day.lowC(), day.highC(), ra, clear, site.coastal());
        }
        double netShort = (1 - ALBEDO) * solar;
        double netLong = STEFAN_BOLTZMANN_DAY
                * (Math.pow(day.highC() + KELVIN, 4) + Math.pow(day.lowC() + KELVIN, 4))
                / 2
                * (0.34 - 0.14 * Math.sqrt(actual))
                * cloudiness(solar, clear);
        double et =
                (MM_PER_MJ * slope * (netShort - netLong) + gamma * 900 / (mean + 273) * wind * (saturation - actual))
                        / (slope + gamma * (1 + 0.34 * wind));
        return new Daily(
                Math.max(0, et),
                Method.PENMAN_MONTEITH,
                substitutes,
                slope,
                gamma,
                saturation,
                actual,
                ra,
                solar,
                clear,
                netShort,
                netLong);
    }

    /** Equations 17 to 19, or 48 (dew point taken as the lowest temperature) when no humidity is known. */
    private static double actualPressure(Measured day, double low, double high, Set<Substitute> substitutes) {
        Double most = day.humidityHighPct();
        Double least = day.humidityLowPct();
        Double mean = day.humidityMeanPct();
        if (most != null && least != null) {
            return (low * most / 100 + high * least / 100) / 2;
        }
        if (mean != null) {
            return mean / 100 * (low + high) / 2;
        }
        if (most != null) {
            return low * most / 100;
        }
        substitutes.add(Substitute.HUMIDITY);
        return low;
    }

    /** The cloudiness factor of equation 39; the share of clear-sky radiation is kept within 0.25 (overcast) and 1. */
    private static double cloudiness(double solar, double clear) {
        double share = clear > 0 ? solar / clear : 0.25;
        return 1.35 * Math.max(0.25, Math.min(1, share)) - 0.35;
    }

    /**
     * Evapotranspiration of one hour by Penman-Monteith, equation 53.
     *
     * @param extraterrestrial Ra of the hour
     * @param solar measured solar radiation of the hour
     * @param clearShareBefore share of clear-sky radiation, used while the sun is down: that of the hours before sunset
     */
    public static Hourly hourly(
            double celsius,
            double humidityPct,
            double windMs,
            double altitudeM,
            double extraterrestrial,
            double solar,
            double clearShareBefore) {
        double slope = slope(celsius);
        double gamma = psychrometric(altitudeM);
        double saturation = saturationPressure(celsius);
        double actual = saturation * humidityPct / 100;
        double clear = (0.75 + 2e-5 * altitudeM) * extraterrestrial;
        boolean day = clear > 0;
        double share = day ? Math.min(1, solar / clear) : clearShareBefore;
        double netShort = (1 - ALBEDO) * solar;
        double netLong = STEFAN_BOLTZMANN_HOUR
                * Math.pow(celsius + KELVIN, 4)
                * (0.34 - 0.14 * Math.sqrt(actual))
                * (1.35 * share - 0.35);
        double net = netShort - netLong;
        double soil = (day ? 0.1 : 0.5) * net;
        double et = (MM_PER_MJ * slope * (net - soil) + gamma * 37 / (celsius + 273) * windMs * (saturation - actual))
                / (slope + gamma * (1 + 0.34 * windMs));
        return new Hourly(
                Math.max(0, et), slope, gamma, saturation, actual, extraterrestrial, clear, netShort, netLong, soil);
    }
}
