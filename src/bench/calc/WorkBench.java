import java.time.DayOfWeek;
import java.time.Duration;
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
import org.rootling.work.calc.Helper;
import org.rootling.work.calc.Job;
import org.rootling.work.calc.OrderCheck;
import org.rootling.work.calc.Replan;
import org.rootling.work.calc.Schedule;
import org.rootling.work.calc.ScheduleSearch;
import org.rootling.work.calc.SeasonInput;
import org.rootling.work.calc.SeasonSimulation;
import org.rootling.work.calc.Stint;
import org.rootling.work.calc.Tool;
import org.rootling.work.calc.WorkOrder;

/**
 * A planting of 50 rows in four blocks: eight steps a row, 400 tasks, 12 people, two tools, five lots with holds. Plans it,
 * plans again after one absence, and plays 2,000 seasons of it.
 */
public class WorkBench {
    private static final LocalDate START = LocalDate.of(2027, 4, 5);

    private record Step(String name, double hours, int min, int max, String skill, String tool, String after) {}

    private static final List<Step> STEPS = List.of(
            new Step("MARK_OUT", 1.0, 2, 3, null, null, null),
            new Step("BORE", 3.5, 1, 2, "auger", "auger", "MARK_OUT"),
            new Step("PLANT", 4.0, 1, 4, null, null, "BORE"),
            new Step("WATER_IN", 1.25, 1, 3, null, null, "PLANT"),
            new Step("GUARD", 1.5, 1, 3, null, null, "PLANT"),
            new Step("STAKE", 2.0, 1, 2, null, null, "PLANT"),
            new Step("SET_END_POSTS", 2.0, 2, 3, null, "post driver", "MARK_OUT"),
            new Step("STRING_WIRE", 2.5, 2, 3, "wire", null, "SET_END_POSTS"));

    public static void main(String[] args) {
        ((ch.qos.logback.classic.Logger) org.slf4j.LoggerFactory.getLogger("ROOT"))
                .setLevel(ch.qos.logback.classic.Level.WARN);
        int seconds = args.length > 0 ? Integer.parseInt(args[0]) : 10;
        for (int seed = 1; seed <= 3; seed++) {
            WorkOrder order = order(new Random(seed));
            OrderCheck.fault(order).ifPresent(f -> {
                throw new IllegalStateException(f.toString());
            });
            long t0 = System.nanoTime();
            Schedule s = ScheduleSearch.best(order, Duration.ofSeconds(seconds));
            double took = (System.nanoTime() - t0) / 1e9;
            long days = s.finish().toEpochDay() - START.toEpochDay() + 1;
            long bound = s.bound().finish().toEpochDay() - START.toEpochDay() + 1;
            System.out.printf(
                    "case %d: %d people, %d tasks planned in %.1f s: day %d, bound day %d, ratio %.3f; late %d, bound %d; unplanned %d%n",
                    seed, order.helpers().size(), order.jobs().size(), took, days, bound, (double) days / bound,
                    s.weightedLateDays(), s.bound().weightedLateDays(), s.unplanned().size());
            WorkOrder absent = absent(order, s);
            t0 = System.nanoTime();
            Replan.Result again = Replan.of(absent, s.stints());
            System.out.printf(
                    "  one absence of %.1f h on %d tasks: planned again in %.3f s; moved %d of %d tasks, late %d (%s)%n",
                    lost(s).stream().mapToInt(t -> t.to() - t.from()).sum() / 4.0,
                    lost(s).stream().map(Stint::job).distinct().count(), (System.nanoTime() - t0) / 1e9, again.moves().size(),
                    order.jobs().size(), again.schedule().weightedLateDays(), reasons(again));
            SeasonInput season = season(order);
            t0 = System.nanoTime();
            SeasonSimulation.Result r = SeasonSimulation.run(season, 2000, seed);
            System.out.printf(
                    "  2,000 seasons played in %.3f s; done in 80 %% of them by %s%n",
                    (System.nanoTime() - t0) / 1e9, r.reached(0.8));
        }
    }

    private static WorkOrder order(Random r) {
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
                        s.name() + row, quarters, s.min(), s.max(), s.skill(), s.tool(),
                        s.after() == null ? List.of() : List.of(s.after() + row), 0, null,
                        plant ? START.plusDays(6 + 4L * lot) : null, plant ? 60 : 1, "B" + row % 4, true, plant,
                        s.name()));
            }
        }
        return new WorkOrder(START, people, List.of(new Tool("auger", 2), new Tool("post driver", 1)), jobs, List.of());
    }

    /** The busiest person of the second day does not come. */
    private static WorkOrder absent(WorkOrder o, Schedule s) {
        LocalDate day = START.plusDays(1);
        String who = busiest(s, day);
        List<Helper> people = o.helpers().stream()
                .map(h -> h.id().equals(who)
                        ? new Helper(h.id(), h.quarters(), h.skills(), plus(h.daysOff(), day), h.wishes())
                        : h)
                .toList();
        return new WorkOrder(o.start(), people, o.tools(), o.jobs(), o.pins(), o.lostDays(), o.lostByKind());
    }

    private static Map<Replan.Why, Integer> reasons(Replan.Result again) {
        Map<Replan.Why, Integer> reasons = new EnumMap<>(Replan.Why.class);
        again.moves().forEach(m -> reasons.merge(m.why(), 1, Integer::sum));
        return reasons;
    }

    /** What the one who does not come was to do. */
    private static List<Stint> lost(Schedule s) {
        LocalDate day = START.plusDays(1);
        String who = busiest(s, day);
        return s.stints().stream()
                .filter(t -> t.date().equals(day) && t.helper().equals(who))
                .toList();
    }

    private static String busiest(Schedule s, LocalDate day) {
        Map<String, Integer> quarters = new HashMap<>();
        s.stints().stream()
                .filter(t -> t.date().equals(day))
                .forEach(t -> quarters.merge(t.helper(), t.to() - t.from(), Integer::sum));
        return Collections.max(quarters.entrySet(), Map.Entry.comparingByValue()).getKey();
    }

    private static Set<LocalDate> plus(Set<LocalDate> days, LocalDate day) {
        Set<LocalDate> more = new HashSet<>(days);
        more.add(day);
        return more;
    }

    private static SeasonInput season(WorkOrder o) {
        List<SeasonInput.Worker> workers = o.helpers().stream()
                .map(h -> {
                    Map<DayOfWeek, Double> hours = new EnumMap<>(DayOfWeek.class);
                    h.quarters().forEach((d, q) -> hours.put(d, q / 4.0));
                    return new SeasonInput.Worker(h.id(), hours, h.skills(), h.daysOff());
                })
                .toList();
        List<SeasonInput.Work> jobs = o.jobs().stream()
                .map(j -> new SeasonInput.Work(
                        j.id(), String.valueOf(j.kind()), j.quarters() / 4.0, 0.4, j.minPeople(), j.maxPeople(),
                        j.skill(), j.tool(), j.after(), 0, null, true, j.hold() ? "lot" + j.due() : null, j.due()))
                .toList();
        return new SeasonInput(
                o.start(), workers, o.tools(), jobs,
                List.of(.4, .4, .3, .25, .2, .15, .15, .15, .2, .3, .4, .4), 0.05);
    }
}
