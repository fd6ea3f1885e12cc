package org.rootling.work.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.LabourReport;
import org.rootling.work.domain.PersonBook;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;

/**
 * One person of the vineyard. Everybody sees the name and the open tasks, which stand on the board and the plans too; role,
 * address, hours and logs are for leads, and one's own role and address for oneself.
 */
@Controller
@RequestMapping("/v/{vineyard}/people/{id}")
class PersonController {
    private static final int MONTHS = 12;

    private final PersonBook book;
    private final CurrentMember current;
    private final Vineyards vineyards;

    PersonController(PersonBook book, CurrentMember current, Vineyards vineyards) {
        this.book = book;
        this.current = current;
        this.vineyards = vineyards;
    }

    @GetMapping
    @Needs(Role.READER)
    String person(@PathVariable UUID id, Model model) {
        PersonBook.Known person = book.find(id).orElseThrow(() -> new NotFound("person"));
        boolean lead = current.may(Role.LEAD);
        boolean self = Objects.equals(person.account(), current.accountId());
        model.addAttribute("person", person);
        model.addAttribute("self", self);
        model.addAttribute("seesMember", lead || self);
        model.addAttribute(
                "tasks",
                Listing.of("tasks", book.ahead(person))
                        .by("work.board.step", a -> a.task().stepName())
                        .by("work.board.row", a -> a.task().row())
                        .by("work.board.done", a -> a.task().done())
                        .by("work.board.due", a -> a.task().due())
                        .by("work.person.planned", a -> a.planned()));
        if (lead) {
            hours(person, model);
        }
        return "work/person-page";
    }

    private void hours(PersonBook.Known person, Model model) {
        LocalDate today = vineyards.today();
        LocalDate from = today.minusMonths(MONTHS);
        List<LabourReport.Line> logged = book.logged(person, from, today);
        CrewService.Person week = person.week();
        model.addAttribute("from", from);
        model.addAttribute("to", today);
        model.addAttribute(
                "logs", logged.stream().mapToInt(LabourReport.Line::logs).sum());
        model.addAttribute(
                "hours", logged.stream().map(LabourReport.Line::hours).reduce(BigDecimal.ZERO, BigDecimal::add));
        model.addAttribute(
                "daysOff",
                week == null
                        ? List.of()
                        : week.daysOff().stream()
                                .filter(day -> !day.isBefore(today))
                                .toList());
    }
}
