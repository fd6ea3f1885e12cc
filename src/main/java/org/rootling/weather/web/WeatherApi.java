package org.rootling.weather.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.weather.calc.WeatherDay;
import org.rootling.weather.domain.DayValues;
import org.rootling.weather.domain.WeatherService;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Days by API: read, and recorded for instance by a weather station of one's own. */
@RestController
@RequestMapping("/api/v1/weather")
class WeatherApi {
    private static final int LONGEST = 3_700;

    /** A day to record; °C, mm, m/s at 2 m, %, MJ per m², hours. */
    record DayBody(
            @SaneDate @Nullable LocalDate date,
            @Nullable Double low,
            @Nullable Double high,
            @Nullable Double rain,
            @Nullable Double wind,
            @Nullable Double humidity,
            @Nullable Double humidityHigh,
            @Nullable Double humidityLow,
            @Nullable Double radiation,
            @Nullable Double sun) {

        DayValues values() {
            if (date == null) {
                throw new Refused("weather.day.no-date").at("date");
            }
            if (low == null || high == null) {
                throw new Refused("weather.day.no-temperatures").at(low == null ? "low" : "high");
            }
            return new DayValues(date, low, high, rain, wind, humidity, humidityHigh, humidityLow, radiation, sun);
        }
    }

    /** Days to record. */
    record DaysBody(@Size(max = 1000) List<@Valid DayBody> days) {
        DaysBody {
            days = days == null ? List.of() : List.copyOf(days);
        }
    }

    /** What came of it. */
    record Taken(int added, int corrected, int unchanged) {}

    private final WeatherService weather;

    WeatherApi(WeatherService weather) {
        this.weather = weather;
    }

    @GetMapping("/days")
    @Needs(Role.READER)
    List<WeatherDay> days(
            @RequestParam @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate from,
            @RequestParam @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate to) {
        if (to.isBefore(from) || to.isAfter(from.plusDays(LONGEST))) {
            throw new Refused("weather.api.span", LONGEST).at("to");
        }
        return weather.days(from, to);
    }

    @PostMapping("/days")
    @Needs(Role.LEAD)
    Taken record(@RequestBody @Valid DaysBody body) {
        int[] counts =
                weather.recordAll(body.days().stream().map(DayBody::values).toList());
        return new Taken(counts[0], counts[1], counts[2]);
    }
}
