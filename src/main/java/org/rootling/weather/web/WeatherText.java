package org.rootling.weather.web;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.DateText;
import org.rootling.platform.UnitText;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Rain, heat sums, wind and short dates as the reader wants them; templates use it as {@code @weatherText}. */
@Component("weatherText")
public class WeatherText {
    static final double MM_PER_INCH = 25.4;
    static final double MS_PER_MPH = 0.44704;

    private final UnitText units;

    WeatherText(UnitText units) {
        this.units = units;
    }

    /** Rain in mm, or inches. */
    public String rain(double mm) {
        return UnitText.us() ? units.number(mm / MM_PER_INCH, 2) + " in" : units.number(mm, 1) + " mm";
    }

    /** Rain or evapotranspiration of a whole season, in whole mm, or inches. */
    public String water(double mm) {
        return UnitText.us() ? units.number(mm / MM_PER_INCH, 1) + " in" : units.number(mm, 0) + " mm";
    }

    /** A heat sum in °C·day, or °F·day. */
    public String sum(double degreeDays) {
        return UnitText.us() ? units.number(degreeDays * 1.8, 0) + " °F·d" : units.number(degreeDays, 0) + " °C·d";
    }

    /** The unit of temperatures. */
    public String temperatureUnit() {
        return UnitText.us() ? "°F" : "°C";
    }

    /** The unit of rain. */
    public String rainUnit() {
        return UnitText.us() ? "in" : "mm";
    }

    /** The unit of wind. */
    public String windUnit() {
        return UnitText.us() ? "mph" : "m/s";
    }

    /** A date with day and month. */
    public String day(@Nullable LocalDate date) {
        return date == null ? "–" : DateText.format(date, "d MMM", LocaleContextHolder.getLocale());
    }

    static double celsius(double typed) {
        return UnitText.us() ? round((typed - 32) / 1.8) : typed;
    }

    static double temperature(double celsius) {
        return UnitText.us() ? round(celsius * 1.8 + 32) : celsius;
    }

    static @Nullable Double mm(@Nullable Double typed) {
        return typed == null || !UnitText.us() ? typed : Double.valueOf(round(typed * MM_PER_INCH));
    }

    static @Nullable Double rainTyped(@Nullable Double mm) {
        return mm == null || !UnitText.us() ? mm : Double.valueOf(round(mm / MM_PER_INCH));
    }

    static @Nullable Double metresPerSecond(@Nullable Double typed) {
        return typed == null || !UnitText.us() ? typed : Double.valueOf(round(typed * MS_PER_MPH));
    }

    static @Nullable Double windTyped(@Nullable Double ms) {
        return ms == null || !UnitText.us() ? ms : Double.valueOf(round(ms / MS_PER_MPH));
    }

    private static double round(double value) {
        return (double) Math.round(value * 100) / 100;
    }
}
