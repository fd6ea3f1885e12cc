package org.rootling.weather.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import tools.jackson.databind.json.JsonMapper;

/** The table of days. */
@Repository
class DayStore {
    private static final int BATCH = 2_000;

    private static final String COLUMNS = "id, date, low_c, high_c, rain_mm, wind_ms, humidity_pct, humidity_high_pct,"
            + " humidity_low_pct, radiation_mj, sun_h, forecast, source, version";

    /** What a batch of days changed. */
    record Counts(int added, int corrected, int unchanged) {
        Counts plus(Counts other) {
            return new Counts(added + other.added, corrected + other.corrected, unchanged + other.unchanged);
        }
    }

    private final JdbcClient jdbc;
    private final JsonMapper json = JsonMapper.builder().build();

    DayStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    List<DayRecord> between(LocalDate from, LocalDate to) {
        return jdbc.sql("select " + COLUMNS
                        + " from weather_day where not withdrawn and date between :from and :to order by date")
                .param("from", from)
                .param("to", to)
                .query(DayStore::record)
                .list();
    }

    /**
     * Another one after every transaction that added, corrected or withdrew a day. Empty within such a transaction, which
     * may go on changing days.
     */
    Optional<String> mark() {
        String mark = jdbc.sql("""
                        select coalesce((select case when changed_by = pg_current_xact_id_if_assigned() then ''
                                                     else changed_by::text end from weather_mark), 'none')""").query(String.class).single();
        return Optional.of(mark).filter(m -> !m.isEmpty());
    }

    Optional<DayRecord> on(LocalDate date) {
        return jdbc.sql("select " + COLUMNS + " from weather_day where not withdrawn and date = :date")
                .param("date", date)
                .query(DayStore::record)
                .optional();
    }

    Optional<LocalDate> firstDate() {
        return jdbc.sql("select date from weather_day where not withdrawn order by date limit 1")
                .query(LocalDate.class)
                .optional();
    }

    Optional<LocalDate> lastForecast(LocalDate from) {
        return jdbc.sql("select date from weather_day where not withdrawn and forecast and date >= :from"
                        + " order by date desc limit 1")
                .param("from", from)
                .query(LocalDate.class)
                .optional();
    }

    /**
     * Stores days: new dates are added, known ones corrected where they differ. A forecast never replaces what was
     * measured.
     */
    Counts put(List<DayValues> days, LocalDate firstForecast, String source) {
        Counts counts = new Counts(0, 0, 0);
        for (int i = 0; i < days.size(); i += BATCH) {
            counts = counts.plus(batch(days.subList(i, Math.min(days.size(), i + BATCH)), firstForecast, source));
        }
        return counts;
    }

    private Counts batch(List<DayValues> days, LocalDate firstForecast, String source) {
        List<Map<String, Object>> rows = new ArrayList<>();
        for (DayValues day : days) {
            rows.add(row(day, !day.date().isBefore(firstForecast)));
        }
        List<Boolean> added = jdbc.sql("""
                insert into weather_day as old (id, date, low_c, high_c, rain_mm, wind_ms, humidity_pct,
                  humidity_high_pct, humidity_low_pct, radiation_mj, sun_h, forecast, source)
                select id, date, low_c, high_c, rain_mm, wind_ms, humidity_pct,
                  humidity_high_pct, humidity_low_pct, radiation_mj, sun_h, forecast, :source
                from jsonb_to_recordset(:rows::jsonb) as r(id uuid, date date, low_c float8, high_c float8,
                  rain_mm float8, wind_ms float8, humidity_pct float8, humidity_high_pct float8,
                  humidity_low_pct float8, radiation_mj float8, sun_h float8, forecast boolean)
                order by date
                on conflict (vineyard_id, date) where not withdrawn do update set
                  low_c = excluded.low_c, high_c = excluded.high_c, rain_mm = excluded.rain_mm,
                  wind_ms = excluded.wind_ms, humidity_pct = excluded.humidity_pct,
                  humidity_high_pct = excluded.humidity_high_pct, humidity_low_pct = excluded.humidity_low_pct,
                  radiation_mj = excluded.radiation_mj, sun_h = excluded.sun_h, forecast = excluded.forecast,
                  source = excluded.source, recorded_at = now(), version = old.version + 1
                where (old.forecast or not excluded.forecast)
                  and (old.low_c, old.high_c, old.rain_mm, old.wind_ms, old.humidity_pct, old.humidity_high_pct,
                       old.humidity_low_pct, old.radiation_mj, old.sun_h, old.forecast)
                    is distinct from
                      (excluded.low_c, excluded.high_c, excluded.rain_mm, excluded.wind_ms, excluded.humidity_pct,
                       excluded.humidity_high_pct, excluded.humidity_low_pct, excluded.radiation_mj, excluded.sun_h,
                       excluded.forecast)
                returning version = 0
                """)
                .param("rows", json.writeValueAsString(rows))
                .param("source", source)
                .query(Boolean.class)
                .list();
        int fresh = (int) added.stream().filter(a -> a).count();
        return new Counts(fresh, added.size() - fresh, days.size() - added.size());
    }

    private static Map<String, Object> row(DayValues day, boolean forecast) {
        Map<String, Object> row = new LinkedHashMap<>();
        row.put("id", Ids.next());
        row.put("date", day.date().toString());
        row.put("low_c", day.lowC());
        row.put("high_c", day.highC());
        put(row, "rain_mm", day.rainMm());
        put(row, "wind_ms", day.windMs());
        put(row, "humidity_pct", day.humidityPct());
        put(row, "humidity_high_pct", day.humidityHighPct());
        put(row, "humidity_low_pct", day.humidityLowPct());
        put(row, "radiation_mj", day.radiationMj());
        put(row, "sun_h", day.sunHours());
        row.put("forecast", forecast);
        return row;
    }

    private static void put(Map<String, Object> row, String name, @Nullable Double value) {
        if (value != null) {
            row.put(name, value);
        }
    }

    /** Withdraws a day as it stands at a version; answers whether it did. */
    boolean withdraw(UUID id, int version) {
        return jdbc.sql("update weather_day set withdrawn = true, version = version + 1"
                                + " where id = :id and version = :version and not withdrawn")
                        .param("id", id)
                        .param("version", version)
                        .update()
                == 1;
    }

    private static DayRecord record(ResultSet row, int number) throws SQLException {
        DayValues values = new DayValues(
                row.getObject("date", LocalDate.class),
                row.getDouble("low_c"),
                row.getDouble("high_c"),
                row.getObject("rain_mm", Double.class),
                row.getObject("wind_ms", Double.class),
                row.getObject("humidity_pct", Double.class),
                row.getObject("humidity_high_pct", Double.class),
                row.getObject("humidity_low_pct", Double.class),
                row.getObject("radiation_mj", Double.class),
                row.getObject("sun_h", Double.class));
        return new DayRecord(
                row.getObject("id", UUID.class),
                values,
                row.getBoolean("forecast"),
                row.getString("source"),
                row.getInt("version"));
    }
}
