package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.Passport;
import org.rootling.nursery.domain.Account;
import org.rootling.nursery.domain.Costs;
import org.rootling.nursery.domain.KeptPapers;
import org.rootling.nursery.domain.MovementKind;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.PapersView;
import org.rootling.nursery.domain.NurseryViews.StoreView;
import org.rootling.nursery.domain.Spot;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.DateText;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.springframework.context.i18n.LocaleContextHolder;
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

/** A lot: what stands where, its papers, its movements, and what can be done with it. */
@Controller
@RequestMapping("/v/{vineyard}/lots/{code}")
class LotController {

    /** What can be done with vines of a lot; the name in small letters is the last part of the path. */
    enum Act {
        PLACE,
        MOVE,
        LIFT,
        LOSE,
        RETURN,
        COUNT,
        SPLIT;

        static Act of(String path) {
            for (Act act : values()) {
                if (act.name().toLowerCase(Locale.ROOT).equals(path)) {
                    return act;
                }
            }
            throw new NotFound("act");
        }

        public boolean needsStore() {
            return this == PLACE || this == MOVE;
        }

        public boolean needsReason() {
            return this == LOSE || this == RETURN || this == COUNT;
        }
    }

    /**
     * One thing done with vines of a lot.
     *
     * @param spot UNPLACED, LIFTED or the id of a hold
     */
    record ActForm(
            @Size(max = 40) @Nullable String spot,
            @Nullable UUID storeId,
            @Min(0) @Max(1_000_000) @Nullable Integer count,

            @SaneDate @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable
            LocalDate on,

            @Size(max = 300) @Nullable String reason) {}

    /** Papers of a lot. */
    record PapersForm(
            @Size(max = 80) @Nullable String botanical,
            @Size(max = 40) @Nullable String registration,
            @Size(max = 60) @Nullable String trace,
            @Size(max = 40) @Nullable String origin,
            @Size(max = 80) @Nullable String extra,
            @Size(max = 1000) @Nullable String note,
            int version) {}

    private final Lots lots;
    private final Stock stock;
    private final StockKeeping keeping;
    private final NurseryViews views;
    private final Costs costs;
    private final KeptPapers keptPapers;
    private final Members members;
    private final Vineyards vineyards;
    private final Choices choices;

    LotController(
            Lots lots,
            Stock stock,
            StockKeeping keeping,
            NurseryViews views,
            Costs costs,
            KeptPapers keptPapers,
            Members members,
            Vineyards vineyards,
            Choices choices) {
        this.lots = lots;
        this.stock = stock;
        this.keeping = keeping;
        this.views = views;
        this.costs = costs;
        this.keptPapers = keptPapers;
        this.members = members;
        this.vineyards = vineyards;
        this.choices = choices;
    }

    @GetMapping
    @Needs(Role.READER)
    String lot(
            @PathVariable String code,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate on,
            Model model) {
        Lot lot = find(code);
        model.addAttribute("lot", lot);
        model.addAttribute("holds", lots.holds(lot.id()));
        model.addAttribute("papers", views.papers(lot.id()));
        model.addAttribute("kept", keptPapers.ofLot(lot.id()));
        model.addAttribute("cost", costs.ofLot(lot.id()).orElse(null));
        Map<UUID, String> names = members.names();
        model.addAttribute(
                "movements",
                Listing.of("movements", views.movements(lot.id()))
                        .by("nursery.movement.on", m -> m.on())
                        .by("nursery.movement.what", m -> new Listing.Word("nursery.movement.kind." + m.kind()))
                        .by("nursery.movement.count", m -> m.count())
                        .by("nursery.movement.from", m -> spot(m.fromStore(), m.from()))
                        .by("nursery.movement.to", m -> spot(m.toStore(), m.to()))
                        .by("nursery.movement.by", m -> m.by() == null ? null : names.getOrDefault(m.by(), "?"))
                        .by("nursery.movement.reason", m -> m.reason())
                        .by(
                                "nursery.movement.state",
                                m -> m.answered() ? new Listing.Word("nursery.movement.answered") : null));
        model.addAttribute("stocktakes", views.stocktakes(lot.id()));
        model.addAttribute("names", names);
        if (on != null && on.getYear() >= 1990 && on.getYear() <= 2100) {
            model.addAttribute("asOf", on);
            model.addAttribute("balanceThen", views.balance(lot.id(), on));
        }
        return "nursery/lot";
    }

    private static Object spot(@Nullable String store, Spot spot) {
        return store != null ? store : new Listing.Word("nursery.account." + spot.account());
    }

    @GetMapping("/lift")
    @Needs(Role.HELPER)
    String liftForm(@PathVariable String code, @RequestParam(required = false) @Nullable String from, Model model) {
        return form(Act.LIFT, find(code), blank(from), model);
    }

    @PostMapping("/lift")
    @Needs(Role.HELPER)
    String lift(
            @PathVariable String code, @Valid @ModelAttribute("form") ActForm form, BindingResult errors, Model model) {
        return done(Act.LIFT, find(code), form, errors, model);
    }

    @GetMapping("/do/{act}")
    @Needs(Role.LEAD)
    String form(
            @PathVariable String code,
            @PathVariable String act,
            @RequestParam(required = false) @Nullable String from,
            Model model) {
        return form(Act.of(act), find(code), blank(from), model);
    }

    @PostMapping("/do/{act}")
    @Needs(Role.LEAD)
    String done(
            @PathVariable String code,
            @PathVariable String act,
            @Valid @ModelAttribute("form") ActForm form,
            BindingResult errors,
            Model model) {
        return done(Act.of(act), find(code), form, errors, model);
    }

    private ActForm blank(@Nullable String from) {
        return new ActForm(from, null, null, vineyards.today(), null);
    }

    private String form(Act act, Lot lot, ActForm form, Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", form);
        }
        model.addAttribute("act", act);
        model.addAttribute(
                "actPath", act == Act.LIFT ? "lift" : "do/" + act.name().toLowerCase(Locale.ROOT));
        model.addAttribute("lot", lot);
        model.addAttribute("spots", spots(act, lot));
        model.addAttribute("stores", storeChoices());
        return "nursery/act";
    }

    private String done(Act act, Lot lot, ActForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    carryOut(act, lot, form);
                    return "redirect:" + Paths.to("/lots/" + lot.code());
                },
                () -> form(act, lot, form, model));
    }

    private void carryOut(Act act, Lot lot, ActForm form) {
        int count = Needed.of(form.count(), "count");
        LocalDate on = Needed.of(form.on(), "on");
        UUID id = lot.id();
        switch (act) {
            case PLACE -> stock.place(id, store(form), count, on);
            case MOVE -> stock.move(holdOf(form), store(form), count, on);
            case LIFT -> stock.lift(holdOf(form), count, on);
            case LOSE -> keeping.takeOut(id, spotOf(form), MovementKind.LOST, count, on, form.reason());
            case RETURN -> keeping.takeOut(id, spotOf(form), MovementKind.RETURNED, count, on, form.reason());
            case COUNT -> keeping.count(id, spotOf(form), count, on, form.reason());
            case SPLIT -> keeping.split(id, spotOf(form), count, on);
        }
    }

    private UUID store(ActForm form) {
        return Needed.of(form.storeId(), "storeId");
    }

    private static UUID holdOf(ActForm form) {
        UUID hold = spotOf(form).hold();
        if (hold == null) {
            throw new Refused("nursery.act.choose-hold").at("spot");
        }
        return hold;
    }

    private static Spot spotOf(ActForm form) {
        String spot = form.spot();
        if (Account.UNPLACED.name().equals(spot)) {
            return Spot.UNPLACED;
        }
        if (Account.LIFTED.name().equals(spot)) {
            return Spot.LIFTED;
        }
        try {
            return Spot.hold(UUID.fromString(spot == null ? "" : spot));
        } catch (IllegalArgumentException notAnId) {
            throw new Refused("nursery.act.choose-hold").at("spot");
        }
    }

    /** Where vines of the lot are that this can be done with, with their numbers. */
    private Map<String, String> spots(Act act, Lot lot) {
        Map<String, String> spots = new LinkedHashMap<>();
        if (act == Act.PLACE) {
            return spots;
        }
        for (Hold hold : lots.holds(lot.id())) {
            spots.put(
                    hold.id().toString(),
                    choices.words(
                            "nursery.act.spot-hold",
                            hold.store(),
                            hold.count(),
                            DateText.format(hold.since(), "d MMM yyyy", LocaleContextHolder.getLocale())));
        }
        if (act != Act.MOVE && act != Act.LIFT) {
            if (lot.unplaced() > 0 || act == Act.COUNT) {
                spots.put(Account.UNPLACED.name(), choices.words("nursery.act.spot-unplaced", lot.unplaced()));
            }
            if (lot.lifted() > 0 || act == Act.COUNT) {
                spots.put(Account.LIFTED.name(), choices.words("nursery.act.spot-lifted", lot.lifted()));
            }
        }
        return spots;
    }

    private Map<String, String> storeChoices() {
        Map<String, String> stores = new LinkedHashMap<>();
        for (StoreView store : views.stores()) {
            String kind = choices.words("nursery.kind." + store.is().kind());
            Integer capacity = store.is().capacity();
            stores.put(
                    store.id().toString(),
                    capacity == null
                            ? choices.words("nursery.act.store", store.is().name(), kind, store.standing())
                            : choices.words(
                                    "nursery.act.store-of", store.is().name(), kind, store.standing(), capacity));
        }
        return stores;
    }

    @PostMapping("/undo/{movement}")
    @Needs(Role.LEAD)
    String undo(@PathVariable String code, @PathVariable UUID movement) {
        Lot lot = find(code);
        keeping.undo(lot.id(), movement);
        return "redirect:" + Paths.to("/lots/" + lot.code());
    }

    @PostMapping("/join")
    @Needs(Role.LEAD)
    String join(@PathVariable String code, @RequestParam String into) {
        Lot lot = find(code);
        keeping.join(lot.id(), find(into).id(), vineyards.today());
        return "redirect:" + Paths.to("/lots/" + find(into).code());
    }

    @GetMapping("/papers")
    @Needs(Role.LEAD)
    String papersForm(@PathVariable String code, Model model) {
        Lot lot = find(code);
        PapersView now = views.papers(lot.id());
        if (!model.containsAttribute("form")) {
            Passport p = now.passport();
            model.addAttribute(
                    "form",
                    new PapersForm(
                            p.botanical(),
                            p.registration(),
                            p.trace(),
                            p.origin(),
                            p.extra(),
                            now.note(),
                            now.version()));
        }
        model.addAttribute("lot", lot);
        return "nursery/papers";
    }

    @PostMapping("/papers")
    @Needs(Role.LEAD)
    String papers(
            @PathVariable String code,
            @Valid @ModelAttribute("form") PapersForm form,
            BindingResult errors,
            Model model) {
        Lot lot = find(code);
        return Forms.submit(
                errors,
                () -> {
                    keeping.papers(
                            lot.id(),
                            form.version(),
                            new Passport(
                                    form.botanical(), form.registration(), form.trace(), form.origin(), form.extra()),
                            form.note());
                    return "redirect:" + Paths.to("/lots/" + lot.code());
                },
                () -> papersForm(code, model));
    }

    private Lot find(String code) {
        return lots.byCode(code).orElseThrow(() -> new NotFound("lot"));
    }
}
