package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.apache.commons.statistics.distribution.GeometricDistribution;
import org.apache.commons.statistics.distribution.LogNormalDistribution;
import org.apache.commons.statistics.distribution.PascalDistribution;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class SeasonSimulationTest {
    private static final LocalDate START = LocalDate.of(2027, 4, 5);

    private static SeasonInput.Worker worker(String id, double hours) {
        Map<DayOfWeek, Double> week = new HashMap<>();
        for (DayOfWeek d : DayOfWeek.values()) {
            week.put(d, hours);
        }
        return new SeasonInput.Worker(id, week, Set.of(), Set.of());
    }

    private static SeasonInput.Work work(
            String id, String step, double hours, double sd, @Nullable LocalDate runsOut, String... after) {
        return new SeasonInput.Work(
                id, step, hours, sd, 1, 5, null, null, List.of(after), 0, null, true, "L1", runsOut);
    }

    private static List<Double> everyMonth(double chance) {
        return Collections.nCopies(12, chance);
    }

    private static SeasonInput season(
            List<SeasonInput.Worker> workers, List<SeasonInput.Work> jobs, double lost, double noShow) {
        return new SeasonInput(START, workers, List.of(), jobs, everyMonth(lost), noShow);
    }

    /** Waiting for the first dry day is geometric. */
    @Test
    void aDaysWorkWaitsGeometricallyForADryDay() {
        int seasons = 20_000;
        LocalDate runsOut = START.plusDays(2);
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 4, 0, runsOut)), 0.3, 0), seasons, 7);
        GeometricDistribution wait = GeometricDistribution.of(0.7);
        double sd = Math.sqrt(0.3) / 0.7 / Math.sqrt(seasons);
        assertThat(r.meanDays()).isCloseTo(wait.getMean(), within(5 * sd));
        double p = wait.cumulativeProbability(2);
        assertThat(r.lots().get("L1")).isCloseTo(p, within(5 * Math.sqrt(p * (1 - p) / seasons)));
        assertThat(r.reached(0.95)).isEqualTo(START.plusDays(wait.inverseCumulativeProbability(0.95)));
    }

    /** The k-th day on which somebody comes: negative binomial (Pascal). */
    @Test
    void severalDaysWorkOfOnePersonWhoMayNotComeIsPascal() {
        int seasons = 20_000;
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 40, 0, null)), 0, 0.25), seasons, 8);
        PascalDistribution absent = PascalDistribution.of(5, 0.75);
        double sd = Math.sqrt(absent.getVariance() / seasons);
        assertThat(r.meanDays()).isCloseTo(4 + absent.getMean(), within(5 * sd));
        assertThat(r.reached(0.8)).isEqualTo(START.plusDays(4 + absent.inverseCumulativeProbability(0.8)));
    }

    /** A quantile of one uncertain job is that of the lognormal. */
    @Test
    void oneUncertainJobFollowsItsLognormal() {
        int seasons = 20_000;
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 1)), List.of(work("j", "plant", 60, 0.3, START.plusDays(69))), 0, 0),
                seasons,
                9);
        LogNormalDistribution length = LogNormalDistribution.of(Math.log(60), 0.3);
        double p = length.cumulativeProbability(70);
        assertThat(r.lots().get("L1")).isCloseTo(p, within(5 * Math.sqrt(p * (1 - p) / seasons)));
        LocalDate half = r.reached(0.5);
        assertThat(half).isBetween(START.plusDays(58), START.plusDays(60));
    }

    /**
     * Many jobs of small spread, each of its own step, add up to nearly a normal whose mean and variance
     * are the sums of theirs.
     */
    @Test
    void manyIndependentJobsAddUpToANormal() {
        int seasons = 5_000;
        List<SeasonInput.Work> jobs = new ArrayList<>();
        double mean = 0;
        double variance = 0;
        for (int i = 0; i < 40; i++) {
            jobs.add(work("j" + i, "s" + i, 5, 0.2, null));
            LogNormalDistribution one = LogNormalDistribution.of(Math.log(5), 0.2);
            mean += one.getMean();
            variance += one.getVariance();
        }
        SeasonSimulation.Result r = SeasonSimulation.run(season(List.of(worker("a", 1)), jobs, 0, 0), seasons, 10);
        // An hour a day: the day number is the hours rounded up, less one; on average half a day less.
        assertThat(r.meanDays()).isCloseTo(mean - 0.5, within(5 * Math.sqrt(variance / seasons) + 0.02));
        double sd = Math.sqrt(r.finish().stream()
                .mapToDouble(d -> (d - r.meanDays()) * (d - r.meanDays()))
                .average()
                .orElseThrow());
        assertThat(sd).isCloseTo(Math.sqrt(variance + 1 / 12.0), within(0.05 * Math.sqrt(variance)));
    }

    @Test
    void theSameSeedPlaysTheSameSeasons() {
        SeasonInput in = season(List.of(worker("a", 6)), List.of(work("j", "plant", 50, 0.4, null)), 0.2, 0.1);
        assertThat(SeasonSimulation.run(in, 300, 3).finish())
                .isEqualTo(SeasonSimulation.run(in, 300, 3).finish());
        assertThat(SeasonSimulation.run(in, 300, 3).finish())
                .isNotEqualTo(SeasonSimulation.run(in, 300, 4).finish());
    }

    @Test
    void oneMoreHelperNeverHurts() {
        List<SeasonInput.Work> jobs =
                List.of(work("a", "bore", 20, 0.3, null), work("b", "plant", 50, 0.3, START.plusDays(10), "a"));
        SeasonSimulation.Result one = SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 0.2, 0.1), 2000, 3);
        SeasonSimulation.Result two =
                SeasonSimulation.run(season(List.of(worker("a", 6), worker("b", 6)), jobs, 0.2, 0.1), 2000, 3);
        assertThat(two.lots().get("L1")).isGreaterThan(one.lots().get("L1"));
        assertThat(two.reached(0.8)).isBefore(one.reached(0.8));
    }

    @Test
    void aStoppedRunAnswersForTheSeasonsItPlayed() {
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 40, 0.2, START.plusDays(5))), 0.2, 0.1),
                2000,
                5,
                played -> played < 150);
        assertThat(r.seasons()).isEqualTo(150);
        assertThat(r.finish()).hasSize(150);
        assertThat(r.lots().get("L1")).isBetween(0.0, 1.0);
    }

    @Test
    void anotherPersonOrOrderLeavesTheDrawsOfTheOthersAlone() {
        List<SeasonInput.Work> jobs = List.of(work("a", "bore", 20, 0.3, null), work("b", "weed", 30, 0.3, null));
        List<SeasonInput.Work> turned = List.of(jobs.get(1), jobs.get(0));
        // With one worker and nothing that waits, the order does not change the sum, nor does somebody without hours.
        assertThat(SeasonSimulation.run(season(List.of(worker("a", 6)), turned, 0.2, 0.1), 500, 4)
                        .finish())
                .isEqualTo(SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 0.2, 0.1), 500, 4)
                        .finish());
        assertThat(SeasonSimulation.run(season(List.of(worker("z", 0), worker("a", 6)), jobs, 0.2, 0.1), 500, 4)
                        .finish())
                .isEqualTo(SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 0.2, 0.1), 500, 4)
                        .finish());
    }

    /** What stands less weather waits longer: geometric with its own chance, and on the same bad days as the rest. */
    @Test
    void aStepWithItsOwnLimitsLosesItsOwnDays() {
        int seasons = 20_000;
        SeasonInput.Work tender = work("t", "tie", 8, 0, null);
        SeasonInput.Work tough = work("r", "bore", 8, 0, null);
        Map<String, SeasonInput.Losses> own = Map.of("tie", new SeasonInput.Losses(everyMonth(0.6), Map.of()));
        for (double share : new double[] {0, 0.3}) {
            SeasonInput one = new SeasonInput(
                    START, List.of(worker("a", 8)), List.of(), List.of(tender), everyMonth(share), 0, Map.of(), own);
            GeometricDistribution wait = GeometricDistribution.of(0.4);
            assertThat(SeasonSimulation.run(one, seasons, 5).meanDays())
                    .isCloseTo(wait.getMean(), within(5 * Math.sqrt(wait.getVariance() / seasons)));
        }
        SeasonInput both = new SeasonInput(
                START,
                List.of(worker("a", 8), worker("b", 8)),
                List.of(),
                List.of(tender, tough),
                everyMonth(0.3),
                0,
                Map.of(),
                own);
        // Each has somebody: both are done when the tender one is, for its lost days include the other's.
        GeometricDistribution wait = GeometricDistribution.of(0.4);
        assertThat(SeasonSimulation.run(both, seasons, 6).meanDays())
                .isCloseTo(wait.getMean(), within(5 * Math.sqrt(wait.getVariance() / seasons)));
    }

    @Test
    void aForetoldDayIsNotDrawn() {
        SeasonInput.Work job = work("j", "plant", 4, 0, START);
        SeasonInput wet = new SeasonInput(
                START,
                List.of(worker("a", 8)),
                List.of(),
                List.of(job),
                everyMonth(0),
                0,
                Map.of(START, true, START.plusDays(1), false));
        assertThat(SeasonSimulation.run(wet, 100, 1).finish()).containsOnly(1);
        SeasonInput dry = new SeasonInput(
                START, List.of(worker("a", 8)), List.of(), List.of(job), everyMonth(1), 0, Map.of(START, false));
        assertThat(SeasonSimulation.run(dry, 100, 1).lots()).containsEntry("L1", 1.0);
    }

    /** Work for two waits until two come: geometric with the chance that both do. */
    @Test
    void workForTwoWaitsUntilBothCome() {
        int seasons = 20_000;
        SeasonInput.Work pair =
                new SeasonInput.Work("j", "mark", 8, 0, 2, 2, null, null, List.of(), 0, null, true, "L1", null);
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8), worker("b", 8)), List.of(pair), 0, 0.4), seasons, 2);
        GeometricDistribution both = GeometricDistribution.of(0.36);
        assertThat(r.meanDays()).isCloseTo(both.getMean(), within(5 * Math.sqrt(both.getVariance() / seasons)));
    }

    @Test
    void workNobodyEverComesForIsNeverDone() {
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 0)), List.of(work("j", "plant", 4, 0, START)), 0, 0), 10, 1);
        assertThat(r.reached(0.5)).isNull();
        assertThat(r.lots()).containsEntry("L1", 0.0);
    }
}
