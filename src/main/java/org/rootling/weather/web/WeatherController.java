package org.rootling.weather.web;

import jakarta.validation.Valid;
import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.platform.UnitText;
import org.rootling.weather.calc.HeatSums;
import org.rootling.weather.domain.DayRecord;
import org.rootling.weather.domain.DayValues;
import org.rootling.weather.domain.SeasonService;
import org.rootling.weather.domain.SeasonService.SeasonView;
import org.rootling.weather.domain.WeatherService;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The season's weather, its days, and the page on which a day is typed. */
@Controller
@RequestMapping("/v/{vineyard}/weather")
class WeatherController {

    /** A typed day. */
    record DayForm(
            @SaneDate @Nullable LocalDate date,
            @Measured(Measure.CELSIUS) @Nullable Double low,
            @Measured(Measure.CELSIUS) @Nullable Double high,
            @Measured(Measure.MILLIMETRE) @Nullable Double rain,
            @Measured(Measure.METRE_PER_SECOND) @Nullable Double wind,
            @Nullable Double humidity,
            @Nullable Double humidityHigh,
            @Nullable Double humidityLow,
            @Nullable Double radiation,
            @Nullable Double sun,
            @Nullable Integer version) {

        static DayForm empty(LocalDate date) {
            return new DayForm(date, null, null, null, null, null, null, null, null, null, null);
        }

        static DayForm of(DayRecord record) {
            DayValues v = record.values();
            return new DayForm(
                    v.date(),
                    v.lowC(),
                    v.highC(),
                    v.rainMm(),
                    v.windMs(),
                    v.humidityPct(),
                    v.humidityHighPct(),
                    v.humidityLowPct(),
                    v.radiationMj(),
                    v.sunHours(),
                    record.version());
        }

        DayValues values() {
            if (date == null) {
                throw new Refused("weather.day.no-date").at("date");
            }
            if (low == null || high == null) {
                throw new Refused("weather.day.no-temperatures").at(low == null ? "low" : "high");
            }
            return new DayValues(date, low, high, rain, wind, humidity, humidityHigh, humidityLow, radiation, sun);
        }
    }

    private final WeatherService weather;
    private final SeasonService seasons;
    private final Vineyards vineyards;
    private final CurrentMember member;
    private final MessageSource messages;

    WeatherController(
            WeatherService weather,
            SeasonService seasons,
            Vineyards vineyards,
            CurrentMember member,
            MessageSource messages) {
        this.weather = weather;
        this.seasons = seasons;
        this.vineyards = vineyards;
        this.member = member;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.READER)
    String season(@RequestParam(required = false) @Nullable Integer season, Model model, Locale locale) {
        int current = seasons.currentSeason();
        int asked = season == null ? current : season;
        if (asked < 1900 || asked > current) {
            throw new NotFound("season " + asked);
        }
        SeasonView view = seasons.view(asked);
        LocalDate today = vineyards.today();
        Plots plots = new Plots(key -> messages.getMessage(key, null, locale), locale);
        model.addAttribute("view", view);
        model.addAttribute(
                "earlier",
                Listing.of("seasons", view.earlier())
                        .by("weather.season.choose", e -> e.label())
                        .by("weather.season.days-known", e -> e.days())
                        .by(
                                "weather.list.heat",
                                Measure.DEGREE_DAY.unit(),
                                e -> Measure.DEGREE_DAY.shown(e.heat().sum(), 0))
                        .by(
                                "weather.list.winkler",
                                Measure.DEGREE_DAY.unit(),
                                e -> Measure.DEGREE_DAY.shown(e.winkler().sum(), 0))
                        .by(
                                "weather.list.huglin",
                                Measure.DEGREE_DAY.unit(),
                                e -> Measure.DEGREE_DAY.shown(e.huglin().sum(), 0))
                        .by(
                                "weather.list.rain",
                                Measure.MILLIMETRE.unit(),
                                e -> Measure.MILLIMETRE.shown(e.rainMm(), UnitText.us() ? 1 : 0))
                        .by("weather.sum.frost", e -> e.frostNights())
                        .by("weather.frost.last-short", e -> e.lastFrost()));
        model.addAttribute("now", asked == current);
        model.addAttribute(
                "any", !view.seasons().isEmpty() && weather.firstDate().isPresent());
        model.addAttribute("settings", weather.settings());
        model.addAttribute("habits", weather.habits());
        model.addAttribute(
                "huglinDefined", HeatSums.huglinDefined(weather.habits().latitudeDeg()));
        model.addAttribute("huglinK", HeatSums.huglinK(weather.habits().latitudeDeg()));
        model.addAttribute("seasonChoices", choices(view));
        model.addAttribute(
                "heatPlot",
                plots.heat(view.courses(), asked, vineyards.current().southern()));
        if (asked == current && !view.recent().isEmpty()) {
            model.addAttribute("temperaturePlot", plots.temperatures(view.recent(), today));
            model.addAttribute("waterPlot", plots.water(view.recent(), today));
        }
        LocalDate next = view.missing().isEmpty()
                ? today
                : view.missing().get(view.missing().size() - 1);
        model.addAttribute("form", weather.record(next).map(DayForm::of).orElse(DayForm.empty(next)));
        model.addAttribute("may", member.may(Role.HELPER));
        return "weather/season";
    }

    private Map<Integer, String> choices(SeasonView view) {
        Map<Integer, String> choices = new LinkedHashMap<>();
        boolean south = vineyards.current().southern();
        view.seasons().forEach(s -> choices.put(s, SeasonService.label(s, south)));
        return choices;
    }

    /** One line of the month's table. */
    record Line(LocalDate date, @Nullable DayRecord record) {}

    @GetMapping("/days")
    @Needs(Role.READER)
    String days(@RequestParam(required = false) @Nullable String month, Model model) {
        YearMonth shown = month(month);
        List<DayRecord> records = weather.records(shown.atDay(1), shown.atEndOfMonth());
        Map<LocalDate, DayRecord> byDate = new LinkedHashMap<>();
        records.forEach(r -> byDate.put(r.values().date(), r));
        List<Line> lines = new ArrayList<>();
        for (int day = 1; day <= shown.lengthOfMonth(); day++) {
            LocalDate date = shown.atDay(day);
            lines.add(new Line(date, byDate.get(date)));
        }
        model.addAttribute("month", shown.atDay(1));
        model.addAttribute("before", shown.minusMonths(1));
        model.addAttribute("after", shown.plusMonths(1));
        model.addAttribute(
                "lines",
                Listing.of("days", lines)
                        .by("weather.day.date", l -> l.date())
                        .by(
                                "weather.list.low",
                                Measure.CELSIUS.unit(),
                                l -> listed(l, Measure.CELSIUS, DayValues::lowC))
                        .by(
                                "weather.list.high",
                                Measure.CELSIUS.unit(),
                                l -> listed(l, Measure.CELSIUS, DayValues::highC))
                        .by(
                                "weather.list.rain",
                                Measure.MILLIMETRE.unit(),
                                l -> listed(l, Measure.MILLIMETRE, DayValues::rainMm))
                        .by(
                                "weather.days.from",
                                l -> l.record() == null ? null : l.record().source()));
        model.addAttribute("may", member.may(Role.HELPER));
        return "weather/days";
    }

    private static @Nullable BigDecimal listed(
            Line line, Measure measure, Function<DayValues, @Nullable Double> value) {
        Double known = line.record() == null ? null : value.apply(line.record().values());
        if (known == null) {
            return null;
        }
        return UnitText.us() ? measure.shown(known, 2) : BigDecimal.valueOf(known);
    }

    private YearMonth month(@Nullable String text) {
        if (text == null) {
            return YearMonth.from(vineyards.today());
        }
        try {
            YearMonth month = YearMonth.parse(text);
            if (month.getYear() < 1900 || month.getYear() > 2100) {
                throw new NotFound("month " + text);
            }
            return month;
        } catch (DateTimeException notAMonth) {
            throw new NotFound("month");
        }
    }

    @GetMapping("/day")
    @Needs(Role.HELPER)
    String day(@RequestParam(required = false) @Nullable @SaneDate LocalDate on, Model model) {
        LocalDate date = on == null ? vineyards.today() : on;
        Optional<DayRecord> known = weather.record(date);
        model.addAttribute("form", known.map(DayForm::of).orElse(DayForm.empty(date)));
        return form(date, model);
    }

    private String form(@Nullable LocalDate date, Model model) {
        model.addAttribute("known", date == null ? null : weather.record(date).orElse(null));
        model.addAttribute("lead", member.may(Role.LEAD));
        return "weather/day";
    }

    @PostMapping("/day")
    @Needs(Role.HELPER)
    String record(@Valid @ModelAttribute("form") @Nullable DayForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    if (form == null) {
                        throw new IllegalStateException("bound without errors");
                    }
                    weather.record(form.values(), form.version());
                    return "redirect:" + Paths.to("/weather?saved");
                },
                () -> form(form == null ? null : form.date(), model));
    }

    @PostMapping("/day/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@RequestParam @SaneDate LocalDate date, @RequestParam int version) {
        weather.withdraw(date, version);
        return "redirect:" + Paths.to("/weather/days?month=" + YearMonth.from(date));
    }
}
