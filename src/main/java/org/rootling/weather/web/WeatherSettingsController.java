package org.rootling.weather.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.weather.calc.FrostStage;
import org.rootling.weather.calc.HeatSums.UpperCut;
import org.rootling.weather.domain.Column;
import org.rootling.weather.domain.FetchService;
import org.rootling.weather.domain.FileUnits;
import org.rootling.weather.domain.WeatherService;
import org.rootling.weather.domain.WeatherSettings;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** How heat is summed, where frost begins, and the daily fetch. */
@Controller
@RequestMapping("/v/{vineyard}/weather")
class WeatherSettingsController {
    private static final String PATH = "[A-Za-z0-9_-]{1,60}(\\[\\])?(\\.[A-Za-z0-9_-]{1,60}(\\[\\])?){0,8}";

    /** The settings; temperatures in °C, the margin in K. */
    record SettingsForm(
            @NotNull @DecimalMin("-5") @DecimalMax("20") @Measured(Measure.CELSIUS)
            Double base,

            @DecimalMin("20") @DecimalMax("50") @Measured(Measure.CELSIUS) @Nullable
            Double cut,

            @NotNull UpperCut cutKind,

            @NotNull @DecimalMin("-5") @DecimalMax("5") @Measured(Measure.CELSIUS)
            Double frost,

            @NotNull @DecimalMin("0") @DecimalMax("6") @Measured(Measure.KELVIN)
            Double margin,

            @NotNull FrostStage stage,
            @Nullable Boolean coastal,
            @Nullable Boolean fetchOn,
            @Size(max = 500) @Nullable String url,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathDate,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathLow,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathHigh,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathRain,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathWind,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathHumidity,

            @Size(max = 200) @Pattern(regexp = PATH, message = "{weather.settings.path}") @Nullable
            String pathRadiation,

            FileUnits.@NotNull Temperature temperature,
            FileUnits.@NotNull Rain rain,
            FileUnits.@NotNull Wind wind,

            @NotNull @DecimalMin("0.5") @DecimalMax("100") @Measured(Measure.METRE)
            Double windHeightM,

            FileUnits.@NotNull Radiation radiation,
            int version) {

        static SettingsForm of(WeatherSettings s) {
            FileUnits u = s.fetchUnits();
            Map<Column, String> p = s.fetchPaths();
            return new SettingsForm(
                    s.baseC(),
                    s.cutC(),
                    s.cut(),
                    s.frostC(),
                    s.marginK(),
                    s.stage(),
                    s.coastal(),
                    s.fetchOn(),
                    s.fetchUrl(),
                    p.get(Column.DATE),
                    p.get(Column.LOW),
                    p.get(Column.HIGH),
                    p.get(Column.RAIN),
                    p.get(Column.WIND),
                    p.get(Column.HUMIDITY),
                    p.get(Column.RADIATION),
                    u.temperature(),
                    u.rain(),
                    u.wind(),
                    u.windHeightM(),
                    u.radiation(),
                    s.version());
        }

        WeatherSettings settings() {
            if (cutKind != UpperCut.NONE && cut == null) {
                throw new Refused("weather.settings.cut-missing").at("cut");
            }
            Map<Column, String> paths = new EnumMap<>(Column.class);
            put(paths, Column.DATE, pathDate);
            put(paths, Column.LOW, pathLow);
            put(paths, Column.HIGH, pathHigh);
            put(paths, Column.RAIN, pathRain);
            put(paths, Column.WIND, pathWind);
            put(paths, Column.HUMIDITY, pathHumidity);
            put(paths, Column.RADIATION, pathRadiation);
            boolean on = Boolean.TRUE.equals(fetchOn);
            if (on) {
                if (url == null || !url.toLowerCase(Locale.ROOT).startsWith("http")) {
                    throw new Refused("weather.settings.url-missing").at("url");
                }
                if (!url.contains("{latitude}") || !url.contains("{longitude}")) {
                    throw new Refused("weather.settings.url-places").at("url");
                }
                require(pathDate, "pathDate");
                require(pathLow, "pathLow");
                require(pathHigh, "pathHigh");
            }
            return new WeatherSettings(
                    base,
                    cut,
                    cutKind,
                    frost,
                    margin,
                    stage,
                    Boolean.TRUE.equals(coastal),
                    on,
                    url,
                    paths,
                    new FileUnits(FileUnits.Dates.DAY_FIRST, temperature, rain, wind, windHeightM, radiation),
                    version);
        }

        private static void put(Map<Column, String> paths, Column column, @Nullable String path) {
            if (path != null) {
                paths.put(column, path);
            }
        }

        private static void require(@Nullable String path, String field) {
            if (path == null) {
                throw new Refused("weather.settings.path-missing").at(field);
            }
        }
    }

    private final WeatherService weather;
    private final FetchService fetch;
    private final UnitWords words;

    WeatherSettingsController(WeatherService weather, FetchService fetch, UnitWords words) {
        this.weather = weather;
        this.fetch = fetch;
        this.words = words;
    }

    @GetMapping("/settings")
    @Needs(Role.LEAD)
    String settings(Model model, Locale locale) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", SettingsForm.of(weather.settings()));
        }
        model.addAttribute("cuts", words.of("weather.cut.", UpperCut.values(), locale));
        model.addAttribute("stages", words.of("weather.stage.", FrostStage.values(), locale));
        words.addTo(model, locale);
        model.addAttribute("fetch", fetch.state());
        model.addAttribute("known", weather.settings());
        return "weather/settings";
    }

    @PostMapping("/settings")
    @Needs(Role.OWNER)
    String change(@Valid @ModelAttribute("form") SettingsForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    weather.change(form.settings());
                    return "redirect:" + Paths.to("/weather/settings?saved");
                },
                () -> settings(model, locale));
    }

    @PostMapping("/fetch")
    @Needs(Role.OWNER)
    String fetchNow() {
        fetch.fetchNow();
        return "redirect:" + Paths.to("/weather/settings");
    }
}
