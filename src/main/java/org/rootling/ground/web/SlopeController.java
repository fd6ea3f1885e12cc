package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.calc.Slope;
import org.rootling.ground.domain.GroundService;
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

/** How a block falls, and whether its corners were measured level or along the ground. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/{code}/slope")
class SlopeController {

    /** What the steepness is given in. */
    enum SteepIn {
        PERCENT,
        DEGREES
    }

    /** How the corners were measured. */
    enum Measured {
        LEVEL,
        GROUND
    }

    /** A slope as typed. */
    record SlopeForm(
            @NotNull Integer version,
            @NotNull Double steepness,
            @NotNull SteepIn steepIn,
            @DecimalMin("0") @DecimalMax("360") @Nullable Double downhillDeg,
            @NotNull Measured measured) {

        Slope slope() {
            double towards = downhillDeg == null ? 0 : downhillDeg;
            return steepIn == SteepIn.PERCENT ? new Slope(steepness, towards) : Slope.degrees(steepness, towards);
        }
    }

    private final GroundService ground;
    private final MessageSource messages;

    SlopeController(GroundService ground, MessageSource messages) {
        this.ground = ground;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String page(@PathVariable String code, Model model, Locale locale) {
        GroundService.Sheet sheet = ground.sheet(code);
        model.addAttribute("block", sheet.block());
        model.addAttribute("sheet", sheet);
        model.addAttribute("steepIns", words("ground.slope.in.", SteepIn.values(), locale));
        model.addAttribute("measureds", words("ground.slope.measured.", Measured.values(), locale));
        if (!model.containsAttribute("form")) {
            Slope now = sheet.slope();
            model.addAttribute(
                    "form",
                    new SlopeForm(
                            sheet.block().version(),
                            now.percent(),
                            SteepIn.PERCENT,
                            now.downhillDeg(),
                            sheet.level() ? Measured.LEVEL : Measured.GROUND));
        }
        return "ground/slope";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String keep(
            @PathVariable String code,
            @Valid @ModelAttribute("form") SlopeForm form,
            BindingResult errors,
            Model model,
            Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    ground.fall(code, form.version(), form.slope(), form.measured() == Measured.LEVEL);
                    return "redirect:" + Paths.to("/blocks/" + code);
                },
                () -> page(code, model, locale));
    }

    private <E extends Enum<E>> Map<E, String> words(String key, E[] values, Locale locale) {
        Map<E, String> words = new LinkedHashMap<>();
        for (E value : values) {
            words.put(value, Objects.requireNonNull(messages.getMessage(key + value, null, locale)));
        }
        return words;
    }
}
