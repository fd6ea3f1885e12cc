package org.rootling.training.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.rootling.weather.calc.FrostStage;
import org.rootling.weather.calc.WeatherDay;

/** Which nights endanger vines at a growth stage, by published critical temperatures as warning levels. */
public final class FrostNights {

    private FrostNights() {}

    /** A night with a warning; {@code lowC} at the thermometer, °C. */
    public record Night(LocalDate date, double lowC, FrostStage.Warning warning, boolean forecast) {}

    /** The row of the frost table for a stage; empty while dormant and after the wood has ripened. */
    public static Optional<FrostStage> tableRow(Bbch stage) {
        int code = stage.code();
        if (code == 0 || code >= 91) {
            return Optional.empty();
        }
        if (code <= 3) {
            return Optional.of(FrostStage.FIRST_SWELL);
        }
        if (code == 5) {
            return Optional.of(FrostStage.LATE_SWELL);
        }
        if (code <= 9) {
            return Optional.of(FrostStage.BUD_BURST);
        }
        return Optional.of(
                switch (code) {
                    case 11 -> FrostStage.FIRST_LEAF;
                    case 12 -> FrostStage.SECOND_LEAF;
                    case 13 -> FrostStage.THIRD_LEAF;
                    default -> FrostStage.FOURTH_LEAF;
                });
    }

    /**
     * The nights with a warning, in the order of the days given.
     *
     * @param marginK how much colder it may be at the vine than at the thermometer, K
     */
    public static List<Night> at(Bbch stage, List<WeatherDay> days, double marginK) {
        List<Night> nights = new ArrayList<>();
        tableRow(stage).ifPresent(row -> {
            for (WeatherDay day : days) {
                FrostStage.Warning warning = row.warning(day.lowC(), marginK);
                if (warning != FrostStage.Warning.NONE) {
                    nights.add(new Night(day.date(), day.lowC(), warning, day.forecast()));
                }
            }
        });
        return nights;
    }
}
