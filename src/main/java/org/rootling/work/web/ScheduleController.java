package org.rootling.work.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.work.Tasks;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.LostDays;
import org.rootling.work.domain.ScheduleService;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The schedule: search, stop, look, fix a choice. */
@Controller
@RequestMapping("/v/{vineyard}/work/schedule")
class ScheduleController {
    /** A search to start. */
    record SearchForm(
            @NotNull @SaneDate LocalDate from,
            @Min(1) @Max(120) int seconds,
            @Nullable Boolean keep) {}

    /** A choice to fix. */
    record PinForm(
            @NotNull UUID task,
            @NotNull UUID person,
            @NotNull @SaneDate LocalDate day) {}

    private final ScheduleService schedules;
    private final CrewService crew;
    private final Tasks tasks;
    private final LostDays lostDays;
    private final Vineyards vineyards;

    ScheduleController(
            ScheduleService schedules, CrewService crew, Tasks tasks, LostDays lostDays, Vineyards vineyards) {
        this.schedules = schedules;
        this.crew = crew;
        this.tasks = tasks;
        this.lostDays = lostDays;
        this.vineyards = vineyards;
    }

    @GetMapping
    @Needs(Role.READER)
    String schedule(Model model, HttpServletResponse response) {
        Optional<ScheduleService.Run> run = schedules.latest();
        if (run.filter(ScheduleService.Run::running).isPresent()) {
            // The page follows the search without any script.
            response.setHeader("Refresh", "3");
        }
        return show(model, run);
    }

    private String show(Model model, Optional<ScheduleService.Run> run) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new SearchForm(vineyards.today(), 10, false));
        }
        model.addAttribute("run", run.orElse(null));
        List<ScheduleService.Day> days = run.map(r -> schedules.days(r.id())).orElse(List.of());
        model.addAttribute("days", days);
        model.addAttribute("late", late(schedules.late(days)));
        model.addAttribute("moved", listed(schedules.moved()));
        model.addAttribute(
                "unplanned", run.map(r -> schedules.unplanned(r.id())).orElse(List.of()));
        model.addAttribute("lost", lostDays.foretoldLost(vineyards.today()));
        model.addAttribute("unrated", schedules.unrated());
        model.addAttribute("pins", schedules.pins());
        Map<UUID, String> people = new LinkedHashMap<>();
        crew.people().forEach(p -> people.put(p.id(), p.shown()));
        model.addAttribute("people", people);
        Map<UUID, String> open = new LinkedHashMap<>();
        tasks.open().stream().limit(500).forEach(t -> open.put(t.id(), t.stepName() + " \u00b7 " + t.row()));
        model.addAttribute("openTasks", open);
        return "work/schedule";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String start(@Valid @ModelAttribute("form") SearchForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    schedules.start(form.from(), form.seconds(), Boolean.TRUE.equals(form.keep()));
                    return "redirect:" + Paths.to("/work/schedule");
                },
                () -> show(model, schedules.latest()));
    }

    @PostMapping("/{id}/cancel")
    @Needs(Role.LEAD)
    String cancel(@PathVariable UUID id) {
        schedules.cancel(id);
        return "redirect:" + Paths.to("/work/schedule");
    }

    @PostMapping("/pins")
    @Needs(Role.LEAD)
    String pin(@Valid @ModelAttribute("pin") PinForm form, BindingResult errors) {
        if (errors.hasErrors()) {
            throw new Refused("work.schedule.pin-wrong");
        }
        if (tasks.byId(form.task()).isEmpty() || crew.person(form.person()).isEmpty()) {
            throw new NotFound("task or person");
        }
        schedules.pin(form.task(), form.person(), form.day());
        return "redirect:" + Paths.to("/work/schedule");
    }

    @PostMapping("/pins/{id}/remove")
    @Needs(Role.LEAD)
    String unpin(@PathVariable UUID id) {
        schedules.unpin(id);
        return "redirect:" + Paths.to("/work/schedule");
    }

    private static Listing<ScheduleService.Late> late(List<ScheduleService.Late> late) {
        return Listing.of("late", late)
                .on(Paths.to("/work/schedule"))
                .by(
                        "work.schedule.task",
                        l -> l.task().stepName() + " " + l.task().row())
                .by("work.board.due", l -> l.due())
                .by("work.schedule.finish", l -> l.done())
                .by("work.schedule.late-days", l -> l.days())
                .by("work.schedule.late-vines", l -> l.vines())
                .by("work.schedule.late-vine-days", l -> l.vineDays());
    }

    private static Listing<ScheduleService.Moved> listed(List<ScheduleService.Moved> moved) {
        return Listing.of("moved", moved)
                .on(Paths.to("/work/schedule"))
                .by(
                        "work.schedule.task",
                        m -> m.task().stepName() + " " + m.task().row())
                .by("work.schedule.was", m -> m.from().date())
                .by("work.sheet.time", m -> m.from().time())
                .by("work.board.people", m -> m.from().people())
                .by("work.schedule.is", m -> m.to().date())
                .by("work.sheet.time", m -> m.to().time())
                .by("work.board.people", m -> m.to().people())
                .by("work.schedule.why", m -> new Listing.Word("work.schedule.why." + m.why(), List.of(m.by())));
    }
}
