package org.rootling.work.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Refused;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.domain.LabourReport;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Hours and costs, on the page and as a table to take away. */
@Controller
@RequestMapping("/v/{vineyard}/work/hours")
class HoursController {
    private final LabourReport report;
    private final Steps steps;
    private final Vineyards vineyards;
    private final MessageSource messages;

    HoursController(LabourReport report, Steps steps, Vineyards vineyards, MessageSource messages) {
        this.report = report;
        this.steps = steps;
        this.vineyards = vineyards;
        this.messages = messages;
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
        model.addAttribute("lines", lines(span));
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

    @GetMapping("/table.csv")
    @Needs(Role.LEAD)
    void csv(
            @RequestParam(defaultValue = "STEP") LabourReport.By by,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            HttpServletResponse response)
            throws IOException {
        Span span = span(by, from, to);
        List<LabourReport.Line> lines = lines(span);
        response.setContentType("text/csv;charset=UTF-8");
        response.setHeader("Content-Disposition", "attachment; filename=\"" + name(span) + ".csv\"");
        try (CSVPrinter out = new CSVPrinter(
                new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8), CSVFormat.RFC4180)) {
            out.printRecord(heads(span));
            for (LabourReport.Line l : lines) {
                out.printRecord(
                        harmless(l.key()),
                        l.places(),
                        l.hours(),
                        l.paidHours(),
                        l.unpaidHours(),
                        Objects.toString(l.cost(), ""),
                        Objects.toString(l.currency(), ""));
            }
        }
    }

    @GetMapping("/table.xlsx")
    @Needs(Role.LEAD)
    void xlsx(
            @RequestParam(defaultValue = "STEP") LabourReport.By by,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            HttpServletResponse response)
            throws IOException {
        Span span = span(by, from, to);
        List<LabourReport.Line> lines = lines(span);
        response.setContentType("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet");
        response.setHeader("Content-Disposition", "attachment; filename=\"" + name(span) + ".xlsx\"");
        try (OutputStream out = response.getOutputStream();
                Workbook book = new Workbook(out, "Rootling", "1.0")) {
            Worksheet sheet = book.newWorksheet("hours");
            List<String> heads = heads(span);
            for (int c = 0; c < heads.size(); c++) {
                sheet.value(0, c, heads.get(c));
                sheet.style(0, c).bold().set();
            }
            for (int r = 0; r < lines.size(); r++) {
                LabourReport.Line l = lines.get(r);
                sheet.value(r + 1, 0, l.key());
                sheet.value(r + 1, 1, l.places());
                sheet.value(r + 1, 2, l.hours());
                sheet.value(r + 1, 3, l.paidHours());
                sheet.value(r + 1, 4, l.unpaidHours());
                if (l.cost() != null) {
                    sheet.value(r + 1, 5, l.cost());
                    sheet.value(r + 1, 6, l.currency());
                }
            }
        }
    }

    private static String name(Span span) {
        return "hours-" + span.by().name().toLowerCase(Locale.ROOT) + "-" + span.from() + "-" + span.to();
    }

    private List<String> heads(Span span) {
        Function<String, String> text =
                key -> String.valueOf(messages.getMessage(key, null, key, LocaleContextHolder.getLocale()));
        return List.of(
                text.apply("work.hours.by." + span.by()),
                text.apply("work.hours.places"),
                text.apply("work.hours.hours"),
                text.apply("work.hours.paid"),
                text.apply("work.hours.unpaid"),
                text.apply("work.hours.cost"),
                text.apply("work.hours.currency"));
    }

    /** A name that a spreadsheet would take for a formula is shown as text. */
    private static String harmless(String text) {
        return !text.isEmpty() && "=+-@\t\r".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
