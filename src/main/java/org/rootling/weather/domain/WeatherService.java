package org.rootling.weather.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.weather.Weather;
import org.rootling.weather.WeatherRecorded;
import org.rootling.weather.calc.CropCurve;
import org.rootling.weather.calc.Evapotranspiration;
import org.rootling.weather.calc.Evapotranspiration.Daily;
import org.rootling.weather.calc.Evapotranspiration.Measured;
import org.rootling.weather.calc.Evapotranspiration.Site;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records days and hands them out. */
@Service
public class WeatherService implements Weather {
    /** Used while the vineyard has not told where it is. */
    public static final double ASSUMED_LATITUDE = 45;

    private static final int YEARS_BACK = 10;
    private static final int FARTHEST_AHEAD = 366;

    /** The days around a date of one vineyard as they were when its mark was this. */
    private record Around(String mark, Site site, LocalDate on, List<WeatherDay> days) {}

    /** Ten years of days with their evapotranspiration are read anew only when something changed. */
    private static final int MOST_KEPT = 32;

    private final Map<UUID, Around> kept = Collections.synchronizedMap(new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<UUID, Around> eldest) {
            return size() > MOST_KEPT;
        }
    });

    private final DayStore days;
    private final SettingsStore settings;
    private final Vineyards vineyards;
    private final ApplicationEventPublisher events;

    WeatherService(DayStore days, SettingsStore settings, Vineyards vineyards, ApplicationEventPublisher events) {
        this.days = days;
        this.settings = settings;
        this.vineyards = vineyards;
        this.events = events;
    }

    @Override
    @Transactional(readOnly = true)
    public List<WeatherDay> days(LocalDate from, LocalDate to) {
        Site site = site();
        return days.between(from, to).stream().map(d -> day(site, d)).toList();
    }

    @Override
    @Transactional(readOnly = true)
    public Map<LocalDate, Double> wind(LocalDate from, LocalDate to) {
        Map<LocalDate, Double> wind = new HashMap<>();
        for (DayRecord day : days.between(from, to)) {
            Double mean = day.values().windMs();
            if (mean != null) {
                wind.put(day.values().date(), mean);
            }
        }
        return wind;
    }

    @Override
    @Transactional(readOnly = true)
    public List<WeatherDay> around(LocalDate on) {
        UUID vineyard = vineyards.current().id();
        Optional<String> mark = days.mark();
        Site site = site();
        Around known = kept.get(vineyard);
        if (known != null
                && mark.isPresent()
                && known.mark().equals(mark.get())
                && known.site().equals(site)
                && known.on().equals(on)) {
            return known.days();
        }
        List<WeatherDay> read = days(on.minusYears(YEARS_BACK), on.plusDays(FARTHEST_AHEAD));
        mark.ifPresent(m -> kept.put(vineyard, new Around(m, site, on, read)));
        return read;
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<LocalDate> forecastUntil() {
        return days.lastForecast(vineyards.today());
    }

    @Override
    @Transactional(readOnly = true)
    public List<WeatherDay> normals(LocalDate from, LocalDate to) {
        LocalDate today = vineyards.today();
        List<WeatherDay> known = days(from.minusYears(30), today);
        return Normals.of(known, from, to);
    }

    @Override
    @Transactional(readOnly = true)
    public Habits habits() {
        WeatherSettings s = settings.get();
        Double latitude = vineyards.current().latitude();
        return new Habits(
                s.baseC(),
                s.frostC(),
                s.marginK(),
                latitude == null ? ASSUMED_LATITUDE : latitude,
                latitude == null,
                CropCurve.WINE_GRAPES);
    }

    /** The settings as they stand. */
    @Transactional(readOnly = true)
    public WeatherSettings settings() {
        return settings.get();
    }

    /** Changes the settings; refuses an edit begun from an older version. */
    @Transactional
    public void change(WeatherSettings changed) {
        settings.put(changed);
    }

    /** Where evapotranspiration is computed for. */
    Site site() {
        Vineyard vineyard = vineyards.current();
        Double latitude = vineyard.latitude();
        Double altitude = vineyard.altitudeM();
        return new Site(
                latitude == null ? ASSUMED_LATITUDE : latitude,
                altitude == null ? 0 : altitude,
                settings.get().coastal());
    }

    /** The stored days from one date to another. */
    @Transactional(readOnly = true)
    public List<DayRecord> records(LocalDate from, LocalDate to) {
        return days.between(from, to);
    }

    /** The stored day of a date. */
    @Transactional(readOnly = true)
    public Optional<DayRecord> record(LocalDate date) {
        return days.on(date);
    }

    /** The first day there is. */
    @Transactional(readOnly = true)
    public Optional<LocalDate> firstDate() {
        return days.firstDate();
    }

    /**
     * Records a typed day.
     *
     * @param version the version of the day that was shown for correction, null for a new day
     */
    @Transactional
    public void record(DayValues values, @Nullable Integer version) {
        Optional<DayRecord> known = days.on(values.date());
        if (known.isPresent() && !known.get().forecast() && version == null) {
            throw new Refused("weather.day.known", values.date()).at("date");
        }
        if (version != null) {
            int now = known.map(DayRecord::version).orElse(-1);
            if (now != version) {
                throw new Stale(version, now);
            }
        }
        put(List.of(values), vineyards.today().plusDays(1), "typed");
    }

    /**
     * Records days handed in by a machine; known days are corrected.
     *
     * @return how many were added, corrected and unchanged
     */
    @Transactional
    public int[] recordAll(List<DayValues> values) {
        if (values.stream().map(DayValues::date).distinct().count() < values.size()) {
            throw new Refused("weather.day.twice").at("days");
        }
        DayStore.Counts counts = put(values, vineyards.today().plusDays(1), "api");
        return new int[] {counts.added(), counts.corrected(), counts.unchanged()};
    }

    /** Withdraws a day; it is kept, marked, and no longer counts. */
    @Transactional
    public void withdraw(LocalDate date, int version) {
        DayRecord known = days.on(date).orElseThrow(() -> new NotFound("weather day " + date));
        if (!days.withdraw(known.id(), version)) {
            throw new Stale(version, known.version());
        }
        events.publishEvent(new WeatherRecorded(vineyards.current().id(), date, date));
    }

    /** Stores days and tells of them; dates from {@code firstForecast} on are forecasts. */
    DayStore.Counts put(List<DayValues> values, LocalDate firstForecast, String source) {
        if (values.isEmpty()) {
            return new DayStore.Counts(0, 0, 0);
        }
        LocalDate latest = latest();
        List<DayValues> sorted = new ArrayList<>(values);
        sorted.sort(java.util.Comparator.comparing(DayValues::date));
        if (sorted.get(sorted.size() - 1).date().isAfter(latest)) {
            throw new Refused("weather.day.too-far-ahead").at("date");
        }
        DayStore.Counts counts = days.put(sorted, firstForecast, source);
        if (counts.added() + counts.corrected() > 0) {
            events.publishEvent(new WeatherRecorded(
                    vineyards.current().id(),
                    sorted.get(0).date(),
                    sorted.get(sorted.size() - 1).date()));
        }
        return counts;
    }

    /** The last date that is taken: a year ahead. */
    LocalDate latest() {
        return vineyards.today().plusDays(FARTHEST_AHEAD);
    }

    /** Evapotranspiration of a stored day with how it was come by. */
    static Daily reference(Site site, DayValues v) {
        return Evapotranspiration.reference(
                site,
                new Measured(
                        v.date().getDayOfYear(),
                        v.lowC(),
                        v.highC(),
                        v.humidityHighPct(),
                        v.humidityLowPct(),
                        v.humidityPct(),
                        v.windMs(),
                        v.radiationMj(),
                        v.sunHours()));
    }

    static WeatherDay day(Site site, DayRecord record) {
        DayValues v = record.values();
        Double rain = v.rainMm();
        return new WeatherDay(
                v.date(),
                v.lowC(),
                v.highC(),
                rain == null ? 0 : rain,
                reference(site, v).et0Mm(),
                record.forecast());
    }
}
