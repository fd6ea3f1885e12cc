package org.rootling.nursery.domain;

import java.time.LocalDate;
import org.rootling.nursery.calc.HoldWeather;
import org.rootling.weather.Weather;
import org.springframework.stereotype.Component;

/** The vineyard's weather as the hold clock wants it. */
@Component
class BedWeather {

    private final Weather weather;

    BedWeather(Weather weather) {
        this.weather = weather;
    }

    /** The weather seen from the start of a day; none where nothing is recorded. */
    HoldWeather asOf(LocalDate day) {
        return HoldWeather.of(weather.around(day), day);
    }
}
