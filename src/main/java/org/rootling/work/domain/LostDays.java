package org.rootling.work.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Stale;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.WeatherDay;
import org.rootling.work.Step;
import org.rootling.work.calc.SeasonInput;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Days on which the weather stops outdoor work: foretold ones, and how often they came in each month. */
@Service
@Transactional(readOnly = true)
public class LostDays {
    private static final int YEARS = 10;
    private static final int AHEAD = 30;

    /** Days of the record that are followed in a row, on average: a week; common practice, no source. */
    private static final double FOLLOW = 7;

    private final Weather weather;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;

    LostDays(Weather weather, Vineyards vineyards, JdbcClient jdbc) {
        this.weather = weather;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
    }

    /**
     * When a day is lost, and how often somebody does not come.
     *
     * @param rainMm more rain than this stops outdoor work, mm a day
     * @param frostC a night colder than this stops it, °C
     * @param noShow share of days on which somebody expected does not come
     */
    public record Settings(BigDecimal rainMm, BigDecimal frostC, BigDecimal noShow, int version) {}

    /** Weather that stops work: more rain, a colder night, more wind than these. */
    private record Limits(double rainMm, double lowC, double windMs) {
        static Limits of(Settings vineyard, Step.Limits own) {
            BigDecimal rain = own.rainMm() == null ? vineyard.rainMm() : own.rainMm();
            BigDecimal low = own.lowC() == null ? vineyard.frostC() : own.lowC();
            BigDecimal wind = own.windMs();
            return new Limits(
                    rain.doubleValue(),
                    low.doubleValue(),
                    wind == null ? Double.POSITIVE_INFINITY : wind.doubleValue());
        }

        boolean stop(WeatherDay day, Map<LocalDate, Double> wind) {
            return day.rainMm() > rainMm || day.lowC() < lowC || wind.getOrDefault(day.date(), 0.0) > windMs;
        }
    }

    /** Until told otherwise. Common practice, no source: a grower's own ground and crew decide. */
    static final Settings FIRST = new Settings(new BigDecimal("5"), new BigDecimal("-2"), new BigDecimal("0.05"), 0);

    public Settings settings() {
        return jdbc.sql("select rain_mm, frost_c, no_show, version from work_weather")
                .query((r, n) -> new Settings(
                        r.getBigDecimal("rain_mm"),
                        r.getBigDecimal("frost_c"),
                        r.getBigDecimal("no_show"),
                        r.getInt("version")))
                .optional()
                .orElse(FIRST);
    }

    @Transactional
    public void change(Settings s) {
        int changed = jdbc.sql("update work_weather set rain_mm = :rain, frost_c = :frost, no_show = :noShow,"
                        + " version = version + 1 where version = :version")
                .param("rain", s.rainMm())
                .param("frost", s.frostC())
                .param("noShow", s.noShow())
                .param("version", s.version())
                .update();
        if (changed == 0) {
            int there = settings().version();
            if (s.version() != 0 || there != 0) {
                throw new Stale(s.version(), there);
            }
            jdbc.sql("insert into work_weather (id, rain_mm, frost_c, no_show, version)"
                            + " values (:id, :rain, :frost, :noShow, 1)")
                    .param("id", Ids.next())
                    .param("rain", s.rainMm())
                    .param("frost", s.frostC())
                    .param("noShow", s.noShow())
                    .update();
        }
    }

    /** Days from a day on of which the forecast says that they are lost. */
    public Set<LocalDate> foretoldLost(LocalDate from) {
        return lost(foretold(from));
    }

    /** The same for each outdoor step with limits of its own, by code. */
    public Map<String, Set<LocalDate>> foretoldLost(LocalDate from, List<Step> steps) {
        Map<String, Set<LocalDate>> lost = new HashMap<>();
        foretold(from, withLimits(steps)).forEach((code, days) -> lost.put(code, lost(days)));
        return lost;
    }

    private static Set<LocalDate> lost(Map<LocalDate, Boolean> days) {
        Set<LocalDate> lost = new HashSet<>();
        days.forEach((day, isLost) -> {
            if (isLost) {
                lost.add(day);
            }
        });
        return lost;
    }

    /** For each day from a day on that a forecast or record tells of: whether it is lost. */
    private Map<LocalDate, Boolean> foretold(LocalDate from) {
        return judged(weather.days(from, from.plusDays(AHEAD)), Map.of(), Limits.of(settings(), Step.Limits.NONE));
    }

    private Map<String, Map<LocalDate, Boolean>> foretold(LocalDate from, List<Step> limited) {
        Map<String, Map<LocalDate, Boolean>> foretold = new HashMap<>();
        if (!limited.isEmpty()) {
            Settings s = settings();
            List<WeatherDay> days = weather.days(from, from.plusDays(AHEAD));
            Map<LocalDate, Double> wind = weather.wind(from, from.plusDays(AHEAD));
            limited.forEach(step -> foretold.put(step.code(), judged(days, wind, Limits.of(s, step.limits()))));
        }
        return foretold;
    }

    private static Map<LocalDate, Boolean> judged(List<WeatherDay> days, Map<LocalDate, Double> wind, Limits limits) {
        Map<LocalDate, Boolean> judged = new HashMap<>();
        days.forEach(d -> judged.put(d.date(), limits.stop(d, wind)));
        return judged;
    }

    private static List<Step> withLimits(List<Step> steps) {
        return steps.stream()
                .filter(s -> s.outdoors() && !s.limits().equals(Step.Limits.NONE))
                .toList();
    }

    /**
     * What seasons from a day on are drawn from: the vineyard's own measured days of the last ten years and the forecast, and
     * which of them are lost, for all outdoor work and for each step with limits of its own. Without a record no day is lost.
     */
    public SeasonInput.Weather seasons(LocalDate from, List<Step> steps) {
        LocalDate today = vineyards.today();
        List<WeatherDay> past = weather.days(today.minusYears(YEARS), today).stream()
                .filter(d -> !d.forecast())
                .toList();
        Settings s = settings();
        SeasonInput.Losses usual =
                new SeasonInput.Losses(lost(judged(past, Map.of(), Limits.of(s, Step.Limits.NONE))), foretold(from));
        List<Step> limited = withLimits(steps);
        Map<String, SeasonInput.Losses> ofSteps = new HashMap<>();
        if (!limited.isEmpty()) {
            Map<LocalDate, Double> wind = weather.wind(today.minusYears(YEARS), today);
            Map<String, Map<LocalDate, Boolean>> foretold = foretold(from, limited);
            for (Step step : limited) {
                ofSteps.put(
                        step.code(),
                        new SeasonInput.Losses(
                                lost(judged(past, wind, Limits.of(s, step.limits()))),
                                foretold.getOrDefault(step.code(), Map.of())));
            }
        }
        return new SeasonInput.Weather(past.stream().map(WeatherDay::date).toList(), FOLLOW, usual, ofSteps);
    }
}
