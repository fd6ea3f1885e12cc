package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Ids;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.training.domain.Cautions;
import org.rootling.training.domain.Treatments;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Sprays and feeds of a block: facts for the record, never a recommendation. */
@Controller
@RequestMapping("/v/{vineyard}/year-one/{code}/treatments")
class TreatmentController {

    /** A spray or feed. */
    record TreatmentForm(
            @Required Treatments.@Nullable Kind kind,
            @NotNull @SaneDate LocalDate on,
            @NotBlank @Size(max = 120) @Nullable String product,
            @Size(max = 200) @Nullable String reason,

            @Required @DecimalMin("0.001") @DecimalMax("100000") @Nullable
            BigDecimal amount,

            @Required Treatments.@Nullable Unit unit,

            @DecimalMin("0.1") @DecimalMax("1000000") @Nullable @Measured(Measure.LITRE)
            BigDecimal waterLitres,

            @Required @DecimalMin("0.1") @DecimalMax("100000000") @Nullable @Measured(Measure.SQUARE_METRE)
            BigDecimal area,

            @DecimalMin("0") @DecimalMax("60") @Nullable @Measured(Measure.METRE_PER_SECOND)
            BigDecimal windMs,

            @NotBlank @Size(max = 80) @Nullable String operator,
            @Min(0) @Max(2000) @Nullable Integer reentryHours,
            @Min(0) @Max(1000) @Nullable Integer waitingDays,
            @Size(max = 2000) @Nullable String note) {

        Treatments.Treatment treatment() {
            return new Treatments.Treatment(
                    Ids.next(),
                    Objects.requireNonNull(kind),
                    on,
                    Objects.requireNonNull(product).strip(),
                    orNull(reason),
                    Objects.requireNonNull(amount),
                    Objects.requireNonNull(unit),
                    waterLitres,
                    Objects.requireNonNull(area),
                    windMs,
                    Objects.requireNonNull(operator).strip(),
                    reentryHours,
                    waitingDays,
                    orNull(note));
        }

        private static @Nullable String orNull(@Nullable String typed) {
            return typed == null || typed.isBlank() ? null : typed.strip();
        }
    }

    private final Ground ground;
    private final Treatments treatments;
    private final Cautions cautions;
    private final CurrentMember current;
    private final Vineyards vineyards;

    TreatmentController(
            Ground ground, Treatments treatments, Cautions cautions, CurrentMember current, Vineyards vineyards) {
        this.ground = ground;
        this.treatments = treatments;
        this.cautions = cautions;
        this.current = current;
        this.vineyards = vineyards;
    }

    @GetMapping
    @Needs(Role.READER)
    String show(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        model.addAttribute("block", block);
        model.addAttribute(
                "treatments",
                Listing.of("treatments", treatments.of(block.id()))
                        .by("training.tick.on", t -> t.on())
                        .by("training.treat.product", t -> t.product())
                        .by("training.treat.kind", t -> new Listing.Word("training.treat." + t.kind()))
                        .by("training.treat.amount", t -> t.amount())
                        .by("training.treat.unit", t -> new Listing.Word("training.dose." + t.unit()))
                        .by("training.treat.reason", t -> t.reason())
                        .by("training.treat.operator", t -> t.operator())
                        .by("training.treat.waiting", t -> t.waitingUntil())
                        .by("training.tick.note", t -> t.note()));
        model.addAttribute("kinds", Treatments.Kind.values());
        model.addAttribute("doses", Treatments.Unit.values());
        model.addAttribute("caution", cautions.all().get("SPRAYING"));
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form",
                    new TreatmentForm(
                            Treatments.Kind.SPRAY,
                            vineyards.today(),
                            "",
                            "",
                            null,
                            Treatments.Unit.L,
                            null,
                            BigDecimal.valueOf(Math.round(block.areaM2())),
                            null,
                            current.name(),
                            null,
                            null,
                            ""));
        }
        return "training/treatments";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String add(
            @PathVariable String code,
            @Valid @ModelAttribute("form") TreatmentForm form,
            BindingResult errors,
            Model model) {
        Block block = ground.requireBlock(code);
        return Forms.submit(
                errors,
                () -> {
                    treatments.record(block.id(), form.treatment(), current.accountId());
                    return saved(code);
                },
                () -> show(code, model));
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable String code, @PathVariable UUID id) {
        treatments.withdraw(id);
        return saved(code);
    }

    private static String saved(String code) {
        return "redirect:" + Paths.to("/year-one/" + code + "/treatments?saved");
    }
}
