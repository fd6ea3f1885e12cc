package org.rootling.review.web;

import java.util.List;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.review.domain.Progress;
import org.rootling.training.CareItem;
import org.rootling.training.CareLine;
import org.rootling.training.YearOne;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The first page: what is in danger, what is next, how far are we. */
@Controller
@RequestMapping("/v/{vineyard}")
class TodayController {

    /** Lines shown of each kind; the rest is a link. */
    private static final int LINES = 6;

    /** A block with care that is late. */
    record LateCare(String code, List<CareItem> items) {}

    private final Progress progress;
    private final YearOne yearOne;
    private final Vineyards vineyards;
    private final CurrentMember member;

    TodayController(Progress progress, YearOne yearOne, Vineyards vineyards, CurrentMember member) {
        this.progress = progress;
        this.yearOne = yearOne;
        this.vineyards = vineyards;
        this.member = member;
    }

    /** Read in one transaction, not a read-only one: the first look gives a new vineyard its checklist. */
    @Transactional
    @GetMapping("/")
    @Needs(Role.READER)
    String today(Model model) {
        Progress.Today now = progress.today(vineyards.today());
        List<LateCare> care = now.all().tally().present() == 0 ? List.of() : lateCare(now);
        model.addAttribute("now", now);
        model.addAttribute("pressing", Shown.first(LINES, now.pressing()));
        model.addAttribute("late", Shown.first(LINES, now.due().late()));
        model.addAttribute("soon", Shown.first(LINES, now.due().soon()));
        model.addAttribute("care", Shown.first(LINES, care));
        model.addAttribute("allCare", care.size());
        model.addAttribute("lines", LINES);
        model.addAttribute("lead", member.may(Role.LEAD));
        model.addAttribute("helper", member.may(Role.HELPER));
        return "review/today";
    }

    /** What the checklist calls late, block by block. */
    private List<LateCare> lateCare(Progress.Today now) {
        return yearOne.blocks(now.ground(), now.tallies()).stream()
                .map(year -> new LateCare(
                        year.block().code(),
                        year.with(CareLine.Standing.LATE).stream()
                                .map(CareLine::item)
                                .toList()))
                .filter(late -> !late.items().isEmpty())
                .toList();
    }
}
