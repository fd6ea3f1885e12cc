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
 * @param jobs in the order in which they are wanted
 * @param lostDay chance by month (0 = January) that a day is lost to rain or frost
 * @param foretold days of which a forecast says whether they are lost
 * @param weatherOf in place of both, for steps that stand more or less weather than others
 * @param noShow chance that somebody expected does not come that day
 */
public record SeasonInput(
        LocalDate start,
        List<Worker> workers,
        List<Tool> tools,
        List<Work> jobs,
        List<Double> lostDay,
        double noShow,
        Map<LocalDate, Boolean> foretold,
        Map<String, Losses> weatherOf) {
    public SeasonInput {
        workers = List.copyOf(workers);
        tools = List.copyOf(tools);
        jobs = List.copyOf(jobs);
        lostDay = List.copyOf(lostDay);
        foretold = Map.copyOf(foretold);
        weatherOf = Map.copyOf(weatherOf);
    }

    /** What the weather takes from a step: chance by month (0 = January), and days of which a forecast tells. */
    public record Losses(List<Double> lostDay, Map<LocalDate, Boolean> foretold) {
        public Losses {
            lostDay = List.copyOf(lostDay);
            foretold = Map.copyOf(foretold);
        }
    }

    /** All outdoor work stands the same weather. */
    public SeasonInput(
            LocalDate start,
            List<Worker> workers,
            List<Tool> tools,
            List<Work> jobs,
            List<Double> lostDay,
            double noShow,
            Map<LocalDate, Boolean> foretold) {
        this(start, workers, tools, jobs, lostDay, noShow, foretold, Map.of());
    }

    /** Without a forecast. */
    public SeasonInput(
            LocalDate start,
            List<Worker> workers,
            List<Tool> tools,
            List<Work> jobs,
            List<Double> lostDay,
            double noShow) {
        this(start, workers, tools, jobs, lostDay, noShow, Map.of(), Map.of());
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
