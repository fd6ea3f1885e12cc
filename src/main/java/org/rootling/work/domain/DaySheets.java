package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What each person does on a day: from the schedule in force, and what was given to them besides. */
@Service
@Transactional(readOnly = true)
public class DaySheets {
    private final ScheduleService schedules;
    private final CrewService crew;
    private final Tasks tasks;
    private final Steps steps;

    DaySheets(ScheduleService schedules, CrewService crew, Tasks tasks, Steps steps) {
        this.schedules = schedules;
        this.crew = crew;
        this.tasks = tasks;
        this.steps = steps;
    }

    /**
     * One thing to do.
     *
     * @param from wall clock; empty for what was given without a time
     * @param left places still to do
     * @param tool what to bring
     * @param caution key of the caution shown with it
     */
    public record Item(
            Task task,
            String from,
            String to,
            String left,
            @Nullable String tool,
            @Nullable String caution) {}

    /**
     * What one person does on one day.
     *
     * @param personId null for an account that is on no list of who works when
     */
    public record Sheet(LocalDate date, @Nullable UUID personId, String person, List<Item> items) {
        public Sheet {
            items = List.copyOf(items);
        }
    }

    /** Every person's sheet of a day, by name; people with nothing to do are left out. */
    public List<Sheet> of(LocalDate day) {
        Map<String, Step> byCode = steps();
        List<Sheet> sheets = new ArrayList<>();
        for (ScheduleService.Day d : scheduled()) {
            if (d.date().equals(day)) {
                for (ScheduleService.PersonDay p : d.people()) {
                    List<Item> items = items(p.slots(), byCode);
                    if (!items.isEmpty()) {
                        sheets.add(new Sheet(day, p.id(), p.person(), items));
                    }
                }
            }
        }
        return sheets;
    }

    /** One account's sheets of some days from a day on; what is given to them and due then but has no time stands last. */
    public List<Sheet> of(UUID account, LocalDate from, int days) {
        Map<String, Step> byCode = steps();
        Optional<CrewService.Person> self =
                crew.people().stream().filter(p -> account.equals(p.account())).findFirst();
        Map<LocalDate, List<Item>> byDay = new TreeMap<>();
        Set<UUID> timed = new HashSet<>();
        if (self.isPresent()) {
            for (ScheduleService.Day d : scheduled()) {
                List<ScheduleService.Slot> own = d.people().stream()
                        .filter(p -> p.id().equals(self.get().id()))
                        .flatMap(p -> p.slots().stream())
                        .toList();
                if (!d.date().isBefore(from)) {
                    own.forEach(s -> {
                        if (s.task() != null) {
                            timed.add(s.task().id());
                        }
                    });
                }
                if (!d.date().isBefore(from) && d.date().isBefore(from.plusDays(days))) {
                    byDay.computeIfAbsent(d.date(), k -> new ArrayList<>()).addAll(items(own, byCode));
                }
            }
        }
        for (Task t : tasks.forHelper(account, from)) {
            LocalDate due = t.due();
            if (due != null && due.isBefore(from.plusDays(days)) && !timed.contains(t.id())) {
                byDay.computeIfAbsent(due.isBefore(from) ? from : due, k -> new ArrayList<>())
                        .add(item(t, "", "", byCode));
            }
        }
        List<Sheet> sheets = new ArrayList<>();
        byDay.forEach((day, items) -> {
            if (!items.isEmpty()) {
                sheets.add(new Sheet(
                        day,
                        self.map(CrewService.Person::id).orElse(null),
                        self.map(CrewService.Person::shown).orElse(""),
                        items));
            }
        });
        return sheets;
    }

    private Map<String, Step> steps() {
        Map<String, Step> byCode = new LinkedHashMap<>();
        steps.all().forEach(s -> byCode.put(s.code(), s));
        return byCode;
    }

    private List<ScheduleService.Day> scheduled() {
        return schedules.inForce().map(schedules::days).orElse(List.of());
    }

    /** Work that was done meanwhile is no longer to do. */
    private static List<Item> items(List<ScheduleService.Slot> slots, Map<String, Step> byCode) {
        List<Item> items = new ArrayList<>();
        for (ScheduleService.Slot s : slots) {
            Task task = s.task();
            if (task != null && task.status().isOpen()) {
                items.add(item(task, s.from(), s.to(), byCode));
            }
        }
        return items;
    }

    private static Item item(Task task, String from, String to, Map<String, Step> byCode) {
        Step step = byCode.get(task.step());
        return new Item(
                task,
                from,
                to,
                PlaceRun.shorten(task.left()),
                step == null ? null : step.tool(),
                step == null ? null : step.caution());
    }
}
