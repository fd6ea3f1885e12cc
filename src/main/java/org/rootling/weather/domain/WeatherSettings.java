package org.rootling.weather.domain;

import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.weather.calc.FrostStage;
import org.rootling.weather.calc.HeatSums.UpperCut;
import org.rootling.weather.domain.FileUnits.Dates;
import org.rootling.weather.domain.FileUnits.Radiation;
import org.rootling.weather.domain.FileUnits.Rain;
import org.rootling.weather.domain.FileUnits.Temperature;
import org.rootling.weather.domain.FileUnits.Wind;

/**
 * How the vineyard sums heat, judges frost and fetches days.
 *
 * @param baseC base of heat sums, °C
 * @param cutC upper cut, °C, if any
 * @param frostC a night at or below this counts as frost, °C
 * @param marginK how much colder it may be at the vine than at the thermometer, K
 * @param stage growth stage frost is judged for
 * @param coastal whether a large water body rules the air
 * @param fetchUrl address with {latitude} and {longitude} in it
 * @param fetchPaths where in the answer each value stands
 * @param version -1 when the defaults have not been stored yet
 */
public record WeatherSettings(
        double baseC,
        @Nullable Double cutC,
        UpperCut cut,
        double frostC,
        double marginK,
        FrostStage stage,
        boolean coastal,
        boolean fetchOn,
        @Nullable String fetchUrl,
        Map<Column, String> fetchPaths,
        FileUnits fetchUnits,
        int version) {

    /** Base 10 °C without a cut, frost at 0 °C, 2 K colder at the vine (common practice, no source), no fetch. */
    public static final WeatherSettings USUAL = new WeatherSettings(
            10,
            null,
            UpperCut.NONE,
            0,
            2,
            FrostStage.BUD_BURST,
            false,
            false,
            null,
            Map.of(),
            new FileUnits(
                    Dates.DAY_FIRST, Temperature.CELSIUS, Rain.MM, Wind.METRES_PER_SECOND, 10, Radiation.MEGAJOULES),
            -1);

    public WeatherSettings {
        fetchPaths = Map.copyOf(fetchPaths);
    }
}
