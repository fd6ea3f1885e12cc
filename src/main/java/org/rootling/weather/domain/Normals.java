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
                normals.add(mean(date, same));
            }
        }
        return normals;
    }

    private static WeatherDay mean(LocalDate date, List<WeatherDay> days) {
        double low = 0;
        double high = 0;
        double rain = 0;
        double et0 = 0;
        for (WeatherDay day : days) {
            low += day.lowC();
            high += day.highC();
            rain += day.rainMm();
            et0 += day.et0Mm();
        }
        int n = days.size();
        return new WeatherDay(date, low / n, high / n, rain / n, et0 / n, true);
    }
}
