package org.rootling.weather;

import java.time.LocalDate;
import java.util.List;

/** Takes days in without anyone typing; for seeding and other modules. */
public interface WeatherBook {

    /**
     * One day. A date ahead of the vineyard's today is a forecast.
     *
     * @param lowC lowest air temperature, °C
     * @param highC highest air temperature, °C
     * @param rainMm rain, mm
     */
    record Day(LocalDate date, double lowC, double highC, double rainMm) {}

    /**
     * Records the days; known ones are corrected.
     *
     * @throws org.rootling.platform.Refused if a value cannot be or a date stands twice
     */
    void take(List<Day> days);
}
