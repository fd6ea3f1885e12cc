package org.rootling.work.domain;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Advice;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lots;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.calc.NoShow;
import org.rootling.work.calc.Rate;
import org.rootling.work.calc.SeasonInput;
import org.rootling.work.calc.Tool;
import org.rootling.work.calc.WorkOrder;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Turns the open tasks, people, tools, holds and weather into seasons to be played, and into what might help. */
@Component
class OutlookBuilder {
    private final Tasks tasks;
    private final Steps steps;
    private final CrewService crew;
    private final RateBook rates;
    private final LostDays lostDays;
    private final Attendance attendance;
    private final Lots lots;

    OutlookBuilder(
            Tasks tasks,
            Steps steps,
            CrewService crew,
            RateBook rates,
            LostDays lostDays,
            Attendance attendance,
            Lots lots) {
        this.attendance = attendance;
        this.tasks = tasks;
        this.steps = steps;
        this.crew = crew;
        this.rates = rates;
        this.lostDays = lostDays;
        this.lots = lots;
    }

    /** A lot with what is still to plant of it. */
    record LotToPlant(String code, int vines, @Nullable LocalDate runsOut) {}

    /** Another way to go about it. */
    record Variant(String what, String about, String where, SeasonInput input) {}

    /** All that is played. */
    record Built(
            SeasonInput base,
            Map<String, LotToPlant> lots,
            List<Variant> variants,
            int weatherDays,
            NoShow noShow,
            List<String> unrated,
            List<String> unplanned) {}

    @Transactional(readOnly = true)
    Built build(LocalDate start) {
        List<Step> all = steps.all();
        Map<String, Step> byCode = new HashMap<>();
        all.forEach(s -> byCode.put(s.code(), s));
        Map<String, Rate> known = rates.rates();
        List<Task> open = tasks.open();
        Map<UUID, List<Task>> byRow = new HashMap<>();
        open.stream()
                .filter(t -> known.containsKey(t.step()))
                .forEach(t ->
                        byRow.computeIfAbsent(t.rowId(), k -> new ArrayList<>()).add(t));
        Set<String> unrated = new TreeSet<>();
        Set<String> toolsUsed = new TreeSet<>();
        Map<String, LotToPlant> lotsToPlant = new TreeMap<>();
        Map<UUID, @Nullable LocalDate> plantBy = new HashMap<>();
        Map<String, String> blocks = new LinkedHashMap<>();
        List<SeasonInput.Work> jobs = new ArrayList<>();
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
            blocks.put(t.id().toString(), t.blockCode());
            LocalDate runsOut = null;
            if (t.lotId() != null && t.step().equals(TaskService.PLANT)) {
                UUID lot = t.lotId();
                if (!plantBy.containsKey(lot)) {
                    plantBy.put(lot, lots.plantBy(lot).orElse(null));
                }
                runsOut = plantBy.get(lot);
                LocalDate out = runsOut;
                lotsToPlant.merge(
                        String.valueOf(t.lotCode()),
                        new LotToPlant(String.valueOf(t.lotCode()), t.quantity() - t.done(), out),
                        (a, b) -> new LotToPlant(a.code(), a.vines() + b.vines(), out));
            }
            jobs.add(work(t, step, rate, byRow.getOrDefault(t.rowId(), List.of()), byCode, runsOut));
        }
        NoShow noShow = attendance.noShow(lostDays.settings().noShow().doubleValue());
        SeasonInput base =
                new SeasonInput(start, workers(), tools(toolsUsed), jobs, noShow.share(), lostDays.seasons(start, all));
        Set<String> unplanned = new TreeSet<>();
        List<Hold> holds = lots.holds();
        holds.stream()
                .map(Hold::lotCode)
                .filter(c -> !lotsToPlant.containsKey(c))
                .forEach(unplanned::add);
        return new Built(
                base,
                lotsToPlant,
                variants(base, blocks, holds, lotsToPlant),
                base.weather().recorded().size(),
                noShow,
                List.copyOf(unrated),
                List.copyOf(unplanned));
    }

    private static SeasonInput.Work work(
            Task t, Step step, Rate rate, List<Task> sameRow, Map<String, Step> byCode, @Nullable LocalDate runsOut) {
        int left = t.quantity() - t.done();
        return new SeasonInput.Work(
                t.id().toString(),
                t.step(),
                left * rate.median() / 60,
                Math.sqrt(rate.logVariance()),
                step.peopleLeast(),
                step.peopleMost(),
                step.skill(),
                step.tool(),
                OrderBuilder.before(step, sameRow, byCode),
                step.waitDays(),
                null,
                step.outdoors(),
                t.step().equals(TaskService.PLANT) ? t.lotCode() : null,
                runsOut);
    }

    private List<SeasonInput.Worker> workers() {
        return crew.people().stream()
                // One place is left for a helper who might come.
                .limit(WorkOrder.MOST_HELPERS - 1)
                .map(p -> {
                    Map<DayOfWeek, Double> hours = new EnumMap<>(DayOfWeek.class);
                    for (DayOfWeek d : DayOfWeek.values()) {
                        hours.put(d, p.hours().get(d.getValue() - 1).doubleValue());
                    }
                    return new SeasonInput.Worker(
                            p.id().toString(), hours, Set.copyOf(p.skills()), Set.copyOf(p.daysOff()));
                })
                .toList();
    }

    private List<Tool> tools(Set<String> used) {
        Map<String, Integer> counts = new HashMap<>();
        crew.tools().forEach(t -> counts.put(t.name(), t.count()));
        return used.stream()
                .map(name -> new Tool(name, counts.getOrDefault(name, 1)))
                .toList();
    }

    private List<Variant> variants(
            SeasonInput base, Map<String, String> blocks, List<Hold> holds, Map<String, LotToPlant> toPlant) {
        List<Variant> variants = new ArrayList<>();
        Set<String> skills = new HashSet<>();
        base.jobs().forEach(j -> {
            if (j.skill() != null) {
                skills.add(j.skill());
            }
        });
        LocalDate saturday = base.start();
        while (saturday.getDayOfWeek() != DayOfWeek.SATURDAY) {
            saturday = saturday.plusDays(1);
        }
        variants.add(new Variant("HELPER_DAY", saturday.toString(), "", withHelper(base, skills, saturday)));
        variants.add(new Variant("HELPER_WEEKLY", DayOfWeek.SATURDAY.name(), "", withHelper(base, skills, null)));
        for (Tool tool : base.tools()) {
            List<Tool> more = base.tools().stream()
                    .map(t -> t.id().equals(tool.id()) ? new Tool(t.id(), t.count() + 1) : t)
                    .toList();
            variants.add(new Variant("TOOL", tool.id(), "", with(base, base.workers(), more, base.jobs())));
        }
        for (LotToPlant lot : toPlant.values()) {
            moved(base, lot, holds).ifPresent(variants::add);
        }
        Set<String> codes = new TreeSet<>(blocks.values());
        if (codes.size() > 1) {
            for (String block : codes) {
                List<SeasonInput.Work> jobs = new ArrayList<>(base.jobs());
                jobs.sort(Comparator.comparingInt(j -> block.equals(blocks.get(j.id())) ? 0 : 1));
                variants.add(new Variant("BLOCK_FIRST", block, "", with(base, base.workers(), base.tools(), jobs)));
            }
        }
        return variants;
    }

    private static SeasonInput with(
            SeasonInput base, List<SeasonInput.Worker> workers, List<Tool> tools, List<SeasonInput.Work> jobs) {
        return new SeasonInput(base.start(), workers, tools, jobs, base.noShow(), base.weather());
    }

    /** One more helper with every skill, for eight hours on one Saturday or on every one. */
    private static SeasonInput withHelper(SeasonInput base, Set<String> skills, @Nullable LocalDate only) {
        Set<LocalDate> off = new HashSet<>();
        for (LocalDate d = base.start(); only != null && d.isBefore(base.start().plusDays(730)); d = d.plusDays(1)) {
            if (!d.equals(only)) {
                off.add(d);
            }
        }
        List<SeasonInput.Worker> workers = new ArrayList<>(base.workers());
        workers.add(new SeasonInput.Worker("one more", Map.of(DayOfWeek.SATURDAY, 8.0), skills, off));
        return with(base, workers, base.tools(), base.jobs());
    }

    /** Each hold of a lot moved to where the hold clock says it gains most; its day is then the earliest of these. */
    private static Optional<Variant> moved(SeasonInput base, LotToPlant lot, List<Hold> holds) {
        if (lot.runsOut() == null) {
            return Optional.empty();
        }
        LocalDate then = null;
        String where = "";
        boolean any = false;
        for (Hold h : holds) {
            if (!h.lotCode().equals(lot.code())) {
                continue;
            }
            Advice best = h.advice().stream()
                    .filter(a -> a.action().equals("move"))
                    .findFirst()
                    .orElse(null);
            any |= best != null;
            LocalDate out = best == null ? h.plantBy() : best.runsOutOn();
            where = best == null ? where : best.where();
            then = out == null ? then : then == null || out.isBefore(then) ? out : then;
        }
        if (!any) {
            return Optional.empty();
        }
        LocalDate day = then;
        List<SeasonInput.Work> jobs = base.jobs().stream()
                .map(j -> lot.code().equals(j.lot())
                        ? new SeasonInput.Work(
                                j.id(),
                                j.step(),
                                j.medianHours(),
                                j.logSd(),
                                j.minPeople(),
                                j.maxPeople(),
                                j.skill(),
                                j.tool(),
                                j.after(),
                                j.waitDays(),
                                j.earliest(),
                                j.outdoors(),
                                j.lot(),
                                day)
                        : j)
                .toList();
        return Optional.of(
                new Variant("COLD_STORE", lot.code(), where, with(base, base.workers(), base.tools(), jobs)));
    }
}
