package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.StoreView;
import org.rootling.nursery.domain.ReferenceLists;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Beds and stores: what stands in them, watering, and what they are. */
@Controller
@RequestMapping("/v/{vineyard}/stores")
class StoreController {

    /** A bed or store. */
    record StoreForm(
            @NotBlank @Size(max = 60) @Nullable String name,
            @Nullable StoreKind kind,
            @Min(1) @Max(1_000_000) @Nullable Integer capacity,

            @DecimalMin("-5") @DecimalMax("25") @Measured(Measure.CELSIUS) @Nullable
            Double setTemperatureC,

            @Size(max = 40) @Nullable String soil,
            @Size(max = 200) @Nullable String whereItIs,
            @Nullable UUID blockId,

            @DecimalMin("-10000") @DecimalMax("10000") @Nullable @Measured(Measure.METRE)
            Double eastM,

            @DecimalMin("-10000") @DecimalMax("10000") @Nullable @Measured(Measure.METRE)
            Double northM,

            @Nullable Integer version) {}

    /** A watering. */
    record WaterForm(
            @SaneDate @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
            LocalDate on,

            @DecimalMin("0") @DecimalMax("1000") @Nullable @Measured(Measure.MILLIMETRE)
            Double mm) {}

    private final Ground ground;
    private final Stock stock;
    private final StockKeeping keeping;
    private final NurseryViews views;
    private final Lots lots;
    private final ReferenceLists lists;
    private final Members members;
    private final Vineyards vineyards;
    private final Choices choices;

    StoreController(
            Ground ground,
            Stock stock,
            StockKeeping keeping,
            NurseryViews views,
            Lots lots,
            ReferenceLists lists,
            Members members,
            Vineyards vineyards,
            Choices choices) {
        this.ground = ground;
        this.stock = stock;
        this.keeping = keeping;
        this.views = views;
        this.lots = lots;
        this.lists = lists;
        this.members = members;
        this.vineyards = vineyards;
        this.choices = choices;
    }

    @GetMapping
    @Needs(Role.READER)
    String stores(Model model) {
        model.addAttribute(
                "stores",
                Listing.of("stores", views.stores())
                        .by("nursery.stores.name", s -> s.is().name())
                        .by("nursery.stores.kind", s -> new Listing.Word("nursery.kind." + s.is().kind()))
                        .by("nursery.stores.standing", s -> s.standing())
                        .by("nursery.stores.capacity", s -> s.is().capacity())
                        .by("nursery.stores.watered", s -> s.lastWatered()));
        model.addAttribute("differences", views.ledgerDifferences());
        return "nursery/stores";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String newStore(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form",
                    new StoreForm("", StoreKind.HEELED_IN, null, null, "sandy loam", null, null, null, null, null));
        }
        model.addAttribute("kinds", choices.of("nursery.kind.", StoreKind.values()));
        model.addAttribute("soils", soils());
        model.addAttribute("blocks", blocks());
        return "nursery/store-form";
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String addStore(@Valid @ModelAttribute("form") StoreForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors, () -> "redirect:" + Paths.to("/stores/" + stock.addStore(store(form))), () -> newStore(model));
    }

    @GetMapping("/{id}")
    @Needs(Role.READER)
    String store(@PathVariable UUID id, Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new WaterForm(vineyards.today(), null));
        }
        model.addAttribute("store", views.store(id));
        model.addAttribute(
                "holds",
                lots.holds().stream().filter(h -> h.storeId().equals(id)).toList());
        model.addAttribute("waterings", views.waterings(id));
        model.addAttribute("names", members.names());
        UUID block = views.store(id).is().blockId();
        model.addAttribute("onPlan", block == null ? null : ground.block(block).orElse(null));
        return "nursery/store";
    }

    @PostMapping("/{id}/water")
    @Needs(Role.HELPER)
    String water(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") WaterForm form,
            BindingResult errors,
            @RequestParam(required = false) @Nullable String back,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    stock.water(id, Needed.of(form.on(), "on"), form.mm());
                    return "redirect:" + Paths.to("waiting".equals(back) ? "/lots" : "/stores/" + id);
                },
                () -> store(id, model));
    }

    @PostMapping("/{id}/waterings/{watering}/withdraw")
    @Needs(Role.LEAD)
    String withdrawWatering(@PathVariable UUID id, @PathVariable UUID watering) {
        keeping.withdrawWatering(watering);
        return "redirect:" + Paths.to("/stores/" + id);
    }

    @GetMapping("/{id}/change")
    @Needs(Role.LEAD)
    String changeForm(@PathVariable UUID id, Model model) {
        StoreView now = views.store(id);
        if (!model.containsAttribute("form")) {
            NewStore is = now.is();
            model.addAttribute(
                    "form",
                    new StoreForm(
                            is.name(),
                            is.kind(),
                            is.capacity(),
                            is.setTemperatureC(),
                            is.soil(),
                            is.whereItIs(),
                            is.blockId(),
                            is.eastM(),
                            is.northM(),
                            now.version()));
        }
        model.addAttribute("store", now);
        model.addAttribute("kinds", choices.of("nursery.kind.", StoreKind.values()));
        model.addAttribute("soils", soils());
        model.addAttribute("blocks", blocks());
        return "nursery/store-form";
    }

    @PostMapping("/{id}/change")
    @Needs(Role.LEAD)
    String change(
            @PathVariable UUID id, @Valid @ModelAttribute("form") StoreForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    keeping.change(id, version(form), store(form));
                    return "redirect:" + Paths.to("/stores/" + id);
                },
                () -> changeForm(id, model));
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable UUID id, @RequestParam int version) {
        keeping.withdrawStore(id, version);
        return "redirect:" + Paths.to("/stores");
    }

    private static int version(StoreForm form) {
        Integer version = form.version();
        return version == null ? -1 : version;
    }

    private @Nullable UUID block(@Nullable UUID id) {
        if (id != null && ground.block(id).isEmpty()) {
            throw new NotFound("block");
        }
        return id;
    }

    private NewStore store(StoreForm form) {
        return new NewStore(
                Needed.of(form.name(), "name"),
                Needed.of(form.kind(), "kind"),
                form.capacity(),
                form.setTemperatureC(),
                form.soil(),
                form.whereItIs(),
                form.eastM(),
                form.northM(),
                block(form.blockId()));
    }

    private Map<String, String> blocks() {
        Map<String, String> blocks = new LinkedHashMap<>();
        for (Block block : ground.blocks()) {
            blocks.put(block.id().toString(), block.code() + " " + block.name());
        }
        return blocks;
    }

    private Map<String, String> soils() {
        Map<String, String> soils = new LinkedHashMap<>();
        lists.soils().forEach(s -> soils.put(s.name(), s.name()));
        return soils;
    }
}
