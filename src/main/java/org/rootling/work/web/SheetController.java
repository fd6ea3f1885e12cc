package org.rootling.work.web;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Paths;
import org.rootling.work.domain.Attendance;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.DaySheets;
import org.rootling.work.domain.LostDays;
import org.rootling.work.domain.ScheduleService;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The lead's sheets: everybody's day, to print and hand out, and the week as a picture. */
@Controller
@RequestMapping("/v/{vineyard}/work")
class SheetController {
    private final DaySheets sheets;
    private final ScheduleService schedules;
    private final LostDays lostDays;
    private final Attendance attendance;
    private final CrewService crew;
    private final CurrentMember current;
    private final Vineyards vineyards;

    SheetController(
            DaySheets sheets,
            ScheduleService schedules,
            LostDays lostDays,
            Attendance attendance,
            CrewService crew,
            CurrentMember current,
            Vineyards vineyards) {
        this.crew = crew;
        this.current = current;
        this.attendance = attendance;
        this.sheets = sheets;
        this.schedules = schedules;
        this.lostDays = lostDays;
        this.vineyards = vineyards;
    }

    @GetMapping("/sheet")
    @Needs(Role.READER)
    String sheet(
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate day,
            Model model) {
        LocalDate shown = day == null ? vineyards.today() : sane(day);
        model.addAttribute("day", shown);
        model.addAttribute("lost", lostDays.foretoldLost(shown).contains(shown));
        List<DaySheets.Sheet> all = sheets.of(shown);
        model.addAttribute("sheets", all);
        model.addAttribute("absent", attendance.absent(shown));
        model.addAttribute("mayMark", !shown.isAfter(vineyards.today()));
        Map<UUID, List<String>> cautions = new HashMap<>();
        for (DaySheets.Sheet s : all) {
            cautions.put(
                    s.personId(),
                    s.items().stream()
                            .map(DaySheets.Item::caution)
                            .filter(Objects::nonNull)
                            .distinct()
                            .toList());
        }
        model.addAttribute("cautions", cautions);
        // Who tells people of one name apart needs more than a number; addresses are no business of others.
        model.addAttribute("alike", current.may(Role.LEAD) ? crew.alike() : Set.of());
        model.addAttribute("mails", current.may(Role.LEAD) ? crew.mails() : Map.of());
        return "work/sheet";
    }

    /** Somebody did not come, or came after all. */
    @PostMapping("/sheet/absent")
    @Needs(Role.LEAD)
    String absent(
            @RequestParam UUID person,
            @RequestParam @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate day,
            @RequestParam(defaultValue = "true") boolean absent) {
        attendance.mark(person, day, absent);
        return "redirect:" + Paths.to("/work/sheet?day=" + day);
    }

    @GetMapping("/week")
    @Needs(Role.READER)
    String week(
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            Model model) {
        LocalDate monday = (from == null ? vineyards.today() : sane(from))
                .with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
        List<ScheduleService.Day> days = schedules.inForce().map(schedules::days).orElse(List.of()).stream()
                .filter(d -> !d.date().isBefore(monday) && d.date().isBefore(monday.plusDays(7)))
                .toList();
        model.addAttribute("monday", monday);
        model.addAttribute("days", days);
        model.addAttribute(
                "pictures",
                WeekPicture.of(monday, days, lostDays.foretoldLost(monday), LocaleContextHolder.getLocale()));
        return "work/week";
    }

    private LocalDate sane(LocalDate day) {
        return day.getYear() < 1990 || day.getYear() > 2100 ? vineyards.today() : day;
    }
}
