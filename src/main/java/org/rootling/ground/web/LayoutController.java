package org.rootling.ground.web;

import jakarta.validation.Valid;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutRow;
import org.rootling.ground.calc.LayoutSolver;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.PlanDrawing;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Fits rows to a block: form, drawn preview, acceptance. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/{code}/layout")
class LayoutController {
    private final GroundService ground;
    private final PlanDrawing drawing;
    private final WarningText warnings;
    private final MessageSource messages;

    LayoutController(GroundService ground, PlanDrawing drawing, WarningText warnings, MessageSource messages) {
        this.ground = ground;
        this.drawing = drawing;
        this.warnings = warnings;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String form(@PathVariable String code, Model model, Locale locale) {
        GroundService.Sheet sheet = ground.sheet(code);
        LayoutSpec spec = sheet.spec();
        int version = sheet.block().version();
        model.addAttribute(
                "form", spec == null ? LayoutForm.fresh(version) : LayoutForm.of(spec, sheet.slope(), version));
        return page(sheet, model, locale);
    }

    /** Shows what the typed figures give; nothing is stored. */
    @GetMapping(params = "show")
    @Needs(Role.LEAD)
    String preview(
            @PathVariable String code,
            @Valid @ModelAttribute("form") LayoutForm form,
            BindingResult errors,
            Model model,
            Locale locale) {
        GroundService.Sheet sheet = ground.sheet(code);
        return Forms.submit(
                errors,
                () -> {
                    Layout layout = LayoutSolver.solve(sheet.field(), form.spec(sheet.slope()));
                    show(sheet, layout, model, locale);
                    model.addAttribute("found", form.found(layout, sheet.slope()));
                    return page(sheet, model, locale);
                },
                () -> page(sheet, model, locale));
    }

    @PostMapping
    @Needs(Role.LEAD)
    String accept(
            @PathVariable String code,
            @Valid @ModelAttribute("form") LayoutForm form,
            BindingResult errors,
            Model model,
            Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    ground.accept(
                            code,
                            Objects.requireNonNullElse(form.version(), -1),
                            form.spec(ground.sheet(code).slope()));
                    return "redirect:" + Paths.to("/blocks/" + code);
                },
                () -> page(ground.sheet(code), model, locale));
    }

    private String page(GroundService.Sheet sheet, Model model, Locale locale) {
        model.addAttribute("sheet", sheet);
        model.addAttribute("block", sheet.block());
        model.addAttribute("alignments", alignments(locale));
        model.addAttribute(
                "guard",
                ground.guarded(sheet.block().id())
                        .map(r -> messages.getMessage(r.key(), r.args(), locale))
                        .orElse(null));
        if (!model.containsAttribute("plan")) {
            model.addAttribute("plan", null);
        }
        return "ground/layout";
    }

    private void show(GroundService.Sheet sheet, Layout layout, Model model, Locale locale) {
        model.addAttribute("layout", layout);
        model.addAttribute("bearing", sheet.slope().bearingOnMap(layout.rowBearingDeg()));
        model.addAttribute(
                "warnings",
                layout.warnings().stream().map(w -> warnings.say(w, locale)).toList());
        model.addAttribute(
                "plan",
                drawing.figure(
                        word("ground.layout.preview", locale),
                        sheet.field(),
                        rows(sheet.block().code(), layout),
                        layout.spec().headlandM(),
                        PlanMarks.bare()));
    }

    private Map<Alignment, String> alignments(Locale locale) {
        Map<Alignment, String> words = new LinkedHashMap<>();
        words.put(Alignment.ROW, word("ground.layout.alignment.ROW", locale));
        words.put(Alignment.SQUARE, word("ground.layout.alignment.SQUARE", locale));
        return words;
    }

    private String word(String key, Locale locale) {
        return Objects.requireNonNull(messages.getMessage(key, null, locale));
    }

    /** Rows not yet stored, for drawing. */
    static List<Row> rows(String code, Layout layout) {
        List<Row> rows = new ArrayList<>();
        UUID none = new UUID(0, 0);
        for (LayoutRow r : layout.rows()) {
            double gap = layout.spec().endGapM();
            rows.add(new Row(
                    none,
                    none,
                    code,
                    r.number(),
                    r.vines(),
                    List.of(new Stretch(
                            1,
                            1,
                            r.vines(),
                            r.start().x(),
                            r.start().y(),
                            r.end().x(),
                            r.end().y(),
                            gap,
                            gap,
                            layout.spec().vineSpacingM()))));
        }
        return rows;
    }
}
