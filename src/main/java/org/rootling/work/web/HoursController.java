package org.rootling.work.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Listing;
import org.rootling.platform.Refused;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.domain.LabourReport;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Hours and costs. */
@Controller
@RequestMapping("/v/{vineyard}/work/hours")
class HoursController {
    private final LabourReport report;
    private final Steps steps;
    private final Vineyards vineyards;

    HoursController(LabourReport report, Steps steps, Vineyards vineyards) {
        this.report = report;
        this.steps = steps;
        this.vineyards = vineyards;
    }

    /** What to sum and over which days. */
    private record Span(LabourReport.By by, LocalDate from, LocalDate to) {}

    @GetMapping
    @Needs(Role.LEAD)
    String hours(
            @RequestParam(defaultValue = "STEP") LabourReport.By by,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            Model model) {
        Span span = span(by, from, to);
        model.addAttribute("by", by);
        model.addAttribute("from", span.from());
        model.addAttribute("to", span.to());
        model.addAttribute("sums", LabourReport.By.values());
        model.addAttribute(
                "lines",
                Listing.of("hours", lines(span))
                        .by("work.hours.by." + by, l -> l.key())
                        .by("work.hours.places", l -> l.places())
                        .by("work.hours.hours", l -> l.hours())
                        .by("work.hours.paid", l -> l.paidHours())
                        .by("work.hours.unpaid", l -> l.unpaidHours())
                        .by("work.hours.cost", l -> l.cost())
                        .by("work.hours.currency", l -> l.currency()));
        return "work/hours";
    }

    private Span span(LabourReport.By by, @Nullable LocalDate from, @Nullable LocalDate to) {
        LocalDate last = to == null ? vineyards.today() : to;
        LocalDate first = from == null ? last.minusMonths(12) : from;
        if (first.isAfter(last) || first.getYear() < 1990 || last.getYear() > 2100) {
            throw new Refused("work.hours.span");
        }
        return new Span(by, first, last);
    }

    private List<LabourReport.Line> lines(Span span) {
        List<LabourReport.Line> lines = report.lines(span.by(), span.from(), span.to());
        if (span.by() != LabourReport.By.STEP) {
            return lines;
        }
        Map<String, String> names = steps.all().stream().collect(Collectors.toMap(Step::code, Step::name));
        return lines.stream()
                .map(l -> new LabourReport.Line(
                        names.getOrDefault(l.key(), l.key()),
                        l.places(),
                        l.hours(),
                        l.paidHours(),
                        l.unpaidHours(),
                        l.cost(),
                        l.currency()))
                .toList();
    }
}
