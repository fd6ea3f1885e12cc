package org.rootling.weather.calc;

import java.time.LocalDate;

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
}
