import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.rootling.work.calc.OrderCheck;
import org.rootling.work.calc.PlantingOrder;
import org.rootling.work.calc.Replan;
import org.rootling.work.calc.Schedule;
import org.rootling.work.calc.ScheduleSearch;
import org.rootling.work.calc.SeasonInput;
import org.rootling.work.calc.SeasonSimulation;
import org.rootling.work.calc.Stint;
import org.rootling.work.calc.WorkOrder;

/**
 * A planting of 50 rows in four blocks: eight steps a row, 400 tasks, 12 people, two tools, five lots with holds. Plans it,
 * plans again after one absence, and plays 2,000 seasons of it.
 */
public class WorkBench {
    public static void main(String[] args) {
        ((ch.qos.logback.classic.Logger) org.slf4j.LoggerFactory.getLogger("ROOT"))
                .setLevel(ch.qos.logback.classic.Level.WARN);
        int seconds = args.length > 0 ? Integer.parseInt(args[0]) : 10;
        for (int seed = 1; seed <= 3; seed++) {
            WorkOrder order = PlantingOrder.of(seed);
            OrderCheck.fault(order).ifPresent(f -> {
                throw new IllegalStateException(f.toString());
            });
            long t0 = System.nanoTime();
            Schedule s = ScheduleSearch.best(order, Duration.ofSeconds(seconds));
            double took = (System.nanoTime() - t0) / 1e9;
            long days = s.finish().toEpochDay() - PlantingOrder.START.toEpochDay() + 1;
            long bound = s.bound().finish().toEpochDay() - PlantingOrder.START.toEpochDay() + 1;
            System.out.printf(
                    "case %d: %d people, %d tasks planned in %.1f s: day %d, bound day %d, ratio %.3f; late %d, bound %d; unplanned %d%n",
                    seed, order.helpers().size(), order.jobs().size(), took, days, bound, (double) days / bound,
                    s.weightedLateDays(), s.bound().weightedLateDays(), s.unplanned().size());
            LocalDate day = PlantingOrder.START.plusDays(1);
            String who = PlantingOrder.busiest(s, day);
            List<Stint> lost = PlantingOrder.lost(s, who, day);
            WorkOrder absent = PlantingOrder.without(order, who, day);
            t0 = System.nanoTime();
            Replan.Result again = Replan.of(absent, s.stints());
            System.out.printf(
                    "  one absence of %.1f h on %d tasks: planned again in %.3f s; moved %d of %d tasks, late %d (%s)%n",
                    lost.stream().mapToInt(Stint::quarters).sum() / 4.0,
                    lost.stream().map(Stint::job).distinct().count(), (System.nanoTime() - t0) / 1e9, again.moves().size(),
                    order.jobs().size(), again.schedule().weightedLateDays(), reasons(again));
            SeasonInput season = season(order);
            t0 = System.nanoTime();
            SeasonSimulation.Result r = SeasonSimulation.run(season, 2000, seed);
            System.out.printf(
                    "  2,000 seasons played in %.3f s; done in 80 %% of them by %s%n",
                    (System.nanoTime() - t0) / 1e9, r.reached(0.8));
        }
    }

    private static Map<Replan.Why, Integer> reasons(Replan.Result again) {
        Map<Replan.Why, Integer> reasons = new EnumMap<>(Replan.Why.class);
        again.moves().forEach(m -> reasons.merge(m.why(), 1, Integer::sum));
        return reasons;
    }

    /** Ten years of days of which the weather stops so many by month, January first. */
    private static SeasonInput.Weather weather() {
        double[] lost = {.4, .4, .3, .25, .2, .15, .15, .15, .2, .3, .4, .4};
        Random r = new Random(10);
        List<LocalDate> days = PlantingOrder.START.minusYears(10).datesUntil(PlantingOrder.START).toList();
        Set<LocalDate> wet = new HashSet<>();
        days.forEach(d -> {
            if (r.nextDouble() < lost[d.getMonthValue() - 1]) {
                wet.add(d);
            }
        });
        return new SeasonInput.Weather(days, 7, new SeasonInput.Losses(wet, Map.of()), Map.of());
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
        return new SeasonInput(o.start(), workers, o.tools(), jobs, 0.05, weather());
    }
}
