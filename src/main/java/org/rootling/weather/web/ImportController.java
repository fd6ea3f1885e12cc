package org.rootling.weather.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Jobs;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.weather.domain.Column;
import org.rootling.weather.domain.CsvTable;
import org.rootling.weather.domain.DayReader.Mapping;
import org.rootling.weather.domain.DayReader.Outcome;
import org.rootling.weather.domain.DayValues;
import org.rootling.weather.domain.FileUnits;
import org.rootling.weather.domain.Headings;
import org.rootling.weather.domain.Headings.Guess;
import org.rootling.weather.domain.ImportService;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** Import of days from a file: upload, say what the columns are, look, take. */
@Controller
@RequestMapping("/v/{vineyard}/weather/import")
class ImportController {

    private static final int FIRST_SHOWN = 5;
    private static final int LAST_SHOWN = 3;
    private static final int REFUSED_SHOWN = 20;

    /** The upload. */
    record FileForm(@Nullable MultipartFile file) {}

    /** What the columns are. */
    record MappingForm(
            @Min(-1) @Max(1000) int headingRow,
            @NotNull @Size(max = 200) List<@NotNull Column> columns,
            FileUnits.@NotNull Dates dates,
            FileUnits.@NotNull Temperature temperature,
            FileUnits.@NotNull Rain rain,
            FileUnits.@NotNull Wind wind,

            @NotNull @DecimalMin("0.5") @DecimalMax("100") @Measured(Measure.METRE)
            Double windHeightM,

            FileUnits.@NotNull Radiation radiation) {

        MappingForm {
            columns = columns == null ? List.of() : new ArrayList<>(columns);
        }

        static MappingForm of(Guess guess) {
            FileUnits u = guess.units();
            return new MappingForm(
                    guess.headingRow(),
                    guess.columns(),
                    u.dates(),
                    u.temperature(),
                    u.rain(),
                    u.wind(),
                    u.windHeightM(),
                    u.radiation());
        }

        Mapping mapping() {
            return new Mapping(
                    headingRow, columns, new FileUnits(dates, temperature, rain, wind, windHeightM, radiation));
        }
    }

    /** One column as shown: its heading and first values. */
    record ColumnLine(int index, String heading, List<String> samples, Column chosen) {}

    private final ImportService files;
    private final UnitWords words;
    private final Jobs jobs;
    private final MessageSource messages;
    private final Vineyards vineyards;

    ImportController(ImportService files, UnitWords words, Jobs jobs, MessageSource messages, Vineyards vineyards) {
        this.vineyards = vineyards;
        this.files = files;
        this.words = words;
        this.jobs = jobs;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String list(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new FileForm(null));
        }
        ZoneId zone = vineyards.current().zone();
        model.addAttribute(
                "files",
                Listing.of("files", files.all())
                        .by("weather.import.name", f -> f.name())
                        .by("weather.import.on", f -> f.at().atZone(zone).toLocalDate())
                        .by("weather.import.added", f -> f.takenAt() == null ? null : f.added())
                        .by("weather.import.corrected", f -> f.takenAt() == null ? null : f.corrected())
                        .by("weather.import.unchanged", f -> f.takenAt() == null ? null : f.unchanged())
                        .by("weather.import.refused", f -> f.takenAt() == null ? null : f.refused()));
        return "weather/import";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String upload(@ModelAttribute("form") FileForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> "redirect:" + Paths.to("/weather/import/" + files.keep(name(form), bytes(form))),
                () -> list(model));
    }

    private static String name(FileForm form) {
        String name = form.file() == null ? null : form.file().getOriginalFilename();
        return name == null ? "" : name;
    }

    private static byte[] bytes(FileForm form) {
        if (form.file() == null || form.file().isEmpty()) {
            throw new Refused("weather.import.empty-file").at("file");
        }
        try {
            return form.file().getBytes();
        } catch (IOException unreadable) {
            throw new Refused("weather.import.unreadable", 1).at("file");
        }
    }

    @GetMapping("/{id}")
    @Needs(Role.LEAD)
    String show(@PathVariable UUID id, Model model) {
        if (files.file(id).takenAt() != null) {
            model.addAttribute("file", files.file(id));
            return "weather/import-done";
        }
        CsvTable table = files.table(id);
        MappingForm form = MappingForm.of(Headings.guess(table));
        model.addAttribute("form", form);
        return mappingPage(id, table, form, model);
    }

    private String mappingPage(UUID id, CsvTable table, MappingForm form, Model model) {
        List<ColumnLine> lines = new ArrayList<>();
        int width = Math.min(
                200,
                table.rows().stream()
                        .limit(200)
                        .mapToInt(r -> r.cells().size())
                        .max()
                        .orElse(0));
        for (int c = 0; c < width; c++) {
            Column chosen = c < form.columns().size() ? form.columns().get(c) : Column.IGNORE;
            lines.add(
                    new ColumnLine(c, cell(table, form.headingRow(), c), samples(table, form.headingRow(), c), chosen));
        }
        model.addAttribute("file", files.file(id));
        model.addAttribute("table", table);
        model.addAttribute("lines", lines);
        model.addAttribute("allColumns", Column.values());
        Locale locale = LocaleContextHolder.getLocale();
        model.addAttribute("dateOrders", words.of("weather.unit.", FileUnits.Dates.values(), locale));
        words.addTo(model, locale);
        try {
            Outcome outcome = files.preview(table, form.mapping());
            model.addAttribute("outcome", outcome);
            model.addAttribute("someDays", some(outcome.days()));
            model.addAttribute(
                    "someRefused",
                    outcome.refused()
                            .subList(
                                    0, Math.min(REFUSED_SHOWN, outcome.refused().size())));
        } catch (Refused refused) {
            model.addAttribute("problem", refused.key());
        }
        return "weather/import-map";
    }

    /** The first days and the last ones. */
    private static List<DayValues> some(List<DayValues> days) {
        if (days.size() <= FIRST_SHOWN + LAST_SHOWN) {
            return days;
        }
        List<DayValues> some = new ArrayList<>(days.subList(0, FIRST_SHOWN));
        some.addAll(days.subList(days.size() - LAST_SHOWN, days.size()));
        return some;
    }

    private static String cell(CsvTable table, int row, int column) {
        if (row < 0 || row >= table.rows().size()) {
            return "";
        }
        List<String> cells = table.rows().get(row).cells();
        return column < cells.size() ? cells.get(column) : "";
    }

    private static List<String> samples(CsvTable table, int headingRow, int column) {
        List<String> samples = new ArrayList<>();
        for (int i = headingRow + 1; i < table.rows().size() && samples.size() < 3; i++) {
            String cell = cell(table, i, column);
            samples.add(cell.length() > 20 ? cell.substring(0, 20) + "…" : cell);
        }
        return samples;
    }

    @PostMapping("/{id}")
    @Needs(Role.LEAD)
    String map(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") @Nullable MappingForm form,
            BindingResult errors,
            @RequestParam(defaultValue = "look") String then,
            Model model) {
        if (files.file(id).takenAt() != null) {
            return "redirect:" + Paths.to("/weather/import/" + id);
        }
        CsvTable table = files.table(id);
        MappingForm shown = form == null ? MappingForm.of(Headings.guess(table)) : form;
        if (!then.equals("take")) {
            return mappingPage(id, table, shown, model);
        }
        return Forms.submit(
                errors,
                () -> {
                    String here = "/weather/import/" + id;
                    UUID job = jobs.start(
                            messages.getMessage("weather.import.taking", null, LocaleContextHolder.getLocale()),
                            here,
                            progress -> Jobs.Ended.storing(here, () -> files.take(id, shown.mapping())));
                    return "redirect:" + Paths.to("/jobs/" + job);
                },
                () -> mappingPage(id, table, shown, model));
    }
}
