package org.rootling.work.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Listing;
import org.rootling.platform.Refused;
import org.rootling.work.domain.LabourReport;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Hours and costs, on the page and as a table to take away. */
@Controller
@RequestMapping("/v/{vineyard}/work/hours")
class HoursController {
    private final LabourReport report;
    private final Vineyards vineyards;

    HoursController(LabourReport report, Vineyards vineyards) {
        this.report = report;
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
        List<LabourReport.Line> lines = report.lines(span.by(), span.from(), span.to());
        model.addAttribute(
                "lines",
                Listing.of("hours", lines)
                        .by("work.hours.by." + by, l -> l.label())
                        .by("work.hours.logs", l -> l.logs())
                        .by("work.hours.places", l -> l.places())
                        .by("work.hours.hours", l -> l.hours())
                        .by("work.hours.paid", l -> l.paidHours())
                        .by("work.hours.unpaid", l -> l.unpaidHours())
                        .by("work.hours.cost", l -> cost(l.costs()))
                        .by(
                                "work.hours.currency",
                                l -> l.costs().size() == 1 ? l.costs().firstKey() : null));
        model.addAttribute("sum", Sum.of(lines));
        return "work/hours";
    }

    /** For a list: an amount, or where there are several currencies all of them in words. */
    private static @Nullable Object cost(SortedMap<String, BigDecimal> costs) {
        return switch (costs.size()) {
            case 0 -> null;
            case 1 -> costs.get(costs.firstKey());
            default ->
                costs.entrySet().stream()
                        .map(each -> each.getValue() + " " + each.getKey())
                        .collect(Collectors.joining(" + "));
        };
    }

    /** All of it; money by currency. */
    record Sum(
            int logs, int places, BigDecimal hours, BigDecimal paid, BigDecimal unpaid, Map<String, BigDecimal> costs) {
        static Sum of(List<LabourReport.Line> lines) {
            Map<String, BigDecimal> costs = new TreeMap<>();
            for (LabourReport.Line l : lines) {
                l.costs().forEach((currency, cost) -> costs.merge(currency, cost, BigDecimal::add));
            }
            return new Sum(
                    lines.stream().mapToInt(LabourReport.Line::logs).sum(),
                    lines.stream().mapToInt(LabourReport.Line::places).sum(),
                    add(lines, LabourReport.Line::hours),
                    add(lines, LabourReport.Line::paidHours),
                    add(lines, LabourReport.Line::unpaidHours),
                    costs);
        }

        private static BigDecimal add(List<LabourReport.Line> lines, Function<LabourReport.Line, BigDecimal> value) {
            return lines.stream().map(value).reduce(BigDecimal.ZERO, BigDecimal::add);
        }
    }

    /** The logs that a sum is made of. */
    @GetMapping("/logs/{by}")
    @Needs(Role.LEAD)
    String logs(
            @PathVariable LabourReport.By by,
            @RequestParam(required = false) @Nullable String key,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            Model model) {
        Span span = span(by, from, to);
        List<LabourReport.Entry> entries = report.entries(by, key, span.from(), span.to());
        model.addAttribute("by", by);
        model.addAttribute("label", key == null ? null : report.label(by, key));
        model.addAttribute("from", span.from());
        model.addAttribute("to", span.to());
        model.addAttribute(
                "minutes",
                entries.stream()
                        .mapToInt(e -> e.minutes() == null ? 0 : e.minutes())
                        .sum());
        model.addAttribute(
                "logs",
                Listing.of("logs", entries)
                        .by("work.row.on", e -> e.on())
                        .by("work.board.step", e -> e.step())
                        .by("work.board.row", e -> e.row())
                        .by("work.board.person", e -> e.person())
                        .by("work.hours.places", e -> e.places())
                        .by("work.row.minutes", e -> e.minutes())
                        .by("work.people.wage", e -> e.wage())
                        .by("work.hours.cost", e -> e.cost())
                        .by("work.hours.currency", e -> e.currency()));
        return "work/hours-logs";
    }

    private Span span(LabourReport.By by, @Nullable LocalDate from, @Nullable LocalDate to) {
        LocalDate last = to == null ? vineyards.today() : to;
        LocalDate first = from == null ? last.minusMonths(12) : from;
        if (first.isAfter(last) || first.getYear() < 1990 || last.getYear() > 2100) {
            throw new Refused("work.hours.span");
        }
        return new Span(by, first, last);
    }
}
