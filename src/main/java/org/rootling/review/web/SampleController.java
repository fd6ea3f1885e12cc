package org.rootling.review.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Paths;
import org.rootling.review.domain.Samples;
import org.rootling.review.domain.Sampling;
import org.rootling.review.domain.VineQueries;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Which vines of a block to look at, and the samples that were kept. */
@Controller
@RequestMapping("/v/{vineyard}/review/sample")
class SampleController {

    /** A sample to keep, in percent, as the page drew it. */
    record KeepForm(
            @NotBlank @Size(max = 12) @Nullable String block,

            @NotNull @DecimalMin("50") @DecimalMax("99.9") @Nullable
            BigDecimal confidence,

            @NotNull @DecimalMin("0.5") @DecimalMax("50") @Nullable
            BigDecimal margin,

            @NotNull @DecimalMin("1") @DecimalMax("99") @Nullable
            BigDecimal expected,

            @NotNull @Nullable Long seed) {}

    private final Sampling sampling;
    private final Samples samples;
    private final VineQueries vines;
    private final Ground ground;
    private final CurrentMember current;

    SampleController(Sampling sampling, Samples samples, VineQueries vines, Ground ground, CurrentMember current) {
        this.sampling = sampling;
        this.samples = samples;
        this.vines = vines;
        this.ground = ground;
        this.current = current;
    }

    @GetMapping
    @Needs(Role.READER)
    String sample(
            @RequestParam(required = false) @Nullable String block,
            @RequestParam(defaultValue = "95") double confidence,
            @RequestParam(defaultValue = "5") double margin,
            @RequestParam(defaultValue = "50") double expected,
            @RequestParam(defaultValue = "1") long seed,
            Model model) {
        List<VineQueries.BlockName> blocks = vines.blocks();
        boolean first = block == null || block.isEmpty();
        Block wanted = block(
                first
                        ? blocks.stream()
                                .findFirst()
                                .map(VineQueries.BlockName::code)
                                .orElse("")
                        : block);
        double sure = within(confidence, 50, 99.9, 95);
        double half = within(margin, 0.5, 50, 5);
        double share = within(expected, 1, 99, 50);
        model.addAttribute("block", wanted);
        model.addAttribute("blocks", blocks);
        model.addAttribute("confidence", MarkupWriter.number(sure));
        model.addAttribute("margin", MarkupWriter.number(half));
        model.addAttribute("expected", MarkupWriter.number(share));
        model.addAttribute("seed", seed);
        Sampling.Plan plan = sampling.plan(wanted, sure / 100, half / 100, share / 100, seed);
        model.addAttribute("plan", plan);
        model.addAttribute(
                "rows",
                Listing.of("sample", plan.rows())
                        .by("review.review.row", r -> r.row())
                        .by("review.sample.places", r -> r.places())
                        .by("review.count.vines", r -> r.vines()));
        List<Samples.Kept> kept = samples.latest(wanted.id());
        model.addAttribute("kept", kept);
        model.addAttribute(
                "open", kept.isEmpty() ? List.of() : samples.open(kept.get(0).id()));
        return "review/sample";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String keep(@Valid @ModelAttribute("keep") KeepForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Block block = block(form.block());
                    samples.keep(
                            block,
                            share(form.confidence()),
                            share(form.margin()),
                            share(form.expected()),
                            Objects.requireNonNull(form.seed()),
                            current.accountId());
                    return "redirect:" + Paths.to("/review/sample?saved&block=" + block.code());
                },
                () -> {
                    model.addAttribute("unreadable", true);
                    return sample(null, 95, 5, 50, 1, model);
                });
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable UUID id) {
        samples.withdraw(id);
        return "redirect:" + Paths.to("/review/sample?saved");
    }

    private static double share(@Nullable BigDecimal percent) {
        return Objects.requireNonNull(percent).movePointLeft(2).doubleValue();
    }

    private static double within(double value, double least, double most, double usual) {
        return Double.isNaN(value) ? usual : Math.max(least, Math.min(most, value));
    }

    private Block block(@Nullable String code) {
        return ground.requireBlock(code == null ? "" : code);
    }
}
