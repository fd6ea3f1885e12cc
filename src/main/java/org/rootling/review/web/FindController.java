package org.rootling.review.web;

import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.review.domain.Finding;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The search box. */
@Controller
@RequestMapping("/v/{vineyard}/find")
class FindController {

    private static final int LONGEST = 80;

    private final Finding finding;

    FindController(Finding finding) {
        this.finding = finding;
    }

    @GetMapping
    @Needs(Role.READER)
    String find(@RequestParam(name = "q", required = false) @Nullable String words, Model model) {
        String q = words == null ? "" : words;
        String asked = q.length() > LONGEST ? q.substring(0, LONGEST) : q;
        model.addAttribute("q", asked);
        model.addAttribute("hits", finding.find(asked));
        return "review/find";
    }
}
