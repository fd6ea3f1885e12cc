package org.rootling.review.web;

import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
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
        model.addAttribute(
                "hits",
                Listing.of("found", finding.find(asked))
                        .notSearched()
                        .by(
                                "review.find.what",
                                h -> new Listing.Word(
                                        "review.find.kind-" + h.kind().key()))
                        .by("review.find.name", h -> h.name())
                        .by("review.find.about", h -> h.about()));
        return "review/find";
    }
}
