package org.rootling.review.web;

import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.review.domain.Progress;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The first page: what is in danger, what is next, how far are we. */
@Controller
@RequestMapping("/v/{vineyard}")
class TodayController {

    /** Lines shown of each kind; the rest is a link. */
    private static final int LINES = 6;

    private final Progress progress;
    private final Vineyards vineyards;
    private final CurrentMember member;

    TodayController(Progress progress, Vineyards vineyards, CurrentMember member) {
        this.progress = progress;
        this.vineyards = vineyards;
        this.member = member;
    }

    @GetMapping("/")
    @Needs(Role.READER)
    String today(Model model) {
        Progress.Today now = progress.today(vineyards.today());
        model.addAttribute("now", now);
        model.addAttribute("lines", LINES);
        model.addAttribute("lead", member.may(Role.LEAD));
        model.addAttribute("helper", member.may(Role.HELPER));
        return "review/today";
    }
}
