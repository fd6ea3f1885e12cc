package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.VineColour;
import org.rootling.nursery.domain.ReferenceLists;
import org.rootling.nursery.domain.ReferenceLists.Limit;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Limits of stores, and the lists of varieties and rootstocks, each with where it comes from. */
@Controller
@RequestMapping("/v/{vineyard}")
class SettingsController {

    /** One limit. */
    record LimitForm(
            @Digits(integer = 5, fraction = 4) @Nullable BigDecimal warnAt,
            @Digits(integer = 5, fraction = 4) @Nullable BigDecimal value,
            @NotBlank @Size(max = 300) @Nullable String source,
            int version) {

        static LimitForm of(Limit limit) {
            return new LimitForm(
                    LimitText.shown(limit, limit.warnAt()),
                    LimitText.shown(limit, limit.value()),
                    limit.source(),
                    limit.version());
        }
    }

    /** A variety that is not on the list. */
    record VarietyForm(
            @NotBlank @Size(max = 60) @Nullable String name,
            @Nullable VineColour colour,
            @Size(max = 500) @Nullable String note) {}

    /** A rootstock that is not on the list. */
    record RootstockForm(
            @NotBlank @Size(max = 60) @Nullable String name,
            @Size(max = 500) @Nullable String note) {}

    private final ReferenceLists lists;
    private final StockKeeping keeping;
    private final Choices choices;

    SettingsController(ReferenceLists lists, StockKeeping keeping, Choices choices) {
        this.lists = lists;
        this.keeping = keeping;
        this.choices = choices;
    }

    @GetMapping("/store-limits")
    @Needs(Role.READER)
    String limits(Model model) {
        List<Limit> limits = lists.limits();
        model.addAttribute("kinds", StoreKind.values());
        model.addAttribute("limits", limits);
        return "nursery/limits";
    }

    @GetMapping("/store-limits/{kind}/{allowance}")
    @Needs(Role.LEAD)
    String limitForm(@PathVariable StoreKind kind, @PathVariable String allowance, Model model) {
        Limit limit = lists.limits().stream()
                .filter(l -> l.kind() == kind && l.allowance().equals(allowance))
                .findFirst()
                .orElseThrow(() -> new NotFound("limit"));
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", LimitForm.of(limit));
        }
        model.addAttribute("limit", limit);
        model.addAttribute("published", lists.published(kind, allowance).orElseThrow());
        return "nursery/limit-form";
    }

    @PostMapping("/store-limits/{kind}/{allowance}")
    @Needs(Role.LEAD)
    String setLimit(
            @PathVariable StoreKind kind,
            @PathVariable String allowance,
            @Valid @ModelAttribute("form") LimitForm form,
            BindingResult errors,
            Model model) {
        Limit limit = lists.published(kind, allowance).orElseThrow(() -> new NotFound("limit"));
        return Forms.submit(
                errors,
                () -> {
                    keeping.setLimit(
                            kind,
                            allowance,
                            form.version(),
                            LimitText.kept(limit, form.warnAt()),
                            Needed.of(LimitText.kept(limit, form.value()), "value"),
                            Needed.of(form.source(), "source"));
                    return "redirect:" + Paths.to("/store-limits?saved");
                },
                () -> limitForm(kind, allowance, model));
    }

    @GetMapping("/vine-lists")
    @Needs(Role.READER)
    String lists(Model model) {
        if (!model.containsAttribute("varietyForm")) {
            model.addAttribute("varietyForm", new VarietyForm("", VineColour.WHITE, ""));
        }
        if (!model.containsAttribute("rootstockForm")) {
            model.addAttribute("rootstockForm", new RootstockForm("", ""));
        }
        String page = Paths.to("/vine-lists");
        model.addAttribute(
                "varieties",
                Listing.of("varieties", lists.varieties())
                        .on(page)
                        .by("nursery.lists.name", x -> x.name())
                        .by("nursery.lists.colour", x -> new Listing.Word("nursery.colour." + x.colour()))
                        .by("nursery.lists.parentage", x -> x.parentage())
                        .by("nursery.lists.bud-burst", x -> season(x.budBurst()))
                        .by("nursery.lists.ripening", x -> season(x.ripening()))
                        .by("nursery.lists.note", x -> x.note())
                        .by("nursery.limits.source", x -> x.source()));
        model.addAttribute(
                "rootstocks",
                Listing.of("rootstocks", lists.rootstocks())
                        .on(page)
                        .by("nursery.lists.name", x -> x.name())
                        .by("nursery.lists.parentage", x -> x.parentage())
                        .by("nursery.lists.drought", x -> number(x.drought()))
                        .by("nursery.lists.lime", x -> number(x.lime()))
                        .by("nursery.lists.active-lime-percent", x -> number(x.activeLime()))
                        .by("nursery.lists.vigour", x -> vigour(x.vigour()))
                        .by("nursery.lists.note", x -> x.note())
                        .by("nursery.limits.source", x -> x.source()));
        model.addAttribute("colours", choices.of("nursery.colour.", VineColour.values()));
        return "nursery/vine-lists";
    }

    private static Listing.@Nullable Word season(String code) {
        return code.isEmpty() ? null : new Listing.Word("nursery.season." + code.replace(' ', '-'));
    }

    private static Listing.@Nullable Word vigour(String code) {
        return code.isEmpty()
                ? null
                : new Listing.Word("nursery.vigour." + code.replace(",", "").replace(' ', '-'));
    }

    /** A rating as a number; what is not one, such as "20-25", as it stands. */
    private static @Nullable Object number(String text) {
        if (text.isBlank()) {
            return null;
        }
        try {
            return new BigDecimal(text);
        } catch (NumberFormatException range) {
            return text;
        }
    }

    @PostMapping("/vine-lists/varieties")
    @Needs(Role.LEAD)
    String addVariety(@Valid @ModelAttribute("varietyForm") VarietyForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    keeping.addVariety(Needed.of(form.name(), "name"), Needed.of(form.colour(), "colour"), form.note());
                    return "redirect:" + Paths.to("/vine-lists?saved");
                },
                () -> lists(model));
    }

    @PostMapping("/vine-lists/rootstocks")
    @Needs(Role.LEAD)
    String addRootstock(@Valid @ModelAttribute("rootstockForm") RootstockForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    keeping.addRootstock(Needed.of(form.name(), "name"), form.note());
                    return "redirect:" + Paths.to("/vine-lists?saved");
                },
                () -> lists(model));
    }
}
