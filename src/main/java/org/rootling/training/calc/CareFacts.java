package org.rootling.training.calc;

import java.time.LocalDate;
import java.util.List;

/**
 * What is known of a row or block when asking what is due.
 *
 * @param today the vineyard's date
 * @param plantedFirst the day the first of its vines was planted
 * @param plantedLast the day the last of its vines was planted; what is late is measured from here
 * @param southern seasons half a year away from northern dates
 * @param stages seen or estimated since planting, any order
 * @param heat degree days base 10 °C
 * @param rain mm
 */
public record CareFacts(
        LocalDate today,
        LocalDate plantedFirst,
        LocalDate plantedLast,
        boolean southern,
        List<StageSeen> stages,
        DailySeries heat,
        DailySeries rain) {

    public CareFacts {
        if (plantedLast.isBefore(plantedFirst)) {
            throw new IllegalArgumentException("the last vine cannot be planted before the first");
        }
        stages = List.copyOf(stages);
    }
}
