package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import org.rootling.nursery.calc.HoldWeather;
import org.rootling.platform.Tenancy;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.stereotype.Component;

/** The vineyard's weather as the hold clock wants it, laid out once for as long as it does not change. */
@Component
class BedWeather {

    private static final int MOST_KEPT = 32;

    /** One list of days, and what was laid out of it, by the day it is seen from. */
    record Days(List<WeatherDay> days, Map<LocalDate, HoldWeather> laidOut) {

        /** No days at all. */
        static final Days NONE = new Days(List.of(), new ConcurrentHashMap<>());

        /** The weather seen from the start of a day; none where nothing is recorded. */
        HoldWeather asOf(LocalDate day) {
            return laidOut.computeIfAbsent(day, d -> HoldWeather.of(days, d));
        }
    }

    private final Map<UUID, Days> kept = Collections.synchronizedMap(new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<UUID, Days> eldest) {
            return size() > MOST_KEPT;
        }
    });

    private final Weather weather;

    BedWeather(Weather weather) {
        this.weather = weather;
    }

    /** The weather around a day, to be seen from it and from days before it. */
    @SuppressWarnings("ReferenceEquality")
    Days around(LocalDate day) {
        List<WeatherDay> days = weather.around(day);
        Days known = kept.get(Tenancy.require());
        // The same list means the same weather; comparing thousands of days would cost what keeping them saves.
        if (known != null && known.days() == days) {
            return known;
        }
        Days fresh = new Days(days, new ConcurrentHashMap<>());
        kept.put(Tenancy.require(), fresh);
        return fresh;
    }
}
