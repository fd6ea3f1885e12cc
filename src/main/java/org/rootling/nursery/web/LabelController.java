package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.PlantedOf;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.StoreView;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Jobs;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.util.UriComponentsBuilder;

/** Labels with QR codes for lots and beds, on common A4 label sheets. */
@Controller
@RequestMapping("/v/{vineyard}/labels")
class LabelController {

    /**
     * A label sheet of A4, in millimetres; the grid lies in the middle of the sheet.
     */
    enum Sheet {
        L24(3, 8, 70, 37, 0),
        L21(3, 7, 63.5, 38.1, 2.5),
        L14(2, 7, 99.1, 38.1, 2.5),
        L8(2, 4, 99.1, 67.7, 2.5);

        final int columns;
        final int rows;
        final double width;
        final double height;
        final double gapX;

        Sheet(int columns, int rows, double width, double height, double gapX) {
            this.columns = columns;
            this.rows = rows;
            this.width = width;
            this.height = height;
            this.gapX = gapX;
        }

        double left() {
            return (210 - columns * width - (columns - 1) * gapX) / 2;
        }

        double top() {
            return (297 - rows * height) / 2;
        }
    }

    /** One label. */
    record Label(String head, String line, String small, String path) {}

    /** So many take well under a second; more are made in the background. */
    static final int AT_ONCE = 48;

    private static final int MOST = 2000;

    private final Lots lots;
    private final Ground ground;
    private final ObjectProvider<PlantedOf> planted;
    private final NurseryViews views;
    private final Choices choices;
    private final Jobs jobs;

    LabelController(
            Lots lots,
            Ground ground,
            ObjectProvider<PlantedOf> planted,
            NurseryViews views,
            Choices choices,
            Jobs jobs) {
        this.lots = lots;
        this.ground = ground;
        this.planted = planted;
        this.views = views;
        this.choices = choices;
        this.jobs = jobs;
    }

    @GetMapping
    @Needs(Role.READER)
    String page(Model model) {
        model.addAttribute("sheets", choices.of("nursery.labels.sheet.", Sheet.values()));
        return "nursery/labels";
    }

    /** Leads to the file, or begins to make it where there is much to make. */
    @PostMapping
    @Needs(Role.READER)
    String make(
            @RequestParam Sheet sheet,
            @RequestParam(defaultValue = "lots") String of,
            @RequestParam(defaultValue = "1") int copies,
            @RequestParam(required = false) @Nullable String lot,
            @RequestParam(required = false) @Nullable String block,
            HttpServletRequest request) {
        List<Label> labels = labels(of, copies, lot, block, MOST);
        if (labels.size() <= AT_ONCE) {
            return "redirect:"
                    + UriComponentsBuilder.fromPath(Paths.to("/labels/labels.pdf"))
                            .queryParam("sheet", sheet)
                            .queryParam("of", "{of}")
                            .queryParam("copies", copies)
                            .queryParam("lot", "{lot}")
                            .queryParam("block", "{block}")
                            .encode()
                            .buildAndExpand(
                                    of, Objects.requireNonNullElse(lot, ""), Objects.requireNonNullElse(block, ""))
                            .toUriString();
        }
        String base = base(request);
        UUID job = jobs.start(choices.words("nursery.labels.making", labels.size()), "/labels", progress -> {
            progress.at(0, 1);
            byte[] pdf = render(sheet, labels, base);
            return Jobs.Ended.file("labels.pdf", MediaType.APPLICATION_PDF_VALUE, out -> out.write(pdf));
        });
        return "redirect:" + Paths.to("/jobs/" + job);
    }

    @GetMapping("/labels.pdf")
    @Needs(Role.READER)
    ResponseEntity<byte[]> pdf(
            @RequestParam Sheet sheet,
            @RequestParam(defaultValue = "lots") String of,
            @RequestParam(defaultValue = "1") int copies,
            @RequestParam(required = false) @Nullable String lot,
            @RequestParam(required = false) @Nullable String block,
            HttpServletRequest request) {
        List<Label> labels = labels(of, copies, lot, block, AT_ONCE);
        byte[] pdf = render(sheet, labels, base(request));
        return TraceController.download("labels.pdf", MediaType.APPLICATION_PDF, pdf);
    }

    private static String base(HttpServletRequest request) {
        return request.getRequestURL().toString().replaceFirst("/v/.*$", "");
    }

    private List<Label> labels(String of, int copies, @Nullable String lot, @Nullable String block, int most) {
        if (copies < 1 || copies > 50) {
            throw new Refused("nursery.labels.copies-out-of-range");
        }
        List<Label> labels = new ArrayList<>();
        List<Label> wanted = switch (of) {
            case "stores" -> stores();
            case "rows" -> rows(block);
            default -> lots(lot);
        };
        for (Label label : wanted) {
            for (int n = 0; n < copies; n++) {
                labels.add(label);
            }
        }
        if (labels.isEmpty()) {
            throw new Refused("nursery.labels.none");
        }
        if (labels.size() > most) {
            throw new Refused("nursery.labels.too-many", most);
        }
        return labels;
    }

    private List<Label> lots(@Nullable String code) {
        List<Label> labels = new ArrayList<>();
        for (Lot lot : lots.all()) {
            boolean asked = (code == null || code.isBlank())
                    ? lot.balance() > 0
                    : lot.code().equalsIgnoreCase(code.strip());
            if (asked) {
                labels.add(new Label(
                        lot.code(),
                        lot.variety() + (lot.cloneName() == null ? "" : " " + lot.cloneName()) + " / "
                                + lot.rootstock(),
                        choices.words(
                                "nursery.labels.lot",
                                lot.nursery(),
                                lot.received().toString()),
                        "/lots/" + lot.code()));
            }
        }
        return labels;
    }

    private List<Label> stores() {
        Map<String, StringBuilder> there = new TreeMap<>();
        for (Hold hold : lots.holds()) {
            there.computeIfAbsent(hold.store(), s -> new StringBuilder())
                    .append(hold.lotCode())
                    .append(' ');
        }
        List<Label> labels = new ArrayList<>();
        for (StoreView store : views.stores()) {
            labels.add(new Label(
                    store.is().name(),
                    choices.words("nursery.kind." + store.is().kind()),
                    there.getOrDefault(store.is().name(), new StringBuilder()).toString(),
                    "/stores/" + store.id()));
        }
        return labels;
    }

    /** The rows of all blocks, or of one, with the lots that stand in them. */
    private List<Label> rows(@Nullable String block) {
        Map<String, String> codes = new HashMap<>();
        lots.all().forEach(l -> codes.put(l.id().toString(), l.code() + " " + l.variety()));
        Map<String, StringBuilder> there = new HashMap<>();
        List<UUID> ids = codes.keySet().stream().map(UUID::fromString).toList();
        planted.stream()
                .flatMap(p -> p.standsOf(ids).stream())
                .forEach(s -> there.computeIfAbsent(String.valueOf(s.href()), h -> new StringBuilder())
                        .append(codes.get(s.lotId().toString()))
                        .append(' '));
        List<Label> labels = new ArrayList<>();
        for (Block b : ground.blocks()) {
            if (block == null || block.isBlank() || b.code().equalsIgnoreCase(block.strip())) {
                for (Row row : ground.rows(b.id())) {
                    String path = "/rows/" + row.id();
                    labels.add(new Label(
                            row.name(),
                            choices.words("nursery.labels.row", b.name(), row.places()),
                            there.getOrDefault(path, new StringBuilder()).toString(),
                            path));
                }
            }
        }
        return labels;
    }

    private static byte[] render(Sheet sheet, List<Label> labels, String base) {
        double qr = Math.min(sheet.height - 8, 32);
        String css = "@page { size: 210mm 297mm; margin: 0; } body { margin: 0; font-family: sans-serif, Notebook; }"
                + " .sheet { position: relative; width: 210mm; height: 296.9mm; page-break-after: always; }"
                + " .label { position: absolute; width: " + mm(sheet.width - 8) + "; height: " + mm(sheet.height - 8)
                + "; overflow: hidden; } .qr { float: right; width: " + mm(qr) + "; } .head { font-size: 20pt;"
                + " font-weight: bold; } .line { font-size: 9pt; } .small { font-size: 7pt; }";
        StringBuilder body = new StringBuilder();
        int each = sheet.columns * sheet.rows;
        for (int i = 0; i < labels.size(); i++) {
            int onSheet = i % each;
            if (onSheet == 0) {
                body.append("<div class=\"sheet\">");
            }
            double left = sheet.left() + (onSheet % sheet.columns) * (sheet.width + sheet.gapX) + 4;
            double top = sheet.top() + (double) Math.floorDiv(onSheet, sheet.columns) * sheet.height + 4;
            Label label = labels.get(i);
            body.append("<div class=\"label\" style=\"left: ")
                    .append(mm(left))
                    .append("; top: ")
                    .append(mm(top));
            body.append("\"><div class=\"qr\">")
                    .append(QrSvg.of(base + Paths.to(label.path()), qr))
                    .append("</div>");
            body.append("<div class=\"head\">").append(Pdf.escape(label.head())).append("</div>");
            body.append("<div class=\"line\">").append(Pdf.escape(label.line())).append("</div>");
            body.append("<div class=\"small\">")
                    .append(Pdf.escape(label.small()))
                    .append("</div></div>");
            if (onSheet == each - 1 || i == labels.size() - 1) {
                body.append("</div>");
            }
        }
        return Pdf.of("labels", css, body.toString());
    }

    private static String mm(double value) {
        return String.format(Locale.ROOT, "%.2fmm", value);
    }
}
