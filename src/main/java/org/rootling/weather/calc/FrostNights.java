package org.rootling.weather.calc;

import java.time.LocalDate;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import org.rootling.weather.calc.FrostStage.Warning;

/** Nights at risk by growth stage, among recorded and forecast days. Levels and their sources: {@link FrostStage}. */
public final class FrostNights {

    private FrostNights() {}

    /**
     * A night with a warning.
     *
     * @param date the day whose lowest temperature it is
     * @param lowC that temperature at the thermometer, °C
     */
    public record Night(LocalDate date, double lowC, Warning warning, boolean forecast) {}

    /**
     * The nights at risk, by date.
     *
     * @param stage the growth stage to judge by
     * @param marginK how much colder it may be at the vine than at the thermometer, K
     */
    public static List<Night> of(Collection<WeatherDay> days, FrostStage stage, double marginK) {
        return days.stream()
                .map(d -> new Night(d.date(), d.lowC(), stage.warning(d.lowC(), marginK), d.forecast()))
                .filter(n -> n.warning() != Warning.NONE)
                .sorted(Comparator.comparing(Night::date))
                .toList();
    }
}
