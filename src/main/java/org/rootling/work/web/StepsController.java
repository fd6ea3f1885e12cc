package org.rootling.work.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.domain.RateBook;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The vineyard's work steps. */
@Controller
@RequestMapping("/v/{vineyard}/work/steps")
class StepsController {
    /** A step's settings. */
    record StepForm(
            @Nullable @Size(max = 60) String name,
            @Min(1) @Max(20) int peopleLeast,
            @Min(1) @Max(20) int peopleMost,
            @Nullable @Size(max = 40) String tool,
            @Nullable @Size(max = 40) String skill,
            @Nullable @Size(max = 12) List<@Size(max = 30) String> after,
            @Min(0) @Max(60) int waitDays,
            @Nullable Boolean outdoors,

            @Nullable @DecimalMin("0") @DecimalMax("500") @Measured(Measure.MILLIMETRE)
            BigDecimal mostRainMm,

            @Nullable @DecimalMin("-30") @DecimalMax("40") @Measured(Measure.CELSIUS)
            BigDecimal leastTempC,

            @Nullable @DecimalMin("0") @DecimalMax("60") @Measured(Measure.METRE_PER_SECOND)
            BigDecimal mostWindMs,

            @Nullable @DecimalMin("0.01") @DecimalMax("10000")
            BigDecimal guessMinutes,

            int version) {
        Steps.Settings settings() {
            return new Steps.Settings(
                    name,
                    peopleLeast,
                    peopleMost,
                    tool,
                    skill,
                    after == null ? List.of() : after,
                    waitDays,
                    Boolean.TRUE.equals(outdoors),
                    new Step.Limits(mostRainMm, leastTempC, mostWindMs),
                    guessMinutes);
        }
    }

    /**
     * What the logs say about a step.
     *
     * @param median minutes for one place that half of the work stays below
     * @param most minutes that four fifths stay below
     */
    record Learned(double median, double most, int logs) {}

    private final Steps steps;
    private final RateBook rates;

    StepsController(Steps steps, RateBook rates) {
        this.steps = steps;
        this.rates = rates;
    }

    @GetMapping
    @Needs(Role.READER)
    String list(Model model) {
        Map<String, Learned> learned = new HashMap<>();
        rates.rates().forEach((code, rate) -> {
            if (rate.logs() > 0) {
                learned.put(code, new Learned(rate.median(), rate.quantile(0.8), rate.logs()));
            }
        });
        model.addAttribute("learned", learned);
        model.addAttribute(
                "steps",
                Listing.of("steps", steps.all())
                        .by("work.board.step", s -> s.name())
                        .by("work.steps.least", s -> s.peopleLeast())
                        .by("work.steps.most", s -> s.peopleMost())
                        .by("work.steps.tool", s -> s.tool())
                        .by("work.steps.skill", s -> s.skill())
                        .by("work.steps.wait", s -> s.waitDays())
                        .by("work.steps.guess", s -> s.guessMinutes())
                        .by("work.steps.learned-minutes", s -> {
                            Learned of = learned.get(s.code());
                            return of == null
                                    ? null
                                    : BigDecimal.valueOf(of.median()).setScale(1, RoundingMode.HALF_UP);
                        })
                        .by("work.steps.state", s -> s.withdrawn() ? new Listing.Word("work.steps.withdrawn") : null));
        return "work/steps";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String adding(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new StepForm("", 1, 2, "", "", List.of(), 0, true, null, null, null, null, 0));
        }
        model.addAttribute("others", steps.all());
        model.addAttribute("step", null);
        return "work/step";
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String add(@Valid @ModelAttribute("form") StepForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    steps.add(form.settings());
                    return "redirect:" + Paths.to("/work/steps?saved");
                },
                () -> adding(model));
    }

    @GetMapping("/{code}")
    @Needs(Role.LEAD)
    String step(@PathVariable String code, Model model) {
        Step step = steps.byCode(code).orElseThrow(() -> new NotFound("step"));
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form",
                    new StepForm(
                            step.name(),
                            step.peopleLeast(),
                            step.peopleMost(),
                            step.tool(),
                            step.skill(),
                            step.after(),
                            step.waitDays(),
                            step.outdoors(),
                            step.limits().rainMm(),
                            step.limits().lowC(),
                            step.limits().windMs(),
                            step.guessMinutes(),
                            step.version()));
        }
        model.addAttribute("step", step);
        model.addAttribute(
                "others",
                steps.all().stream().filter(s -> !s.code().equals(code)).toList());
        return "work/step";
    }

    @PostMapping("/{code}")
    @Needs(Role.LEAD)
    String change(
            @PathVariable String code,
            @Valid @ModelAttribute("form") StepForm form,
            BindingResult errors,
            Model model) {
        Step step = steps.byCode(code).orElseThrow(() -> new NotFound("step"));
        return Forms.submit(
                errors,
                () -> {
                    Steps.Settings s = form.settings();
                    // An unchanged name stays the translated one.
                    String name = step.name().equals(s.name()) && step.builtIn() ? null : s.name();
                    steps.change(
                            code,
                            new Steps.Settings(
                                    name,
                                    s.peopleLeast(),
                                    s.peopleMost(),
                                    s.tool(),
                                    s.skill(),
                                    s.after(),
                                    s.waitDays(),
                                    s.outdoors(),
                                    s.limits(),
                                    s.guessMinutes()),
                            form.version());
                    return "redirect:" + Paths.to("/work/steps?saved");
                },
                () -> step(code, model));
    }

    @PostMapping("/{code}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable String code, @RequestParam int version) {
        steps.withdraw(code, version);
        return "redirect:" + Paths.to("/work/steps?saved");
    }
}
