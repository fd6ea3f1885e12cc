package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
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
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.training.domain.BlockFrost;
import org.rootling.training.domain.BlockWater;
import org.rootling.training.domain.Cautions;
import org.rootling.training.domain.StageWords;
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

/** Water and frost of a block. */
@Controller
@RequestMapping("/v/{vineyard}/year-one/{code}")
class WaterController {

    /** No place on earth is counted on to evaporate more in a day, mm. */
    private static final double MOST_ET0_MM = 15;

    /** A hot, dry and windy day: rule of thumb, no source. */
    private static final BigDecimal USUAL_HOT_MM = BigDecimal.valueOf(7);

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

    private final Ground ground;
    private final BlockWater water;
    private final BlockFrost frost;
    private final StageWords stageWords;
    private final Cautions cautions;
    private final Members members;
    private final CurrentMember current;
    private final Vineyards vineyards;

    WaterController(
            Ground ground,
            BlockWater water,
            BlockFrost frost,
            StageWords stageWords,
            Cautions cautions,
            Members members,
            CurrentMember current,
            Vineyards vineyards) {
        this.ground = ground;
        this.water = water;
        this.frost = frost;
        this.stageWords = stageWords;
        this.cautions = cautions;
        this.members = members;
        this.current = current;
        this.vineyards = vineyards;
    }

    /** @param hotMm reference evapotranspiration of each day of a hot week, mm; null without */
    @GetMapping("/water")
    @Needs(Role.READER)
    String show(
            @PathVariable String code,
            @RequestParam(name = "hot", required = false) @Measured(Measure.MILLIMETRE) @Nullable Double hotMm,
            Model model) {
        Block block = ground.requireBlock(code);
        Double hot = hotMm == null || !(hotMm > 0 && hotMm <= MOST_ET0_MM) ? null : hotMm;
        List<BlockWater.Account> accounts = water.accounts(block.id(), null);
        List<BlockWater.Account> reliable =
                accounts.stream().filter(BlockWater.Account::reliable).toList();
        model.addAttribute("block", block);
        model.addAttribute("accounts", accounts);
        model.addAttribute("reliable", !accounts.isEmpty() && reliable.size() == accounts.size());
        model.addAttribute(
                "together",
                BlockWater.together(
                                reliable.stream().map(BlockWater.Account::now).toList())
                        .orElse(null));
        List<BlockWater.Account> hotAccounts = hot == null ? List.of() : water.accounts(block.id(), hot);
        model.addAttribute("hotShown", Measure.MILLIMETRE.shown(hot == null ? USUAL_HOT_MM : BigDecimal.valueOf(hot)));
        model.addAttribute("hotUnit", Measure.MILLIMETRE.unit());
        model.addAttribute("hotAccounts", hotAccounts);
        model.addAttribute(
                "hotTogether",
                BlockWater.together(hotAccounts.stream()
                                .map(BlockWater.Account::inAWeek)
                                .toList())
                        .orElse(null));
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
        Block block = ground.requireBlock(code);
        return Forms.submit(
                errors,
                () -> {
                    water.water(
                            block.id(),
                            form.on(),
                            Objects.requireNonNull(form.litres()),
                            form.note(),
                            current.accountId());
                    return saved(code);
                },
                () -> show(code, null, model));
    }

    @PostMapping("/waterings/{id}/withdraw")
    @Needs(Role.HELPER)
    String withdrawWatering(@PathVariable String code, @PathVariable UUID id) {
        water.withdrawWatering(id);
        return saved(code);
    }

    @PostMapping("/water-settings")
    @Needs(Role.LEAD)
    String setWater(
            @PathVariable String code,
            @Valid @ModelAttribute("settings") SettingsForm form,
            BindingResult errors,
            Model model) {
        Block block = ground.requireBlock(code);
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
                    return saved(code);
                },
                () -> show(code, null, model));
    }

    private static String saved(String code) {
        return "redirect:" + Paths.to("/year-one/" + code + "/water?saved");
    }
}
