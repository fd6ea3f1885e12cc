package org.rootling.weather;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.rootling.weather.calc.CropCurve;
import org.rootling.weather.calc.WeatherDay;

/** The days of the current vineyard, each complete with its reference evapotranspiration. */
public interface Weather {

    /**
     * The days with a record from one date to another, both included, by date: measured ones and forecasts. Days without
     * a record are not there.
     */
    List<WeatherDay> days(LocalDate from, LocalDate to);

    /** Mean wind at 2 m, m/s, of those days from one date to another, both included, that have one. */
    Map<LocalDate, Double> wind(LocalDate from, LocalDate to);

    /**
     * What a projection from a day needs: the days of ten years before it and all that is known after it. Hand it to the
     * hold clock as it is. While nothing changes the same list is handed out again, so that what was made of it can be kept
     * with it.
     */
    List<WeatherDay> around(LocalDate on);

    /** The last day of the forecast, if there is one from today on. */
    Optional<LocalDate> forecastUntil();

    /**
     * The usual weather from one date to another: for each date the mean of the same day in earlier years, where at least
     * one is known.
     */
    List<WeatherDay> normals(LocalDate from, LocalDate to);

    /** How the vineyard sums heat and judges frost. */
    Habits habits();

    /**
     * Settings that other parts need.
     *
     * @param baseC base of heat sums, °C
     * @param frostC a night at or below this counts as frost, °C
     * @param marginK how much colder it may be at the vine than at the thermometer, K
     * @param latitudeDeg latitude used, degrees, south negative
     * @param latitudeAssumed whether the vineyard has not told its latitude, so that 45° north is used
     * @param crop crop coefficient of a grown vineyard
     */
    record Habits(
            double baseC, double frostC, double marginK, double latitudeDeg, boolean latitudeAssumed, CropCurve crop) {}
}
