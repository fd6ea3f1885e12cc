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
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Ids;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.training.domain.BlockFrost;
import org.rootling.training.domain.BlockWater;
import org.rootling.training.domain.Cautions;
import org.rootling.training.domain.StageWords;
import org.rootling.training.domain.Treatments;
import org.rootling.weather.calc.SoilType;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Water and frost of a block, and its sprays and feeds. */
@Controller
@RequestMapping("/v/{vineyard}/year-one/{code}")
class BlockCareController {

    /** A watering of the whole block. */
    record WaterForm(
            @Required @DecimalMin("0.1") @DecimalMax("500") @Nullable @Measured(Measure.LITRE)
            BigDecimal litres,

            @NotNull @SaneDate LocalDate on,
            @Size(max = 2000) @Nullable String note) {}

    /** What the account rests on. */
    record SettingsForm(
            @Required @Nullable SoilType soil,

            @Required @DecimalMin("0.05") @DecimalMax("10") @Nullable @Measured(Measure.SQUARE_METRE)
            BigDecimal area,

            @Required @DecimalMin("0.1") @DecimalMax("1000") @Nullable @Measured(Measure.LITRE)
            BigDecimal hose,

            @Required @DecimalMin("1") @DecimalMax("100000") @Nullable @Measured(Measure.LITRE)
            BigDecimal tank,

            int version) {}

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

            @Required @DecimalMin("0.1") @DecimalMax("100000000") @Nullable
            BigDecimal area,

            @DecimalMin("0") @DecimalMax("60") @Nullable BigDecimal wind,
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
                    wind,
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
    private final BlockWater water;
    private final BlockFrost frost;
    private final Treatments treatments;
    private final StageWords stageWords;
    private final Cautions cautions;
    private final Members members;
    private final CurrentMember current;
    private final Vineyards vineyards;

    BlockCareController(
            Ground ground,
            BlockWater water,
            BlockFrost frost,
            Treatments treatments,
            StageWords stageWords,
            Cautions cautions,
            Members members,
            CurrentMember current,
            Vineyards vineyards) {
        this.ground = ground;
        this.water = water;
        this.frost = frost;
        this.treatments = treatments;
        this.stageWords = stageWords;
        this.cautions = cautions;
        this.members = members;
        this.current = current;
        this.vineyards = vineyards;
    }

    /** @param hot reference evapotranspiration of a hot day, mm; above 15 mm no place on earth is counted on */
    @GetMapping("/water")
    @Needs(Role.READER)
    String showWater(@PathVariable String code, @RequestParam(required = false) @Nullable Double hot, Model model) {
        Block block = blockBy(code);
        Double asked = hot == null || !(hot > 0 && hot <= 15) ? null : hot;
        model.addAttribute("block", block);
        model.addAttribute("hot", asked);
        model.addAttribute("account", water.account(block.id(), null).orElse(null));
        model.addAttribute(
                "hotAccount",
                asked == null ? null : water.account(block.id(), asked).orElse(null));
        model.addAttribute(
                "waterings", water.waterings(block.id()).stream().limit(20).toList());
        model.addAttribute("risk", frost.of(block.id()).orElse(null));
        model.addAttribute("stageWords", stageWords.all());
        model.addAttribute("soils", SoilType.values());
        model.addAttribute("names", members.names());
        model.addAttribute("caution", cautions.all().get("HEAT"));
        BlockWater.Settings now = water.settings(block.id());
        if (!model.containsAttribute("watering")) {
            model.addAttribute("watering", new WaterForm(null, vineyards.today(), ""));
        }
        if (!model.containsAttribute("settings")) {
            model.addAttribute(
                    "settings",
                    new SettingsForm(
                            now.soil(),
                            BigDecimal.valueOf(now.areaM2()),
                            BigDecimal.valueOf(now.hoseLitresPerMinute()),
                            BigDecimal.valueOf(now.tankLitres()),
                            now.version()));
        }
        return "training/water";
    }

    @PostMapping("/waterings")
    @Needs(Role.HELPER)
    String addWatering(
            @PathVariable String code,
            @Valid @ModelAttribute("watering") WaterForm form,
            BindingResult errors,
            Model model) {
        Block block = blockBy(code);
        return Forms.submit(
                errors,
                () -> {
                    water.water(
                            block.id(),
                            form.on(),
                            Objects.requireNonNull(form.litres()),
                            form.note(),
                            current.accountId());
                    return "redirect:" + Paths.to("/year-one/" + code + "/water?saved");
                },
                () -> showWater(code, null, model));
    }

    @PostMapping("/waterings/{id}/withdraw")
    @Needs(Role.HELPER)
    String withdrawWatering(@PathVariable String code, @PathVariable UUID id) {
        water.withdrawWatering(id);
        return "redirect:" + Paths.to("/year-one/" + code + "/water?saved");
    }

    @PostMapping("/water-settings")
    @Needs(Role.LEAD)
    String setWater(
            @PathVariable String code,
            @Valid @ModelAttribute("settings") SettingsForm form,
            BindingResult errors,
            Model model) {
        Block block = blockBy(code);
        return Forms.submit(
                errors,
                () -> {
                    water.set(
                            block.id(),
                            Objects.requireNonNull(form.soil()),
                            Objects.requireNonNull(form.area()),
                            Objects.requireNonNull(form.hose()),
                            Objects.requireNonNull(form.tank()),
                            form.version());
                    return "redirect:" + Paths.to("/year-one/" + code + "/water?saved");
                },
                () -> showWater(code, null, model));
    }

    @GetMapping("/treatments")
    @Needs(Role.READER)
    String showTreatments(@PathVariable String code, Model model) {
        Block block = blockBy(code);
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

    @PostMapping("/treatments")
    @Needs(Role.LEAD)
    String addTreatment(
            @PathVariable String code,
            @Valid @ModelAttribute("form") TreatmentForm form,
            BindingResult errors,
            Model model) {
        Block block = blockBy(code);
        return Forms.submit(
                errors,
                () -> {
                    treatments.record(block.id(), form.treatment(), current.accountId());
                    return "redirect:" + Paths.to("/year-one/" + code + "/treatments?saved");
                },
                () -> showTreatments(code, model));
    }

    @PostMapping("/treatments/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdrawTreatment(@PathVariable String code, @PathVariable UUID id) {
        treatments.withdraw(id);
        return "redirect:" + Paths.to("/year-one/" + code + "/treatments?saved");
    }

    private Block blockBy(String code) {
        return ground.blockByCode(code).orElseThrow(() -> new NotFound("block"));
    }
}
