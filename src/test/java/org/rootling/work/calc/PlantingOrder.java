package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * A planting of 50 rows in four blocks: eight steps a row, 400 tasks, 12 people, two tools, five lots with holds; all of it
 * invented. The benchmark and the tests share it.
 */
public final class PlantingOrder {
    public static final LocalDate START = LocalDate.of(2027, 4, 5);

    private record Step(
            String name,
            double hours,
            int min,
            int max,
            @Nullable String skill,
            @Nullable String tool,
            @Nullable String after) {}

    private static final List<Step> STEPS = List.of(
            new Step("MARK_OUT", 1.0, 2, 3, null, null, null),
            new Step("BORE", 3.5, 1, 2, "auger", "auger", "MARK_OUT"),
            new Step("PLANT", 4.0, 1, 4, null, null, "BORE"),
            new Step("WATER_IN", 1.25, 1, 3, null, null, "PLANT"),
            new Step("GUARD", 1.5, 1, 3, null, null, "PLANT"),
            new Step("STAKE", 2.0, 1, 2, null, null, "PLANT"),
            new Step("SET_END_POSTS", 2.0, 2, 3, null, "post driver", "MARK_OUT"),
            new Step("STRING_WIRE", 2.5, 2, 3, "wire", null, "SET_END_POSTS"));

    private PlantingOrder() {}

    /** The order of a seed. */
    public static WorkOrder of(long seed) {
        Random r = new Random(seed);
        List<Helper> people = new ArrayList<>();
        for (int p = 0; p < 12; p++) {
            Map<DayOfWeek, Integer> week = new EnumMap<>(DayOfWeek.class);
            for (DayOfWeek d : DayOfWeek.values()) {
                boolean weekend = d.getValue() > 5;
                if (weekend ? p % 3 == 0 && d == DayOfWeek.SATURDAY : p % 4 != 3 || d.getValue() % 2 == 1) {
                    week.put(d, 16 + 4 * r.nextInt(5));
                }
            }
            Set<String> skills = new HashSet<>();
            if (p < 4) {
                skills.add("auger");
            }
            if (p % 2 == 0) {
                skills.add("wire");
            }
            people.add(new Helper(
                    "p" + p, week, skills, r.nextInt(3) == 0 ? Set.of(START.plusDays(r.nextInt(12))) : Set.of()));
        }
        List<Job> jobs = new ArrayList<>();
        for (int row = 0; row < 50; row++) {
            int lot = row / 10;
            for (Step s : STEPS) {
                int quarters = (int) Math.round(s.hours() * 4 * (0.7 + 0.6 * r.nextDouble()));
                quarters = Math.max(s.min(), quarters + quarters % s.min());
                boolean plant = s.name().equals("PLANT");
                jobs.add(new Job(
                        s.name() + row,
                        quarters,
                        s.min(),
                        s.max(),
                        s.skill(),
                        s.tool(),
                        s.after() == null ? List.of() : List.of(s.after() + row),
                        0,
                        null,
                        plant ? START.plusDays(6 + 4L * lot) : null,
                        plant ? 60 : 1,
                        "B" + row % 4,
                        true,
                        plant,
                        s.name()));
            }
        }
        return new WorkOrder(START, people, List.of(new Tool("auger", 2), new Tool("post driver", 1)), jobs, List.of());
    }

    /** The same order where a person does not come on a day. */
    public static WorkOrder without(WorkOrder o, String who, LocalDate day) {
        List<Helper> people = o.helpers().stream()
                .map(h -> h.id().equals(who)
                        ? new Helper(h.id(), h.quarters(), h.skills(), plus(h.daysOff(), day), h.wishes())
                        : h)
                .toList();
        return new WorkOrder(o.start(), people, o.tools(), o.jobs(), o.pins(), o.lostDays(), o.lostByKind());
    }

    private static Set<LocalDate> plus(Set<LocalDate> days, LocalDate day) {
        Set<LocalDate> more = new HashSet<>(days);
        more.add(day);
        return more;
    }

    /** Who works longest on a day; whoever is first by id of several. */
    public static String busiest(Schedule s, LocalDate day) {
        Map<String, Integer> quarters = new HashMap<>();
        s.stints().stream()
                .filter(t -> t.date().equals(day))
                .forEach(t -> quarters.merge(t.helper(), t.quarters(), Integer::sum));
        int most = Collections.max(quarters.values());
        return quarters.keySet().stream()
                .filter(h -> quarters.getOrDefault(h, 0) == most)
                .min(String::compareTo)
                .orElseThrow();
    }

    /** What a person was to do on a day. */
    public static List<Stint> lost(Schedule s, String who, LocalDate day) {
        return s.stints().stream()
                .filter(t -> t.date().equals(day) && t.helper().equals(who))
                .toList();
    }
}
