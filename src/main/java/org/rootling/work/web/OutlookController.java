package org.rootling.work.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.format.TextStyle;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.work.domain.LostDays;
import org.rootling.work.domain.Outlook;
import org.rootling.work.domain.OutlookService;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Will it be done in time? */
@Controller
@RequestMapping("/v/{vineyard}/work/outlook")
class OutlookController {
    /** Seasons to play, and when a day counts as lost. */
    record PlayForm(
            @NotNull @SaneDate LocalDate from,
            @Min(100) @Max(10_000) int seasons,
            @Min(0) @Max(999_999_999) long seed,

            @NotNull @DecimalMin("0") @DecimalMax("500") @Measured(Measure.MILLIMETRE)
            BigDecimal rainMm,

            @NotNull @DecimalMin("-30") @DecimalMax("10") @Measured(Measure.CELSIUS)
            BigDecimal frostC,

            @NotNull @DecimalMin("0") @DecimalMax("90") BigDecimal noShow,
            int version) {}

    private final OutlookService outlooks;
    private final LostDays lostDays;
    private final Vineyards vineyards;

    OutlookController(OutlookService outlooks, LostDays lostDays, Vineyards vineyards) {
        this.outlooks = outlooks;
        this.lostDays = lostDays;
        this.vineyards = vineyards;
    }

    /** Something that might help, in words for the page. */
    record HelpLine(Outlook.Help help, String about) {}

    @GetMapping
    @Needs(Role.READER)
    String outlook(Model model, HttpServletResponse response) {
        Optional<OutlookService.Run> run = outlooks.latest();
        if (run.filter(OutlookService.Run::running).isPresent()) {
            // The page follows the run without any script.
            response.setHeader("Refresh", "2");
        }
        return show(model, run.orElse(null));
    }

    private String show(Model model, OutlookService.@Nullable Run run) {
        if (!model.containsAttribute("form")) {
            LostDays.Settings s = lostDays.settings();
            model.addAttribute(
                    "form",
                    new PlayForm(
                            vineyards.today(),
                            2000,
                            run == null ? 1 : run.seed(),
                            s.rainMm(),
                            s.frostC(),
                            s.noShow().movePointRight(2).stripTrailingZeros(),
                            s.version()));
        }
        model.addAttribute("run", run);
        Outlook answer = run == null ? null : run.answer();
        model.addAttribute("answer", answer);
        model.addAttribute(
                "lots",
                Listing.of("lots", answer == null ? List.<Outlook.LotChance>of() : answer.lots())
                        .on(Paths.to("/work/outlook"))
                        .by("work.task.lot", l -> l.lot())
                        .by("work.outlook.vines", l -> l.vines())
                        .by("work.outlook.runs-out", l -> l.runsOut())
                        .by(
                                "work.outlook.chance-percent",
                                l -> l.chance() == null ? null : Math.round(l.chance() * 100))
                        .by("work.outlook.half", l -> l.half())
                        .by("work.outlook.most", l -> l.most())
                        .by("work.outlook.nearly-all", l -> l.nearlyAll()));
        Locale locale = LocaleContextHolder.getLocale();
        if (run != null && answer != null) {
            model.addAttribute("plot", plot(run.starts(), answer.curve(), locale));
            model.addAttribute(
                    "helps",
                    answer.helps().stream()
                            .map(h -> new HelpLine(h, about(h, locale)))
                            .toList());
        }
        return "work/outlook";
    }

    private static String about(Outlook.Help help, Locale locale) {
        return switch (help.what()) {
            case "HELPER_DAY" ->
                DateTimeFormatter.ofPattern("EEEE d MMMM", locale).format(LocalDate.parse(help.about()));
            case "HELPER_WEEKLY" -> DayOfWeek.valueOf(help.about()).getDisplayName(TextStyle.FULL, locale);
            default -> help.about();
        };
    }

    /** The share of seasons that are done by each day. */
    private static String plot(LocalDate start, List<Double> curve, Locale locale) {
        double left = 44;
        double right = 468;
        double top = 14;
        double bottom = 196;
        int last = Math.max(1, curve.size() - 1);
        MarkupWriter svg = new MarkupWriter()
                .open(
                        "svg",
                        "class",
                        "plot",
                        "viewBox",
                        "0 0 480 230",
                        "role",
                        "img",
                        "aria-labelledby",
                        "plot-name",
                        "aria-details",
                        "plot-told");
        for (int share : new int[] {0, 50, 80, 95}) {
            double y = bottom - (bottom - top) * share / 100;
            svg.empty("line", "class", "grid", "x1", left, "x2", right, "y1", y, "y2", y);
            svg.text("text", share + " %", "x", left - 6, "y", y + 4, "font-size", "12", "text-anchor", "end");
        }
        StringBuilder points = new StringBuilder();
        for (int d = 0; d < curve.size(); d++) {
            double x = left + (right - left) * d / last;
            points.append(MarkupWriter.number(x))
                    .append(',')
                    .append(MarkupWriter.number(bottom - (bottom - top) * curve.get(d)))
                    .append(' ');
        }
        svg.empty(
                "polyline",
                "class",
                "s1",
                "stroke-width",
                "3",
                "points",
                points.toString().strip());
        DateTimeFormatter day = DateTimeFormatter.ofPattern("d MMM", locale);
        int step = Math.max(1, (last + 4) / 5);
        for (int d = 0; d <= last; d += step) {
            double x = left + (right - left) * d / last;
            svg.empty("line", "class", "axis", "x1", x, "x2", x, "y1", bottom, "y2", bottom + 5);
            svg.text(
                    "text",
                    day.format(start.plusDays(d)),
                    "x",
                    x,
                    "y",
                    bottom + 20,
                    "font-size",
                    "12",
                    "text-anchor",
                    d == 0 ? "start" : d + step > last ? "end" : "middle");
        }
        svg.empty("line", "class", "axis", "x1", left, "x2", right, "y1", bottom, "y2", bottom);
        return svg.close("svg").toString();
    }

    @PostMapping
    @Needs(Role.LEAD)
    String start(@Valid @ModelAttribute("form") PlayForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    LostDays.Settings wanted = new LostDays.Settings(
                            form.rainMm(), form.frostC(), form.noShow().movePointLeft(2), form.version());
                    LostDays.Settings there = lostDays.settings();
                    if (wanted.rainMm().compareTo(there.rainMm()) != 0
                            || wanted.frostC().compareTo(there.frostC()) != 0
                            || wanted.noShow().compareTo(there.noShow()) != 0) {
                        lostDays.change(wanted);
                    }
                    outlooks.start(form.from(), form.seasons(), form.seed());
                    return "redirect:" + Paths.to("/work/outlook");
                },
                () -> show(model, outlooks.latest().orElse(null)));
    }

    @PostMapping("/{id}/cancel")
    @Needs(Role.LEAD)
    String cancel(@PathVariable UUID id) {
        outlooks.cancel(id);
        return "redirect:" + Paths.to("/work/outlook");
    }
}
