package org.rootling.weather.calc;

import java.time.LocalDate;
import java.util.List;

/**
 * One day as the calculators need it.
 *
 * @param date the day, in the vineyard's zone
 * @param lowC lowest air temperature, °C
 * @param highC highest air temperature, °C
 * @param rainMm rain of the day, mm; 0 when none was recorded
 * @param et0Mm reference evapotranspiration of the day, mm
 * @param forecast whether the day was foretold rather than measured
 */
public record WeatherDay(LocalDate date, double lowC, double highC, double rainMm, double et0Mm, boolean forecast) {

    /** The mean of lowest and highest, °C. */
    public double meanC() {
        return (lowC + highC) / 2;
    }

    /** Such a day as the mean of others: what may be expected where nothing was measured. */
    public static WeatherDay mean(LocalDate date, List<WeatherDay> days) {
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
