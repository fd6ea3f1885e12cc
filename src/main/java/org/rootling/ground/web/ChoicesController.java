package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.calc.Choices;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.VinesInHand;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.PlanDrawing;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;

/** Layouts side by side, and the other way round: spacings for the vines in hand. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/{code}")
class ChoicesController {

    /** What the choices share. */
    record ChoicesForm(
            @Measured(Measure.METRE) @Nullable Double rowSpacingM,
            @Measured(Measure.METRE) @Nullable Double vineSpacingM,
            @Measured(Measure.METRE) @Nullable Double headlandM,
            @Measured(Measure.METRE) @Nullable Double sideMarginM) {}

    /** Vines in hand and the spacings one would accept. */
    record InHandForm(
            @Min(1) @Max(2_000_000) @Nullable Integer vines,

            @DecimalMin("0.5") @DecimalMax("20") @Measured(Measure.METRE) @Nullable
            Double leastRowM,

            @DecimalMin("0.5") @DecimalMax("20") @Measured(Measure.METRE) @Nullable
            Double mostRowM,

            @DecimalMin("0.2") @DecimalMax("20") @Measured(Measure.METRE) @Nullable
            Double leastVineM,

            @DecimalMin("0.2") @DecimalMax("20") @Measured(Measure.METRE) @Nullable
            Double mostVineM) {}

    /**
     * A choice with its drawing.
     *
     * @param bearingDeg of the rows by compass
     * @param fallPercent of the ground along the rows, without sign
     */
    record Drawn(Choices.Choice choice, double bearingDeg, double fallPercent, String plan) {}

    private final GroundService ground;
    private final PlanDrawing drawing;
    private final MessageSource messages;

    ChoicesController(GroundService ground, PlanDrawing drawing, MessageSource messages) {
        this.ground = ground;
        this.drawing = drawing;
        this.messages = messages;
    }

    @GetMapping("/choices")
    @Needs(Role.LEAD)
    String choices(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ChoicesForm form,
            BindingResult errors,
            Model model,
            Locale locale) {
        GroundService.Sheet sheet = ground.sheet(code);
        model.addAttribute("block", sheet.block());
        model.addAttribute("sheet", sheet);
        model.addAttribute("choices", List.of());
        return Forms.submit(
                errors,
                () -> {
                    LayoutSpec like = like(sheet, form);
                    model.addAttribute(
                            "form",
                            new ChoicesForm(
                                    like.rowSpacingM(), like.vineSpacingM(), like.headlandM(), like.sideMarginM()));
                    List<Drawn> drawn = new ArrayList<>();
                    for (Choices.Choice c : Choices.of(sheet.field(), like, sheet.slope())) {
                        String title = Objects.requireNonNull(messages.getMessage(
                                "ground.choices.reason." + c.reason(), new Object[] {c.corner()}, locale));
                        double bearing = sheet.slope().bearingOnMap(c.layout().rowBearingDeg());
                        drawn.add(new Drawn(
                                c,
                                bearing,
                                Math.abs(sheet.slope().fallPercent(bearing)),
                                drawing.figure(
                                        title,
                                        sheet.field(),
                                        LayoutController.rows(code, c.layout()),
                                        0,
                                        PlanMarks.bare())));
                    }
                    model.addAttribute("choices", drawn);
                    return "ground/choices";
                },
                () -> "ground/choices");
    }

    private static LayoutSpec like(GroundService.Sheet sheet, ChoicesForm form) {
        LayoutSpec now = sheet.spec() == null ? LayoutSpec.of(2.2, 1.2, 6, 2) : sheet.spec();
        double vine = given(form.vineSpacingM(), now.vineSpacingM());
        return new LayoutSpec(
                given(form.rowSpacingM(), now.rowSpacingM()),
                vine,
                given(form.headlandM(), now.headlandM()),
                given(form.sideMarginM(), now.sideMarginM()),
                now.endGapM() / now.vineSpacingM() * vine,
                null,
                null,
                now.minVinesPerRow(),
                now.alignment());
    }

    private static double given(@Nullable Double typed, double otherwise) {
        return typed == null ? otherwise : typed;
    }

    @GetMapping("/vines-in-hand")
    @Needs(Role.LEAD)
    String inHand(
            @PathVariable String code,
            @Valid @ModelAttribute("form") InHandForm form,
            BindingResult errors,
            Model model) {
        GroundService.Sheet sheet = ground.sheet(code);
        model.addAttribute("block", sheet.block());
        model.addAttribute("ways", List.of());
        model.addAttribute("asked", false);
        return Forms.submit(
                errors,
                () -> {
                    InHandForm full = new InHandForm(
                            form.vines(),
                            given(form.leastRowM(), 2.0),
                            given(form.mostRowM(), 2.6),
                            given(form.leastVineM(), 1.0),
                            given(form.mostVineM(), 1.4));
                    model.addAttribute("form", full);
                    if (form.vines() != null) {
                        LayoutSpec like = sheet.spec() == null ? LayoutSpec.of(2.2, 1.2, 6, 2) : sheet.spec();
                        model.addAttribute("asked", true);
                        model.addAttribute(
                                "ways",
                                VinesInHand.ways(
                                        sheet.field(),
                                        like,
                                        form.vines(),
                                        given(full.leastRowM(), 2.0),
                                        given(full.mostRowM(), 2.6),
                                        given(full.leastVineM(), 1.0),
                                        given(full.mostVineM(), 1.4)));
                    }
                    return "ground/vines-in-hand";
                },
                () -> "ground/vines-in-hand");
    }
}
