package org.rootling.weather.domain;

import java.util.List;
import org.rootling.weather.WeatherBook;
import org.springframework.stereotype.Component;

/** Records days that come from elsewhere in the program. */
@Component
class SeedDays implements WeatherBook {

    private final WeatherService weather;

    SeedDays(WeatherService weather) {
        this.weather = weather;
    }

    @Override
    public void take(List<Day> days) {
        weather.recordAll(days.stream()
                .map(d -> new DayValues(d.date(), d.lowC(), d.highC(), d.rainMm(), null, null, null, null, null, null))
                .toList());
    }
}
