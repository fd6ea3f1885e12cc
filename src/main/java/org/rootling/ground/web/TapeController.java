package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Tape;
import org.rootling.ground.domain.Boundary;
import org.rootling.ground.domain.BoundarySource;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.PlanDrawing;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** A field from sides and diagonals measured with a tape. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/tape")
class TapeController {

    /** What was taped: one measure a line, corner, corner, length in the reader's unit or with the unit behind it. */
    record TapeForm(
            @NotNull @Min(3) @Max(12) Integer corners,
            @NotBlank @Size(max = 4000) @Nullable String measures,
            @Size(max = 60) @Nullable String inward,
            @Size(max = 12) @Nullable String code,
            @Size(max = 80) @Nullable String name) {}

    private static final Pattern LINE = Pattern.compile(
            "(\\d{1,2})\\s*[-\u2013, ]\\s*(\\d{1,2})\\s*[: ;]\\s*(\\d{1,5}(?:[.,]\\d{1,4})?)\\s*(m|ft)?");
    private static final int MOST_MEASURES = 80;

    private final GroundService ground;
    private final PlanDrawing drawing;
    private final MessageSource messages;
    private final UnitText units;

    TapeController(GroundService ground, PlanDrawing drawing, MessageSource messages, UnitText units) {
        this.ground = ground;
        this.drawing = drawing;
        this.messages = messages;
        this.units = units;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String blank(Model model) {
        model.addAttribute(
                "form",
                new TapeForm(
                        4, "1-2 60.00 m\n2-3 40.02 m\n3-4 59.97 m\n4-1 40.00 m\n1-3 72.12 m\n2-4 72.10 m", "", "", ""));
        model.addAttribute("result", null);
        return "ground/tape";
    }

    /** Solves and shows; nothing is stored. */
    @GetMapping(params = "show")
    @Needs(Role.LEAD)
    String show(@Valid @ModelAttribute("form") TapeForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    present(solve(form), model, locale);
                    return "ground/tape";
                },
                () -> nothing(model));
    }

    @PostMapping
    @Needs(Role.LEAD)
    String keep(@Valid @ModelAttribute("form") TapeForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    Tape.Result result = solve(form);
                    String note = messages.getMessage(
                            "ground.tape.note",
                            new Object[] {
                                result.measures().size(), result.spare(), units.bothAreas(result.areaErrorM2(), 1)
                            },
                            locale);
                    Block block = ground.add(
                            Objects.requireNonNullElse(form.code(), ""),
                            named(form.name()),
                            new Boundary(Field.of(result.corners(), List.of()), BoundarySource.TAPE, note, null, null),
                            word("ground.plan.exclusion", locale));
                    return "redirect:" + Paths.to("/blocks/" + block.code());
                },
                () -> again(form, model, locale));
    }

    /** The field is shown again when only its code or name was refused. */
    private String again(@Nullable TapeForm form, Model model, Locale locale) {
        nothing(model);
        try {
            if (form != null) {
                present(solve(form), model, locale);
            }
        } catch (Refused alreadySaid) {
            return "ground/tape";
        }
        return "ground/tape";
    }

    private void present(Tape.Result result, Model model, Locale locale) {
        model.addAttribute("result", result);
        model.addAttribute(
                "plan",
                drawing.figure(
                        word("ground.tape.plan", locale),
                        Field.of(result.corners(), List.of()),
                        List.of(),
                        0,
                        PlanMarks.bare()));
    }

    static String named(@Nullable String name) {
        if (name == null || name.isBlank()) {
            throw new Refused("ground.block.name-missing").at("name");
        }
        return name;
    }

    private static String nothing(Model model) {
        model.addAttribute("result", null);
        return "ground/tape";
    }

    private String word(String key, Locale locale) {
        return Objects.requireNonNull(messages.getMessage(key, null, locale));
    }

    private Tape.Result solve(TapeForm form) {
        List<Tape.Measure> measures = new ArrayList<>();
        String[] lines = Objects.requireNonNullElse(form.measures(), "").split("\\R");
        for (int i = 0; i < lines.length; i++) {
            if (lines[i].isBlank()) {
                continue;
            }
            Matcher m = LINE.matcher(lines[i].strip());
            if (!m.matches() || measures.size() >= MOST_MEASURES) {
                throw new Refused("ground.tape.line", i + 1, MOST_MEASURES).at("measures");
            }
            measures.add(new Tape.Measure(
                    Integer.parseInt(m.group(1)), Integer.parseInt(m.group(2)), metres(m.group(3), m.group(4))));
        }
        Set<Integer> inward = new HashSet<>();
        for (String part : Objects.requireNonNullElse(form.inward(), "").split("[,; ]+")) {
            if (!part.isBlank()) {
                if (!part.matches("\\d{1,2}")) {
                    throw new Refused("ground.tape.inward-form").at("inward");
                }
                inward.add(Integer.parseInt(part));
            }
        }
        try {
            return Tape.solve(form.corners(), measures, inward);
        } catch (Refused refused) {
            throw inReadersUnit(refused);
        }
    }

    private static double metres(String number, @Nullable String unit) {
        double typed = Double.parseDouble(number.replace(',', '.'));
        boolean feet = unit == null ? UnitText.us() : unit.equals("ft");
        return feet ? typed * UnitText.METRES_PER_FOOT : typed;
    }

    /** How far a measure is out is said in the unit of the tape. */
    private Refused inReadersUnit(Refused refused) {
        @Nullable Object[] args = refused.args();
        if (!refused.key().startsWith("ground.tape.blunder") || !(args[2] instanceof Number out)) {
            return refused;
        }
        args[2] = units.length(out.doubleValue(), 2);
        return new Refused(refused.key(), args).at(Objects.requireNonNullElse(refused.field(), "measures"));
    }
}
