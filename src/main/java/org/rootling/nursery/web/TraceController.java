package org.rootling.nursery.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.PlantedOf.Stand;
import org.rootling.nursery.domain.Trace;
import org.rootling.nursery.domain.Trace.Line;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.CellText;
import org.rootling.platform.Listing;
import org.rootling.platform.Paths;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** From a plant passport to the places of its vines: page, CSV and PDF. */
@Controller
@RequestMapping("/v/{vineyard}/passports")
class TraceController {

    private static final String CSS =
            "@page { size: A4 landscape; margin: 12mm; } body { font-family: sans-serif, Notebook; font-size: 9pt; }"
                    + " table { border-collapse: collapse; width: 100%; } th, td { border: 0.5pt solid #555;"
                    + " padding: 2pt 4pt; text-align: left; vertical-align: top; } h1 { font-size: 14pt; }";

    private static final List<String> HEADINGS = List.of(
            "nursery.passports.lot",
            "nursery.list.variety",
            "nursery.list.clone",
            "nursery.list.rootstock",
            "nursery.passports.nursery",
            "nursery.suppliers.registration",
            "nursery.papers.botanical",
            "nursery.papers.registration",
            "nursery.papers.trace",
            "nursery.papers.origin",
            "nursery.papers.extra",
            "nursery.passports.received",
            "nursery.list.delivery-note",
            "nursery.delivery.invoice-no",
            "nursery.passports.papers",
            "nursery.lot.count",
            "nursery.lot.balance",
            "nursery.passports.where",
            "nursery.passports.vines-there",
            "nursery.passports.from");

    private final Trace trace;
    private final Vineyards vineyards;
    private final Choices choices;

    TraceController(Trace trace, Vineyards vineyards, Choices choices) {
        this.trace = trace;
        this.vineyards = vineyards;
        this.choices = choices;
    }

    @GetMapping
    @Needs(Role.READER)
    String page(@RequestParam(required = false) @Nullable String code, Model model) {
        model.addAttribute(
                "lines",
                Listing.of("passports", trace.lines(code))
                        .by("nursery.passports.lot", l -> l.lot().code())
                        .by("nursery.list.variety", l -> l.lot().variety())
                        .by("nursery.list.clone", l -> l.lot().cloneName())
                        .by("nursery.list.rootstock", l -> l.lot().rootstock())
                        .by("nursery.passports.nursery", l -> l.lot().nursery())
                        .by("nursery.suppliers.registration", l -> l.registration())
                        .by("nursery.papers.botanical", l -> l.passport().botanical())
                        .by("nursery.papers.registration", l -> l.passport().registration())
                        .by("nursery.papers.trace", l -> l.passport().trace())
                        .by("nursery.papers.origin", l -> l.passport().origin())
                        .by("nursery.papers.extra", l -> l.passport().extra())
                        .by("nursery.passports.received", l -> l.received())
                        .by("nursery.list.delivery-note", l -> l.deliveryNoteNo())
                        .by("nursery.delivery.invoice-no", l -> l.invoiceNo())
                        .by("nursery.lot.balance", l -> l.lot().balance())
                        .by(
                                "nursery.passports.where",
                                l -> l.stands().stream()
                                        .map(s -> s.places() + " (" + s.vines() + ")")
                                        .collect(Collectors.joining(", "))));
        model.addAttribute("code", code == null ? "" : code);
        return "nursery/passports";
    }

    @GetMapping("/trace.csv")
    @Needs(Role.READER)
    ResponseEntity<byte[]> csv(@RequestParam(required = false) @Nullable String code) {
        StringBuilder out = new StringBuilder("\uFEFF");
        try (CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180)) {
            csv.printRecord(HEADINGS.stream().map(choices::words).toList());
            for (Line line : trace.lines(code)) {
                List<Stand> stands = line.stands();
                if (stands.isEmpty()) {
                    csv.printRecord(row(line, null));
                }
                for (Stand stand : stands) {
                    csv.printRecord(row(line, stand));
                }
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return download(
                "passports.csv", new MediaType("text", "csv"), out.toString().getBytes(StandardCharsets.UTF_8));
    }

    private static Object[] row(Line line, @Nullable Stand stand) {
        return new Object[] {
            safe(line.lot().code()),
            safe(line.lot().variety()),
            safe(line.lot().cloneName()),
            safe(line.lot().rootstock()),
            safe(line.lot().nursery()),
            safe(line.registration()),
            safe(line.passport().botanical()),
            safe(line.passport().registration()),
            safe(line.passport().trace()),
            safe(line.passport().origin()),
            safe(line.passport().extra()),
            line.received(),
            safe(line.deliveryNoteNo()),
            safe(line.invoiceNo()),
            line.kept().stream()
                    .map(p -> Paths.to("/pictures/" + p.pictureId()))
                    .collect(Collectors.joining(" ")),
            line.lot().count(),
            line.lot().balance(),
            stand == null ? "" : safe(stand.places()),
            stand == null ? "" : stand.vines(),
            stand == null || stand.from() == null ? "" : stand.from()
        };
    }

    /** Text that a spreadsheet will not take for a formula. */
    private static String safe(@Nullable String text) {
        return text == null ? "" : CellText.harmless(text);
    }

    @GetMapping("/trace.pdf")
    @Needs(Role.READER)
    ResponseEntity<byte[]> pdf(@RequestParam(required = false) @Nullable String code) {
        StringBuilder body = new StringBuilder();
        String title = choices.words("nursery.passports.title");
        body.append("<h1>").append(Pdf.escape(title)).append("</h1><p>");
        body.append(Pdf.escape(vineyards.current().name() + ", " + vineyards.today()))
                .append("</p><table><tr>");
        for (String key : List.of("lot", "vines", "nursery", "passport", "received", "papers", "where")) {
            body.append("<th>")
                    .append(Pdf.escape(choices.words("nursery.passports." + key)))
                    .append("</th>");
        }
        body.append("</tr>");
        for (Line line : trace.lines(code)) {
            body.append("<tr>");
            cell(body, line.lot().code());
            cell(body, line.lot().variety() + " / " + line.lot().rootstock());
            cell(body, join(line.lot().nursery(), line.registration()));
            cell(
                    body,
                    join(
                            "A " + or(line.passport().botanical()),
                            "B " + or(line.passport().registration()),
                            "C " + or(line.passport().trace()),
                            "D " + or(line.passport().origin()),
                            line.passport().extra()));
            cell(body, line.received().toString());
            cell(
                    body,
                    join(
                            line.deliveryNoteNo(),
                            line.invoiceNo(),
                            line.kept().isEmpty()
                                    ? null
                                    : choices.words(
                                            "nursery.kept.count", line.kept().size())));
            StringBuilder where = new StringBuilder();
            line.stands()
                    .forEach(s -> where.append(s.places())
                            .append(" (")
                            .append(s.vines())
                            .append("); "));
            if (line.lot().balance() > 0) {
                where.append(
                        choices.words("nursery.passports.waiting", line.lot().balance()));
            }
            cell(body, where.toString());
            body.append("</tr>");
        }
        body.append("</table><p>")
                .append(Pdf.escape(choices.words("nursery.papers.keep")))
                .append("</p>");
        return download("passports.pdf", MediaType.APPLICATION_PDF, Pdf.of(title, CSS, body.toString()));
    }

    private static void cell(StringBuilder body, String text) {
        body.append("<td>").append(Pdf.escape(text)).append("</td>");
    }

    private static String or(@Nullable String text) {
        return text == null ? "–" : text;
    }

    private static String join(@Nullable String... parts) {
        StringBuilder all = new StringBuilder();
        for (String part : parts) {
            if (part != null && !part.isEmpty()) {
                all.append(all.length() == 0 ? "" : ", ").append(part);
            }
        }
        return all.toString();
    }

    static ResponseEntity<byte[]> download(String name, MediaType type, byte[] content) {
        return ResponseEntity.ok()
                .contentType(type)
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment().filename(name).build().toString())
                .body(content);
    }
}
