package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * What a season is simulated from.
 *
 * @param workers at most {@link WorkOrder#MOST_HELPERS}
 * @param jobs in the order in which they are wanted
 * @param noShow chance that somebody expected does not come that day, 0 to 1
 */
public record SeasonInput(
        LocalDate start, List<Worker> workers, List<Tool> tools, List<Work> jobs, double noShow, Weather weather) {
    public SeasonInput {
        workers = List.copyOf(workers);
        tools = List.copyOf(tools);
        jobs = List.copyOf(jobs);
    }

    /**
     * The recorded days that those of a season are drawn from, each as a whole, so that rain, cold and wind come together as
     * they did, and several in a row, so that wet and dry spells last as they did.
     *
     * @param recorded the days of the record, of any years; without gaps or with
     * @param follow days of the record that are followed in a row, on average; 1 draws each day for itself
     * @param usual what the weather takes from outdoor work
     * @param ofSteps in place of it, by step, for steps that stand more or less weather than others
     */
    public record Weather(List<LocalDate> recorded, double follow, Losses usual, Map<String, Losses> ofSteps) {
        public Weather {
            if (!(follow >= 1)) {
                throw new IllegalArgumentException("less than a day in a row");
            }
            recorded = List.copyOf(recorded);
            ofSteps = Map.copyOf(ofSteps);
        }
    }

    /**
     * What the weather takes from work.
     *
     * @param recorded days of the record that would have stopped it
     * @param foretold days of the season of which a forecast says whether they do; these are not drawn
     */
    public record Losses(Set<LocalDate> recorded, Map<LocalDate, Boolean> foretold) {
        public Losses {
            recorded = Set.copyOf(recorded);
            foretold = Map.copyOf(foretold);
        }
    }

    /** Somebody who comes for some hours by weekday. */
    public record Worker(String id, Map<DayOfWeek, Double> hours, Set<String> skills, Set<LocalDate> daysOff) {}

    /**
     * A job of uncertain length.
     *
     * @param step jobs of one step share their rate's error in a season
     * @param medianHours person hours that half of all seasons stay below
     * @param logSd spread of ln(hours)
     * @param minPeople fewest people it takes
     * @param outdoors whether a lost day stops it
     * @param lot the lot it plants, if any
     * @param runsOut the last day on which that lot is planted in time
     */
    public record Work(
            String id,
            String step,
            double medianHours,
            double logSd,
            int minPeople,
            int maxPeople,
            @Nullable String skill,
            @Nullable String tool,
            List<String> after,
            int waitDays,
            @Nullable LocalDate earliest,
            boolean outdoors,
            @Nullable String lot,
            @Nullable LocalDate runsOut) {}
}
