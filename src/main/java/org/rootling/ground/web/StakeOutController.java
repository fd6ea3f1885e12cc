package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.calc.StakeOut;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.PlanDrawing;
import org.rootling.ground.domain.PointsExport;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Jobs;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.context.MessageSource;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.ExtendedModelMap;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The sheet to carry into the field, on paper and on the phone, and the points for other tools. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/{code}")
class StakeOutController {

    /** The sheet of so many rows takes well under a second; a longer one is made in the background. */
    private static final int ROWS_AT_ONCE = 50;

    /** Readings brought back from the field. */
    record MeasuredForm(
            @DecimalMin("5") @DecimalMax("500") @Measured(Measure.METRE) @Nullable
            Double tapeM,

            @DecimalMin("0.1") @DecimalMax("5000") @Measured(Measure.METRE) @Nullable
            Double widthM,

            @DecimalMin("0.1") @DecimalMax("5000") @Measured(Measure.METRE) @Nullable
            Double lengthM,

            @DecimalMin("0.1") @DecimalMax("8000") @Measured(Measure.METRE) @Nullable
            Double diagonalM) {}

    private final GroundService ground;
    private final PlanDrawing drawing;
    private final StakeOutPdf pdf;
    private final Vineyards vineyards;
    private final Jobs jobs;
    private final MessageSource messages;

    StakeOutController(
            GroundService ground,
            PlanDrawing drawing,
            StakeOutPdf pdf,
            Vineyards vineyards,
            Jobs jobs,
            MessageSource messages) {
        this.ground = ground;
        this.drawing = drawing;
        this.pdf = pdf;
        this.vineyards = vineyards;
        this.jobs = jobs;
        this.messages = messages;
    }

    @GetMapping("/stake-out")
    @Needs(Role.READER)
    String sheet(
            @PathVariable String code,
            @Valid @ModelAttribute("form") MeasuredForm form,
            BindingResult errors,
            Model model) {
        double tape = errors.hasErrors() || form.tapeM() == null ? 50 : form.tapeM();
        StakeOut out = fill(code, tape, model);
        model.addAttribute("verdict", null);
        if (!errors.hasErrors()) {
            StakeOut.Frame frame = out.frame();
            MeasuredForm full = new MeasuredForm(
                    tape,
                    form.widthM() == null && frame != null ? Double.valueOf(hundredths(frame.widthM())) : form.widthM(),
                    form.lengthM() == null && frame != null
                            ? Double.valueOf(hundredths(frame.lengthM()))
                            : form.lengthM(),
                    form.diagonalM());
            model.addAttribute("form", full);
            Double width = full.widthM();
            Double length = full.lengthM();
            Double diagonal = full.diagonalM();
            if (width != null && length != null && diagonal != null) {
                model.addAttribute("verdict", StakeOut.judge(width, length, diagonal, longest(model)));
            }
        }
        return "ground/stake-out";
    }

    private static double hundredths(double metres) {
        return Math.rint(metres * 100) / 100;
    }

    private static double longest(Model model) {
        double longest = 1;
        if (model.getAttribute("rows") instanceof List<?> rows) {
            for (Object row : rows) {
                longest = Math.max(longest, ((Row) row).lengthM());
            }
        }
        return longest;
    }

    /** One step of the work at a time, for the phone. */
    @GetMapping("/stake-out/steps")
    @Needs(Role.READER)
    String steps(@PathVariable String code, @RequestParam(defaultValue = "1") int step, Model model) {
        StakeOut out = fill(code, 50, model);
        int last = 4 + out.pegs().size();
        int at = Math.max(1, Math.min(step, last));
        model.addAttribute("step", at);
        model.addAttribute("last", last);
        model.addAttribute("peg", at > 4 ? out.pegs().get(at - 5) : null);
        model.addAttribute("row", at > 4 ? rows(model).get(at - 5) : null);
        return "ground/stake-out-steps";
    }

    private static List<Row> rows(Model model) {
        return ((List<?>) Objects.requireNonNull(model.getAttribute("rows")))
                .stream().map(Row.class::cast).toList();
    }

    @GetMapping("/stake-out.pdf")
    @Needs(Role.READER)
    ResponseEntity<byte[]> pdf(@PathVariable String code, Model model, Locale locale) {
        fill(code, 50, model);
        if (rows(model).size() > ROWS_AT_ONCE) {
            throw new Refused("ground.stake.pdf-large", ROWS_AT_ONCE);
        }
        return file(pdf(model, locale), MediaType.APPLICATION_PDF, code + "-stake-out.pdf");
    }

    private byte[] pdf(Model model, Locale locale) {
        model.addAttribute("day", vineyards.today());
        return pdf.write(model.asMap(), locale);
    }

    /** Makes the sheet in the background: of many rows it takes more than a second. */
    @PostMapping("/stake-out.pdf")
    @Needs(Role.READER)
    String make(@PathVariable String code, Locale locale) {
        String block = ground.sheet(code).block().code();
        UUID job = jobs.start(
                messages.getMessage("ground.stake.title", new Object[] {block}, locale),
                "/blocks/" + block + "/stake-out",
                progress -> {
                    Model model = new ExtendedModelMap();
                    fill(block, 50, model);
                    progress.at(1, 2);
                    byte[] made = pdf(model, locale);
                    return Jobs.Ended.file(
                            block + "-stake-out.pdf", MediaType.APPLICATION_PDF_VALUE, out -> out.write(made));
                });
        return "redirect:" + Paths.to("/jobs/" + job);
    }

    private StakeOut fill(String code, double tape, Model model) {
        GroundService.Sheet sheet = ground.sheet(code);
        List<Row> rows = ground.rows(sheet.block().id());
        if (rows.isEmpty() || sheet.spec() == null) {
            throw new NotFound("rows");
        }
        StakeOut out = StakeOut.of(sheet.field(), rows, sheet.block().rowBearingDeg(), tape);
        model.addAttribute("sheet", sheet);
        model.addAttribute("block", sheet.block());
        model.addAttribute("rows", rows);
        model.addAttribute("out", out);
        model.addAttribute("large", rows.size() > ROWS_AT_ONCE);
        model.addAttribute(
                "plan",
                drawing.figure(
                        sheet.block().code(),
                        sheet.field(),
                        rows,
                        Objects.requireNonNull(sheet.spec()).headlandM(),
                        PlanMarks.bare(),
                        pegs(out)));
        return out;
    }

    private static List<PlanDrawing.Peg> pegs(StakeOut out) {
        Point a = out.sights().get(0).point();
        Point b = out.sights().get(1).point();
        double east = (b.x() - a.x()) / out.baseLengthM();
        double north = (b.y() - a.y()) / out.baseLengthM();
        return List.of(
                new PlanDrawing.Peg("A", a),
                new PlanDrawing.Peg("B", b),
                new PlanDrawing.Peg("C", a.plus(east * out.zeroM(), north * out.zeroM())),
                new PlanDrawing.Peg("D", a.plus(east * out.secondM(), north * out.secondM())));
    }

    @GetMapping("/points.csv")
    @Needs(Role.READER)
    ResponseEntity<byte[]> csv(@PathVariable String code) {
        GroundService.Sheet sheet = ground.sheet(code);
        String text = PointsExport.csv(sheet, ground.rows(sheet.block().id()));
        return file(text.getBytes(StandardCharsets.UTF_8), new MediaType("text", "csv"), code + "-points.csv");
    }

    @GetMapping("/points.gpx")
    @Needs(Role.READER)
    ResponseEntity<byte[]> gpx(@PathVariable String code) {
        GroundService.Sheet sheet = ground.sheet(code);
        String text = PointsExport.gpx(sheet, ground.rows(sheet.block().id()));
        return file(
                text.getBytes(StandardCharsets.UTF_8), new MediaType("application", "gpx+xml"), code + "-points.gpx");
    }

    @GetMapping("/points.geojson")
    @Needs(Role.READER)
    ResponseEntity<byte[]> geoJson(@PathVariable String code) {
        GroundService.Sheet sheet = ground.sheet(code);
        String text = PointsExport.geoJson(sheet, ground.rows(sheet.block().id()));
        return file(
                text.getBytes(StandardCharsets.UTF_8),
                new MediaType("application", "geo+json"),
                code + "-points.geojson");
    }

    private static ResponseEntity<byte[]> file(byte[] content, MediaType type, String name) {
        String plain = name.replaceAll("[^A-Za-z0-9._-]", "");
        return ResponseEntity.ok()
                .contentType(type)
                .header(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"" + plain + "\"")
                .body(content);
    }
}
