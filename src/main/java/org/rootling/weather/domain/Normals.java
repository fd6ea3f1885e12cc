package org.rootling.weather.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.rootling.weather.calc.WeatherDay;

/** Means of the same days of earlier years. */
final class Normals {

    private Normals() {}

    static List<WeatherDay> of(List<WeatherDay> known, LocalDate from, LocalDate to) {
        Map<LocalDate, WeatherDay> byDate = new HashMap<>();
        for (WeatherDay day : known) {
            if (!day.forecast()) {
                byDate.put(day.date(), day);
            }
        }
        List<WeatherDay> normals = new ArrayList<>();
        for (LocalDate date = from; !date.isAfter(to); date = date.plusDays(1)) {
            List<WeatherDay> same = new ArrayList<>();
            for (int back = 1; back <= 30; back++) {
                WeatherDay day = byDate.get(date.minusYears(back));
                if (day != null) {
                    same.add(day);
                }
            }
            if (!same.isEmpty()) {
                normals.add(WeatherDay.mean(date, same));
            }
        }
        return normals;
    }
}
