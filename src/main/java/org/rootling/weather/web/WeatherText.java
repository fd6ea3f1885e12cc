package org.rootling.weather.web;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.DateText;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Rain, heat sums and short dates as the reader wants them; templates use it as {@code @weatherText}. */
@Component("weatherText")
public class WeatherText {
    private static final String FILE = "file ";

    private final UnitText units;
    private final MessageSource messages;

    WeatherText(UnitText units, MessageSource messages) {
        this.units = units;
        this.messages = messages;
    }

    /** Rain in mm, or inches. */
    public String rain(double mm) {
        return units.measured(Measure.MILLIMETRE, mm, UnitText.us() ? 2 : 1);
    }

    /** Rain or evapotranspiration of a whole season, in whole mm, or inches. */
    public String water(double mm) {
        return units.measured(Measure.MILLIMETRE, mm, UnitText.us() ? 1 : 0);
    }

    /** A heat sum in °C·day, or °F·day. */
    public String sum(double degreeDays) {
        return UnitText.us() ? units.number(degreeDays * 1.8, 0) + " °F·d" : units.number(degreeDays, 0) + " °C·d";
    }

    /** Where a day's weather came from. */
    public String from(String source) {
        return switch (source) {
            case "typed" -> word("weather.days.typed");
            case "api" -> word("weather.days.api");
            case "fetched" -> word("weather.days.fetched");
            default -> source.startsWith(FILE) ? word("weather.days.file", source.substring(FILE.length())) : source;
        };
    }

    private String word(String key, Object... values) {
        return messages.getMessage(key, values, LocaleContextHolder.getLocale());
    }

    /** A date with day and month. */
    public String day(@Nullable LocalDate date) {
        return date == null ? "–" : DateText.format(date, "d MMM", LocaleContextHolder.getLocale());
    }
}
