package org.rootling.nursery.web;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Level;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.domain.WarningDesk;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What waits, how long it may, and what to do about it. */
@Controller
@RequestMapping("/v/{vineyard}")
class WaitingController {

    /** Holds and lots shown at once; the most pressing come first. */
    private static final int EACH = 20;

    private final Lots lots;
    private final WarningDesk warnings;
    private final Members members;
    private final CurrentMember current;

    WaitingController(Lots lots, WarningDesk warnings, Members members, CurrentMember current) {
        this.lots = lots;
        this.warnings = warnings;
        this.members = members;
        this.current = current;
    }

    @GetMapping("/lots")
    @Needs(Role.READER)
    String waiting(@RequestParam(defaultValue = "1") int page, Model model) {
        List<Hold> holds = lots.holds();
        List<Lot> all = lots.all();
        int pages = Math.max(1, (holds.size() + EACH - 1) / EACH);
        int at = Math.min(Math.max(page, 1), pages);
        List<Hold> shown = holds.subList((at - 1) * EACH, Math.min(at * EACH, holds.size()));
        Set<UUID> ids = shown.stream().map(Hold::id).collect(Collectors.toSet());
        model.addAttribute("holds", shown);
        model.addAttribute("holdCount", holds.size());
        model.addAttribute("page", at);
        model.addAttribute("pages", pages);
        model.addAttribute(
                "over", holds.stream().filter(h -> h.level() == Level.OVER).count());
        model.addAttribute(
                "soon", holds.stream().filter(h -> h.level() == Level.SOON).count());
        model.addAttribute(
                "unplaced", all.stream().filter(l -> l.unplaced() > 0).toList());
        model.addAttribute("lifted", all.stream().filter(l -> l.lifted() > 0).toList());
        model.addAttribute("lots", all.subList(Math.max(0, all.size() - EACH), all.size()));
        model.addAttribute("lotCount", all.size());
        model.addAttribute(
                "warnings",
                warnings.open().stream().filter(w -> ids.contains(w.holdId())).toList());
        model.addAttribute("names", members.names());
        return "nursery/waiting";
    }

    @GetMapping("/lots/all")
    @Needs(Role.READER)
    String all(Model model) {
        model.addAttribute(
                "lots",
                Listing.of("lots", lots.all())
                        .by("nursery.lot.code", l -> l.code())
                        .by("nursery.list.variety", l -> l.variety())
                        .by("nursery.list.clone", l -> l.cloneName())
                        .by("nursery.list.rootstock", l -> l.rootstock())
                        .by("nursery.lot.nursery", l -> l.nursery())
                        .by("nursery.list.received", l -> l.received())
                        .by("nursery.lot.count", l -> l.count())
                        .by("nursery.lot.balance", l -> l.balance())
                        .by("nursery.lot.planted", l -> l.planted()));
        return "nursery/lots";
    }

    @GetMapping("/lots/warnings")
    @Needs(Role.READER)
    String warnings(Model model) {
        Map<UUID, String> names = members.names();
        model.addAttribute(
                "warnings",
                Listing.of("warnings", warnings.all())
                        .by("nursery.lot.code", w -> w.lotCode())
                        .by("nursery.warning.store", w -> w.store())
                        .by("nursery.hold.allowance", w -> new Listing.Word("nursery.allowance." + w.allowance()))
                        .by("nursery.warning.level", w -> new Listing.Word("platform.level." + w.level()))
                        .by("nursery.warning.raised", w -> w.raisedOn())
                        .by("nursery.warning.escalated", w -> w.escalatedOn())
                        .by("nursery.warning.runs-out", w -> w.runsOutOn())
                        .by(
                                "nursery.warning.taken-by",
                                w -> w.takenBy() == null ? null : names.getOrDefault(w.takenBy(), "?"))
                        .by("nursery.warning.note", w -> w.takenNote())
                        .by("nursery.warning.closed-on", w -> w.closedOn())
                        .by(
                                "nursery.warning.closed-by",
                                w -> w.closedBy() == null
                                        ? null
                                        : new Listing.Word("nursery.warning.by." + w.closedBy())));
        model.addAttribute("names", names);
        return "nursery/warnings";
    }

    @PostMapping("/lots/warnings/{id}/take-over")
    @Needs(Role.HELPER)
    String takeOver(
            @PathVariable UUID id, @RequestParam int version, @RequestParam(required = false) @Nullable String note) {
        if (note != null && note.length() > 300) {
            throw new Refused("nursery.warning.note-too-long");
        }
        warnings.takeOver(id, version, current.accountId(), note);
        return "redirect:" + Paths.to("/lots");
    }
}
