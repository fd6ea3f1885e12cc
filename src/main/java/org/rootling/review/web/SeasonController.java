package org.rootling.review.web;

import java.math.BigDecimal;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
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
        model.addAttribute(
                "labour",
                Listing.of("labour", found.labour())
                        .by("review.season.work", l -> l.name())
                        .by("review.season.done", l -> l.done())
                        .by("review.season.of-places", l -> l.quantity())
                        .by("review.season.planned", l -> l.planned())
                        .by("review.season.planned-done", l -> l.plannedForDone())
                        .by("review.season.hours", l -> l.hours()));
        model.addAttribute("compared", compared());
        return "review/season";
    }

    private Listing<SeasonBook.Sums> compared() {
        String area = Measure.SQUARE_METRE.unit();
        Listing<SeasonBook.Sums> compared = Listing.of("seasons", book.compared())
                .by("review.season.season", s -> s.vineyard() + " " + s.season())
                .by("review.season.places", s -> s.places())
                .by("review.season.area-in", area, s -> Measure.SQUARE_METRE.shown(s.areaM2(), 0))
                .by("review.season.hours", s -> s.hours())
                .by("review.season.planned-done", s -> s.plannedForDone())
                .by("review.season.per-vine", s -> s.minutesPerVine())
                .by("review.season.per-hectare", UnitText.areaUnit(), s -> perArea(s.hoursPerHectare()));
        return !member.may(Role.LEAD)
                ? compared
                : compared.by(
                        "review.season.cost",
                        s -> s.costs().stream()
                                .map(c -> c.all().toPlainString() + " " + c.currency())
                                .collect(Collectors.joining(", ")));
    }

    private static @Nullable BigDecimal perArea(@Nullable BigDecimal perHectare) {
        return perHectare == null ? null : Measure.PER_HECTARE.shown(perHectare.doubleValue(), 0);
    }

    private String text(String key) {
        return messages.getMessage(key, null, LocaleContextHolder.getLocale());
    }
}
