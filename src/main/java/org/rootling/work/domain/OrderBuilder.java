package org.rootling.work.domain;

import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.calc.Helper;
import org.rootling.work.calc.Job;
import org.rootling.work.calc.Pin;
import org.rootling.work.calc.Rate;
import org.rootling.work.calc.Tool;
import org.rootling.work.calc.WorkOrder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Turns the open tasks, people and tools into what the calculators take. */
@Component
class OrderBuilder {
    private final Tasks tasks;
    private final Steps steps;
    private final CrewService crew;
    private final RateBook rates;
    private final LostDays lostDays;
    private final JdbcClient jdbc;

    OrderBuilder(Tasks tasks, Steps steps, CrewService crew, RateBook rates, LostDays lostDays, JdbcClient jdbc) {
        this.tasks = tasks;
        this.steps = steps;
        this.crew = crew;
        this.rates = rates;
        this.lostDays = lostDays;
        this.jdbc = jdbc;
    }

    /**
     * An order and what had to be left out of it.
     *
     * @param unrated names of steps that have neither a guess nor logs
     */
    record Built(WorkOrder order, Set<String> unrated) {}

    Built order(LocalDate start) {
        List<Step> all = steps.all();
        Map<String, Step> byCode = new HashMap<>();
        all.forEach(s -> byCode.put(s.code(), s));
        Map<String, Rate> known = rates.rates();
        List<Task> open = tasks.open();
        Map<UUID, List<Task>> byRow = byRow(open, known);
        Set<String> unrated = new TreeSet<>();
        List<CrewService.Person> people = crew.people();
        Set<String> toolsUsed = new HashSet<>();
        List<Job> jobs = new ArrayList<>();
        for (Task t : open) {
            Step step = byCode.get(t.step());
            Rate rate = known.get(t.step());
            if (step == null || rate == null) {
                unrated.add(t.stepName());
                continue;
            }
            if (step.tool() != null) {
                toolsUsed.add(step.tool());
            }
            jobs.add(job(t, step, rate, byRow.getOrDefault(t.rowId(), List.of()), byCode));
        }
        return new Built(
                new WorkOrder(
                        start,
                        helpers(people),
                        tools(toolsUsed),
                        jobs,
                        pins(jobs, people, start),
                        lostDays.foretoldLost(start),
                        lostDays.foretoldLost(start, all)),
                unrated);
    }

    private static Map<UUID, List<Task>> byRow(List<Task> open, Map<String, Rate> known) {
        Map<UUID, List<Task>> byRow = new HashMap<>();
        for (Task t : open) {
            if (known.containsKey(t.step())) {
                byRow.computeIfAbsent(t.rowId(), k -> new ArrayList<>()).add(t);
            }
        }
        return byRow;
    }

    private static Job job(Task t, Step step, Rate rate, List<Task> sameRow, Map<String, Step> byCode) {
        int left = t.quantity() - t.done();
        int quarters = (int) Math.max(1, Math.min(40_000, Math.ceil(left * rate.mean() / 15 - 1e-9)));
        // A crew of two cannot make up an odd number of quarters: round up until it can.
        int most = Math.max(step.peopleLeast(), step.peopleMost());
        while (quarters % step.peopleLeast() != 0) {
            quarters++;
        }
        return new Job(
                t.id().toString(),
                quarters,
                step.peopleLeast(),
                most,
                step.skill(),
                step.tool(),
                before(step, sameRow, byCode),
                step.waitDays(),
                null,
                t.due(),
                t.step().equals(TaskService.PLANT) ? left : 1,
                t.blockCode(),
                step.outdoors(),
                t.step().equals(TaskService.PLANT),
                t.step());
    }

    /** Tasks on the same row that come before: by the nearest step in front of it that has one. */
    static List<String> before(Step step, List<Task> sameRow, Map<String, Step> byCode) {
        List<String> before = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        List<String> look = new ArrayList<>(step.after());
        while (!look.isEmpty()) {
            String code = look.remove(look.size() - 1);
            if (!seen.add(code)) {
                continue;
            }
            List<String> here = sameRow.stream()
                    .filter(t -> t.step().equals(code))
                    .map(t -> t.id().toString())
                    .toList();
            before.addAll(here);
            Step earlier = byCode.get(code);
            if (here.isEmpty() && earlier != null) {
                look.addAll(earlier.after());
            }
        }
        return before;
    }

    private static List<Helper> helpers(List<CrewService.Person> people) {
        return people.stream()
                .limit(WorkOrder.MOST_HELPERS)
                .map(p -> {
                    Map<DayOfWeek, Integer> quarters = new EnumMap<>(DayOfWeek.class);
                    for (DayOfWeek d : DayOfWeek.values()) {
                        quarters.put(
                                d,
                                p.hours()
                                        .get(d.getValue() - 1)
                                        .multiply(BigDecimal.valueOf(4))
                                        .intValue());
                    }
                    return new Helper(
                            p.id().toString(),
                            quarters,
                            Set.copyOf(p.skills()),
                            Set.copyOf(p.daysOff()),
                            Set.copyOf(p.wishes()));
                })
                .toList();
    }

    /** A tool that nobody counted is there once. */
    private List<Tool> tools(Set<String> used) {
        Map<String, Integer> counts = new HashMap<>();
        crew.tools().forEach(t -> counts.put(t.name(), t.count()));
        return used.stream()
                .sorted()
                .map(name -> new Tool(name, counts.getOrDefault(name, 1)))
                .toList();
    }

    private List<Pin> pins(List<Job> jobs, List<CrewService.Person> people, LocalDate start) {
        Set<String> jobIds = new HashSet<>();
        jobs.forEach(j -> jobIds.add(j.id()));
        Set<String> personIds = new HashSet<>();
        people.forEach(p -> personIds.add(p.id().toString()));
        return jdbc
                .sql("select task_id::text as task, person_id::text as person, day from work_pin where day >= :start")
                .param("start", start)
                .query((r, n) ->
                        new Pin(r.getString("task"), r.getString("person"), r.getObject("day", LocalDate.class)))
                .list()
                .stream()
                .filter(p -> jobIds.contains(p.job()) && personIds.contains(p.helper()))
                .toList();
    }
}
