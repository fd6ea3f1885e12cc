package org.rootling.weather.domain;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/**
 * The values of one day, checked: nothing that cannot be.
 *
 * @param lowC lowest air temperature, °C
 * @param highC highest air temperature, °C
 * @param rainMm rain, mm
 * @param windMs mean wind at 2 m, m/s
 * @param humidityPct mean relative humidity, %
 * @param humidityHighPct highest relative humidity, %
 * @param humidityLowPct lowest relative humidity, %
 * @param radiationMj solar radiation, MJ per m²
 * @param sunHours hours of bright sunshine
 */
public record DayValues(
        LocalDate date,
        double lowC,
        double highC,
        @Nullable Double rainMm,
        @Nullable Double windMs,
        @Nullable Double humidityPct,
        @Nullable Double humidityHighPct,
        @Nullable Double humidityLowPct,
        @Nullable Double radiationMj,
        @Nullable Double sunHours) {

    /** Coldest and hottest that are taken; the records on earth outside Antarctica are -68 and 57 °C (from memory). */
    public static final double COLDEST = -60;

    public static final double HOTTEST = 57;

    /** More than ever fell in a day (1,825 mm on Réunion, from memory). */
    public static final double MOST_RAIN = 1_900;

    public DayValues {
        if (date.getYear() < 1900 || date.getYear() > 2100) {
            throw new Refused("weather.day.year").at("date");
        }
        between(lowC, COLDEST, HOTTEST, "weather.day.temperature", "low");
        between(highC, COLDEST, HOTTEST, "weather.day.temperature", "high");
        if (lowC > highC) {
            throw new Refused("weather.day.low-above-high").at("low");
        }
        optional(rainMm, 0, MOST_RAIN, "weather.day.rain-range", "rain");
        optional(windMs, 0, 60, "weather.day.wind-range", "wind");
        optional(humidityPct, 0, 100, "weather.day.humidity-range", "humidity");
        optional(humidityHighPct, 0, 100, "weather.day.humidity-range", "humidityHigh");
        optional(humidityLowPct, 0, 100, "weather.day.humidity-range", "humidityLow");
        if (humidityHighPct != null && humidityLowPct != null && humidityLowPct > humidityHighPct) {
            throw new Refused("weather.day.humidity-order").at("humidityLow");
        }
        optional(radiationMj, 0, 45, "weather.day.radiation-range", "radiation");
        optional(sunHours, 0, 24, "weather.day.sun-range", "sun");
    }

    private static void optional(@Nullable Double value, double least, double most, String key, String field) {
        if (value != null) {
            between(value, least, most, key, field);
        }
    }

    private static void between(double value, double least, double most, String key, String field) {
        if (!(value >= least && value <= most)) {
            throw new Refused(key).at(field);
        }
    }
}
