package org.rootling.training.domain;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import org.rootling.training.calc.DailySeries;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.HeatSums;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.stereotype.Component;

/** What was measured; days without a record count as no heat and no rain. */
@Component
class MeasuredWeather implements SiteWeather {

    private final Weather weather;

    MeasuredWeather(Weather weather) {
        this.weather = weather;
    }

    @Override
    public Series since(LocalDate from, LocalDate to) {
        int days = (int) Math.max(0, ChronoUnit.DAYS.between(from, to) + 1);
        double[] heat = new double[days];
        double[] rain = new double[days];
        for (WeatherDay day : weather.days(from, to)) {
            int i = (int) ChronoUnit.DAYS.between(from, day.date());
            if (!day.forecast() && i >= 0 && i < days) {
                heat[i] = HeatSums.degreeDays(day.lowC(), day.highC(), HeatSums.BASE);
                rain[i] = Math.max(0, day.rainMm());
            }
        }
        return new Series(new DailySeries(from, heat), new DailySeries(from, rain));
    }
}
