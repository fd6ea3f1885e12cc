package org.rootling.review.web;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.review.domain.SeasonBook;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** A planting season from order to first pruning, beside the others; what people earn only for those who may see it. */
@Controller
@RequestMapping("/v/{vineyard}/review/season")
class SeasonController {

    private final SeasonBook book;
    private final CurrentMember member;
    private final MessageSource messages;

    SeasonController(SeasonBook book, CurrentMember member, MessageSource messages) {
        this.book = book;
        this.member = member;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.READER)
    String season(@RequestParam(required = false) @Nullable Integer season, Model model) {
        SeasonBook.Book found = book.book(season);
        List<SeasonTimeline.Line> lines = found.events().stream()
                .map(e -> new SeasonTimeline.Line(text("review.season.event-" + e.key()), e.on(), e.until()))
                .toList();
        model.addAttribute("book", found);
        model.addAttribute("lines", lines);
        model.addAttribute("timeline", SeasonTimeline.draw(lines, text("review.season.timeline")));
        model.addAttribute("money", member.may(Role.LEAD));
        model.addAttribute("compared", book.compared());
        return "review/season";
    }

    private String text(String key) {
        return messages.getMessage(key, null, LocaleContextHolder.getLocale());
    }
}
