package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Work orders for tests: small builders and a generator of random ones. */
final class Orders {
    static final LocalDate MONDAY = LocalDate.of(2027, 4, 5);

    private Orders() {}

    static Helper helper(String id, int quartersEveryDay, String... skills) {
        Map<DayOfWeek, Integer> week = new EnumMap<>(DayOfWeek.class);
        for (DayOfWeek d : DayOfWeek.values()) {
            week.put(d, quartersEveryDay);
        }
        return new Helper(id, week, Set.of(skills), Set.of());
    }

    static Job job(String id, int quarters, int min, int max, String... after) {
        return new Job(id, quarters, min, max, null, null, List.of(after), 0, null, null, 1, null);
    }

    static Job skilled(String id, int quarters, String skill, String... after) {
        return new Job(id, quarters, 1, 1, skill, null, List.of(after), 0, null, null, 1, null);
    }

    static Job due(Job j, LocalDate due, long weight) {
        return new Job(
                j.id(),
                j.quarters(),
                j.minPeople(),
                j.maxPeople(),
                j.skill(),
                j.tool(),
                j.after(),
                j.waitDays(),
                j.earliest(),
                due,
                weight,
                j.group());
    }

    static WorkOrder order(List<Helper> helpers, List<Job> jobs) {
        return new WorkOrder(MONDAY, helpers, List.of(), jobs, List.of());
    }

    /** Random order of some size; about one in ten is impossible and has to be filtered by the check. */
    static WorkOrder random(Random r, int people, int jobCount, int dayQuarters, int most, boolean pinned) {
        String[] skills = {"bore", "wire", "plant"};
        List<Helper> helpers = new ArrayList<>();
        for (int p = 0; p < people; p++) {
            Map<DayOfWeek, Integer> week = new EnumMap<>(DayOfWeek.class);
            for (DayOfWeek d : DayOfWeek.values()) {
                if (r.nextInt(3) > 0) {
                    week.put(d, 1 + r.nextInt(dayQuarters));
                }
            }
            Set<String> has = new HashSet<>();
            for (String s : skills) {
                if (r.nextInt(2) == 0) {
                    has.add(s);
                }
            }
            Set<LocalDate> off = new HashSet<>();
            if (r.nextInt(3) == 0) {
                off.add(MONDAY.plusDays(r.nextInt(8)));
            }
            helpers.add(new Helper("p" + p, week, has, off));
        }
        List<Tool> tools = List.of(new Tool("auger", 1), new Tool("cart", 2));
        List<Job> jobs = new ArrayList<>();
        for (int j = 0; j < jobCount; j++) {
            Set<String> after = new LinkedHashSet<>();
            if (j > 0 && r.nextInt(2) == 0) {
                after.add("t" + r.nextInt(j));
            }
            if (j > 1 && r.nextInt(4) == 0) {
                after.add("t" + r.nextInt(j));
            }
            int min = r.nextInt(4) == 0 ? 2 : 1;
            @Nullable String tool = r.nextInt(3) == 0 ? tools.get(r.nextInt(2)).id() : null;
            jobs.add(new Job(
                    "t" + j,
                    min + r.nextInt(most),
                    min,
                    min + r.nextInt(3),
                    r.nextInt(2) == 0 ? skills[r.nextInt(3)] : null,
                    tool,
                    List.copyOf(after),
                    r.nextInt(4) == 0 ? 1 + r.nextInt(2) : 0,
                    r.nextInt(4) == 0 ? MONDAY.plusDays(r.nextInt(5)) : null,
                    r.nextInt(2) == 0 ? MONDAY.plusDays(r.nextInt(6) - 1) : null,
                    r.nextInt(200),
                    r.nextInt(2) == 0 ? "A" : "B"));
        }
        List<Pin> pins = new ArrayList<>();
        for (int i = 0; pinned && i < 1 + r.nextInt(3); i++) {
            pins.add(new Pin("t" + r.nextInt(jobCount), "p" + r.nextInt(people), MONDAY.plusDays(r.nextInt(7))));
        }
        return new WorkOrder(MONDAY, helpers, tools, jobs, pins);
    }

    /** The same order where some work is outdoors, some waits for a hold, and some days are lost. */
    static WorkOrder withWeather(WorkOrder o, Random r) {
        List<Job> jobs = o.jobs().stream()
                .map(j -> new Job(
                        j.id(),
                        j.quarters(),
                        j.minPeople(),
                        j.maxPeople(),
                        j.skill(),
                        j.tool(),
                        j.after(),
                        j.waitDays(),
                        j.earliest(),
                        j.due(),
                        j.weight(),
                        j.group(),
                        r.nextBoolean(),
                        r.nextInt(3) == 0,
                        r.nextBoolean() ? "PLANT" : "WEED"))
                .toList();
        Set<LocalDate> lost = new HashSet<>();
        for (int d = 0; d < 8; d++) {
            if (r.nextInt(3) == 0) {
                lost.add(MONDAY.plusDays(d));
            }
        }
        List<Helper> helpers = o.helpers().stream()
                .map(h -> new Helper(
                        h.id(), h.quarters(), h.skills(), h.daysOff(), r.nextBoolean() ? Set.of("PLANT") : Set.of()))
                .toList();
        // Now and then one kind of work stands other weather than the rest.
        Set<LocalDate> other = new HashSet<>();
        lost.forEach(d -> other.add(d.plusDays(1)));
        return new WorkOrder(
                o.start(),
                helpers,
                o.tools(),
                jobs,
                o.pins(),
                lost,
                lost.size() % 2 == 0 ? Map.of() : Map.of("WEED", other));
    }
}
