package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;

/**
 * Recomputes every hard rule, the finish and the lateness from an answer alone. Written from the
 * meaning of the rules and sharing no code with the search.
 */
final class ScheduleRules {
    private ScheduleRules() {}

    static List<String> broken(WorkOrder order, Schedule schedule) {
        List<String> broken = new ArrayList<>();
        Map<String, Helper> helpers = new HashMap<>();
        order.helpers().forEach(h -> helpers.put(h.id(), h));
        Map<String, Job> jobs = new HashMap<>();
        order.jobs().forEach(j -> jobs.put(j.id(), j));
        Set<String> personTimes = new HashSet<>();
        Map<String, TreeMap<Long, Integer>> crews = new HashMap<>();
        Map<String, Integer> worked = new HashMap<>();
        for (Stint s : schedule.stints()) {
            Helper h = helpers.get(s.helper());
            Job j = jobs.get(s.job());
            if (h == null || j == null) {
                broken.add("unknown person or task: " + s);
                continue;
            }
            if (s.date().isBefore(order.start())) {
                broken.add("before the start: " + s);
            }
            int hours = h.daysOff().contains(s.date())
                    ? 0
                    : h.quarters().getOrDefault(s.date().getDayOfWeek(), 0);
            if (s.from() < 0 || s.to() <= s.from() || s.to() > hours) {
                broken.add("outside the working day of " + hours + " quarters: " + s);
            }
            if (j.skill() != null && !h.skills().contains(j.skill())) {
                broken.add("lacks the skill: " + s);
            }
            if (j.outdoors()
                    && (j.kind() == null
                                    ? order.lostDays()
                                    : order.lostByKind().getOrDefault(j.kind(), order.lostDays()))
                            .contains(s.date())
                    && order.pins().stream()
                            .noneMatch(p -> p.job().equals(j.id()) && p.date().equals(s.date()))) {
                broken.add("outdoors on a lost day: " + s);
            }
            if (j.earliest() != null && s.date().isBefore(j.earliest())) {
                broken.add("before its earliest day: " + s);
            }
            for (int q = s.from(); q < s.to(); q++) {
                if (!personTimes.add(s.helper() + " " + s.date() + " " + q)) {
                    broken.add("on two things at once: " + s);
                }
                crews.computeIfAbsent(s.job(), k -> new TreeMap<>()).merge(time(s.date(), q), 1, Integer::sum);
                worked.merge(s.job(), 1, Integer::sum);
            }
        }
        Map<String, Map<Long, Integer>> toolUse = new HashMap<>();
        LocalDate finish = null;
        Map<String, Long> late = new HashMap<>();
        for (Job j : order.jobs()) {
            TreeMap<Long, Integer> crew = crews.getOrDefault(j.id(), new TreeMap<>());
            if (schedule.unplanned().contains(j.id())) {
                if (!crew.isEmpty()) {
                    broken.add("unplanned and yet worked on: " + j.id());
                }
                continue;
            }
            if (worked.getOrDefault(j.id(), 0) != j.quarters()) {
                broken.add(j.id() + " needs " + j.quarters() + " has " + worked.get(j.id()));
                continue;
            }
            for (Map.Entry<Long, Integer> e : crew.entrySet()) {
                if (e.getValue() < j.minPeople() || e.getValue() > j.maxPeople()) {
                    broken.add(e.getValue() + " people at once on " + j.id());
                }
                if (j.tool() != null) {
                    toolUse.computeIfAbsent(j.tool(), k -> new HashMap<>()).merge(e.getKey(), 1, Integer::sum);
                }
            }
            LocalDate done = date(crew.lastKey());
            finish = finish == null || done.isAfter(finish) ? done : finish;
            if (j.due() != null && done.isAfter(j.due())) {
                late.put(j.id(), done.toEpochDay() - j.due().toEpochDay());
            }
            for (String b : j.after()) {
                TreeMap<Long, Integer> first = crews.getOrDefault(b, new TreeMap<>());
                if (first.isEmpty()) {
                    broken.add(j.id() + " done though " + b + " is not");
                } else if (j.waitDays() == 0 && crew.firstKey() <= first.lastKey()) {
                    broken.add(j.id() + " starts before the end of " + b);
                } else if (date(crew.firstKey()).isBefore(date(first.lastKey()).plusDays(j.waitDays()))) {
                    broken.add(j.id() + " does not wait for " + b);
                }
            }
        }
        for (Tool t : order.tools()) {
            toolUse.getOrDefault(t.id(), Map.of()).forEach((time, count) -> {
                if (count > t.count()) {
                    broken.add(count + " times " + t.id() + " in use at once");
                }
            });
        }
        for (Pin p : order.pins()) {
            boolean kept = schedule.stints().stream()
                    .anyMatch(s -> s.job().equals(p.job())
                            && s.helper().equals(p.helper())
                            && s.date().equals(p.date()));
            if (!kept && !schedule.unplanned().contains(p.job())) {
                broken.add("not kept: " + p);
            }
        }
        if (finish != null && !finish.equals(schedule.finish())) {
            broken.add("says finish " + schedule.finish() + " but it is " + finish);
        }
        Map<String, Long> said = new HashMap<>();
        schedule.late().forEach(l -> said.put(l.job(), l.days()));
        if (!said.equals(late)) {
            broken.add("says late " + said + " but it is " + late);
        }
        return broken;
    }

    private static long time(LocalDate date, int quarter) {
        return date.toEpochDay() * 96 + quarter;
    }

    private static LocalDate date(long time) {
        return LocalDate.ofEpochDay(Math.floorDiv(time, 96L));
    }
}
