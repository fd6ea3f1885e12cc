package org.rootling.weather.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.EnumMap;
import java.util.Map;
import org.rootling.platform.Ids;
import org.rootling.platform.Stale;
import org.rootling.weather.calc.FrostStage;
import org.rootling.weather.calc.HeatSums.UpperCut;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/** The row of settings, or the defaults. */
@Repository
class SettingsStore {
    private final JdbcClient jdbc;
    private final JsonMapper json = JsonMapper.builder().build();

    SettingsStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    WeatherSettings get() {
        return jdbc.sql("select * from weather_setting")
                .query(this::settings)
                .optional()
                .orElse(WeatherSettings.USUAL);
    }

    void put(WeatherSettings s) {
        int changed = jdbc.sql("""
                insert into weather_setting as old (id, base_c, cut_c, cut_kind, frost_c, margin_k, stage, coastal,
                  fetch_on, fetch_url, fetch_paths, temperature_unit, rain_unit, wind_unit, wind_height_m,
                  radiation_unit)
                values (:id, :base, :cut, :kind, :frost, :margin, :stage, :coastal, :on, :url, :paths::jsonb,
                  :temperature, :rain, :wind, :height, :radiation)
                on conflict (vineyard_id) do update set base_c = excluded.base_c, cut_c = excluded.cut_c,
                  cut_kind = excluded.cut_kind, frost_c = excluded.frost_c, margin_k = excluded.margin_k,
                  stage = excluded.stage, coastal = excluded.coastal, fetch_on = excluded.fetch_on,
                  fetch_url = excluded.fetch_url, fetch_paths = excluded.fetch_paths,
                  temperature_unit = excluded.temperature_unit, rain_unit = excluded.rain_unit,
                  wind_unit = excluded.wind_unit, wind_height_m = excluded.wind_height_m,
                  radiation_unit = excluded.radiation_unit, version = old.version + 1
                where old.version = :version
                """)
                .param("id", Ids.next())
                .param("base", s.baseC())
                .param("cut", s.cutC())
                .param("kind", s.cut().name())
                .param("frost", s.frostC())
                .param("margin", s.marginK())
                .param("stage", s.stage().name())
                .param("coastal", s.coastal())
                .param("on", s.fetchOn())
                .param("url", s.fetchUrl())
                .param("paths", json.writeValueAsString(s.fetchPaths()))
                .param("temperature", s.fetchUnits().temperature().name())
                .param("rain", s.fetchUnits().rain().name())
                .param("wind", s.fetchUnits().wind().name())
                .param("height", s.fetchUnits().windHeightM())
                .param("radiation", s.fetchUnits().radiation().name())
                .param("version", s.version())
                .update();
        if (changed == 0) {
            throw new Stale(s.version(), get().version());
        }
    }

    private WeatherSettings settings(ResultSet row, int number) throws SQLException {
        Map<Column, String> paths = new EnumMap<>(Column.class);
        json.readValue(row.getString("fetch_paths"), new TypeReference<Map<String, String>>() {})
                .forEach((column, path) -> paths.put(Column.valueOf(column), path));
        return new WeatherSettings(
                row.getDouble("base_c"),
                row.getObject("cut_c", Double.class),
                UpperCut.valueOf(row.getString("cut_kind")),
                row.getDouble("frost_c"),
                row.getDouble("margin_k"),
                FrostStage.valueOf(row.getString("stage")),
                row.getBoolean("coastal"),
                row.getBoolean("fetch_on"),
                row.getString("fetch_url"),
                paths,
                new FileUnits(
                        FileUnits.Dates.DAY_FIRST,
                        FileUnits.Temperature.valueOf(row.getString("temperature_unit")),
                        FileUnits.Rain.valueOf(row.getString("rain_unit")),
                        FileUnits.Wind.valueOf(row.getString("wind_unit")),
                        row.getDouble("wind_height_m"),
                        FileUnits.Radiation.valueOf(row.getString("radiation_unit"))),
                row.getInt("version"));
    }
}
