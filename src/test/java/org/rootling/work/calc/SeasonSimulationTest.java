package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.MonthDay;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
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

    private static final int YEARS = 10;

    /** Ten years of days, without 29 February, so that each date is there equally often. */
    private static final List<LocalDate> RECORD = LocalDate.of(2017, 1, 1)
            .datesUntil(LocalDate.of(2017 + YEARS, 1, 1))
            .filter(d -> d.getMonthValue() != 2 || d.getDayOfMonth() != 29)
            .toList();

    /** Of each date, the days of some of the ten years. */
    private static Set<LocalDate> inYears(IntPredicate year) {
        return RECORD.stream().filter(d -> year.test(d.getYear() - 2017)).collect(Collectors.toSet());
    }

    /** A record in which a share, in tenths, of each date's days was lost. */
    private static SeasonInput.Losses tenths(int lost) {
        return new SeasonInput.Losses(inYears(y -> y < lost), Map.of());
    }

    private static SeasonInput season(
            List<SeasonInput.Worker> workers, List<SeasonInput.Work> jobs, int tenthsLost, double noShow) {
        return season(workers, jobs, noShow, new SeasonInput.Weather(RECORD, 1, tenths(tenthsLost), Map.of()));
    }

    private static SeasonInput season(
            List<SeasonInput.Worker> workers, List<SeasonInput.Work> jobs, double noShow, SeasonInput.Weather weather) {
        return new SeasonInput(START, workers, List.of(), jobs, noShow, weather);
    }

    /** Waiting for the first dry day is geometric. */
    @Test
    void aDaysWorkWaitsGeometricallyForADryDay() {
        int seasons = 20_000;
        LocalDate runsOut = START.plusDays(2);
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 4, 0, runsOut)), 3, 0), seasons, 7);
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
        SeasonInput in = season(List.of(worker("a", 6)), List.of(work("j", "plant", 50, 0.4, null)), 2, 0.1);
        assertThat(SeasonSimulation.run(in, 300, 3).finish())
                .isEqualTo(SeasonSimulation.run(in, 300, 3).finish());
        assertThat(SeasonSimulation.run(in, 300, 3).finish())
                .isNotEqualTo(SeasonSimulation.run(in, 300, 4).finish());
    }

    @Test
    void oneMoreHelperNeverHurts() {
        List<SeasonInput.Work> jobs =
                List.of(work("a", "bore", 20, 0.3, null), work("b", "plant", 50, 0.3, START.plusDays(10), "a"));
        SeasonSimulation.Result one = SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 2, 0.1), 2000, 3);
        SeasonSimulation.Result two =
                SeasonSimulation.run(season(List.of(worker("a", 6), worker("b", 6)), jobs, 2, 0.1), 2000, 3);
        assertThat(two.lots().get("L1")).isGreaterThan(one.lots().get("L1"));
        assertThat(two.reached(0.8)).isBefore(one.reached(0.8));
    }

    @Test
    void aStoppedRunAnswersForTheSeasonsItPlayed() {
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 40, 0.2, START.plusDays(5))), 2, 0.1),
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
        assertThat(SeasonSimulation.run(season(List.of(worker("a", 6)), turned, 2, 0.1), 500, 4)
                        .finish())
                .isEqualTo(SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 2, 0.1), 500, 4)
                        .finish());
        assertThat(SeasonSimulation.run(season(List.of(worker("z", 0), worker("a", 6)), jobs, 2, 0.1), 500, 4)
                        .finish())
                .isEqualTo(SeasonSimulation.run(season(List.of(worker("a", 6)), jobs, 2, 0.1), 500, 4)
                        .finish());
    }

    /** What stands less weather waits longer: geometric with its own chance, and on the same bad days as the rest. */
    @Test
    void aStepWithItsOwnLimitsLosesItsOwnDays() {
        int seasons = 20_000;
        SeasonInput.Work tender = work("t", "tie", 8, 0, null);
        SeasonInput.Work tough = work("r", "bore", 8, 0, null);
        Map<String, SeasonInput.Losses> own = Map.of("tie", tenths(6));
        GeometricDistribution wait = GeometricDistribution.of(0.4);
        for (int usual : new int[] {0, 3}) {
            SeasonInput one = season(
                    List.of(worker("a", 8)),
                    List.of(tender),
                    0,
                    new SeasonInput.Weather(RECORD, 1, tenths(usual), own));
            assertThat(SeasonSimulation.run(one, seasons, 5).meanDays())
                    .isCloseTo(wait.getMean(), within(5 * Math.sqrt(wait.getVariance() / seasons)));
        }
        SeasonInput both = season(
                List.of(worker("a", 8), worker("b", 8)),
                List.of(tender, tough),
                0,
                new SeasonInput.Weather(RECORD, 1, tenths(3), own));
        // Each has somebody: both are done when the tender one is, for its lost days include the other's.
        assertThat(SeasonSimulation.run(both, seasons, 6).meanDays())
                .isCloseTo(wait.getMean(), within(5 * Math.sqrt(wait.getVariance() / seasons)));
    }

    /**
     * Rain stops one step on 3 days of 10, wind another on 4, on 1 of them both: days are drawn as a whole, so that a step
     * which stands neither waits for a day without either (geometric with 4 of 10), and the later of the two for the mean of
     * the longer of two waits, which is the sum of both less the mean of the shorter: the wait for a day not lost to both.
     */
    @Test
    void rainAndWindComeTogetherAsTheyWereRecorded() {
        int seasons = 40_000;
        Set<LocalDate> rain = inYears(y -> y < 3);
        Set<LocalDate> wind = inYears(y -> y >= 2 && y < 6);
        Set<LocalDate> either = inYears(y -> y < 6);
        Map<String, SeasonInput.Losses> own = Map.of(
                "bore", new SeasonInput.Losses(rain, Map.of()),
                "spray", new SeasonInput.Losses(wind, Map.of()),
                "tie", new SeasonInput.Losses(either, Map.of()));
        SeasonInput.Weather weather = new SeasonInput.Weather(RECORD, 1, tenths(0), own);
        GeometricDistribution neither = GeometricDistribution.of(0.4);
        assertThat(SeasonSimulation.run(
                                season(List.of(worker("a", 8)), List.of(work("t", "tie", 8, 0, null)), 0, weather),
                                seasons,
                                11)
                        .meanDays())
                .isCloseTo(neither.getMean(), within(5 * Math.sqrt(neither.getVariance() / seasons)));
        GeometricDistribution dry = GeometricDistribution.of(0.7);
        GeometricDistribution calm = GeometricDistribution.of(0.6);
        GeometricDistribution notBoth = GeometricDistribution.of(0.9);
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(
                        List.of(worker("a", 8), worker("b", 8)),
                        List.of(work("b", "bore", 8, 0, null), work("s", "spray", 8, 0, null)),
                        0,
                        weather),
                seasons,
                12);
        double longer = dry.getMean() + calm.getMean() - notBoth.getMean();
        double sd = Math.sqrt((dry.getVariance() + calm.getVariance()) / seasons);
        assertThat(r.meanDays()).isCloseTo(longer, within(5 * sd));
    }

    /**
     * Where a year is wet or dry as a whole, a day is lost with a chance of 0.3, and after a lost one the next is lost if the
     * record is followed, or with 0.3 if it is not: waiting from the first lost day on is geometric. The share of lost days
     * stays what it was.
     */
    @Test
    void spellsLastAsLongAsTheRecordIsFollowed() {
        int seasons = 20_000;
        double follow = 5;
        SeasonInput.Weather weather = new SeasonInput.Weather(RECORD, follow, tenths(3), Map.of());
        LocalDate runsOut = START.plusDays(4);
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 8)), List.of(work("j", "plant", 4, 0, runsOut)), 0, weather), seasons, 13);
        double stays = 1 - 1 / follow + 0.3 / follow;
        GeometricDistribution further = GeometricDistribution.of(1 - stays);
        double mean = 0.3 * (1 + further.getMean());
        double square = 0.3 * (further.getVariance() + Math.pow(1 + further.getMean(), 2));
        assertThat(r.meanDays()).isCloseTo(mean, within(5 * Math.sqrt((square - mean * mean) / seasons)));
        double p = 0.7 + 0.3 * further.cumulativeProbability(3);
        assertThat(r.lots().get("L1")).isCloseTo(p, within(5 * Math.sqrt(p * (1 - p) / seasons)));
        assertThat(r.finish().stream().filter(day -> day == 0).count() / (double) seasons)
                .isCloseTo(0.7, within(5 * Math.sqrt(0.21 / seasons)));
    }

    /**
     * Two dry days and three wet ones by turns: a state is a place in those five days, each three times in the 15 days of a
     * year that are drawn from; the next follows with a chance of 1 - 1/f or is drawn anew. The mean wait for the second dry day is solved from the linear equations of that chain
     * (Grinstead and Snell, <i>Introduction to Probability</i>, ch. 11.2), by going through them until they stand.
     */
    @Test
    void waitsForSpellsAreThoseOfTheirChain() {
        List<LocalDate> record =
                LocalDate.of(2017, 1, 1).datesUntil(LocalDate.of(2027, 1, 1)).toList();
        Set<LocalDate> wet =
                record.stream().filter(d -> d.toEpochDay() % 5 >= 2).collect(Collectors.toSet());
        double follow = 4;
        // by dry days still needed and place in the five days
        double[][] wait = new double[3][5];
        for (int round = 0; round < 2000; round++) {
            for (int needed = 1; needed <= 2; needed++) {
                double[] then = new double[5];
                for (int place = 0; place < 5; place++) {
                    int left = needed - (place < 2 ? 1 : 0);
                    then[place] = left == 0 ? 0 : 1 + next(wait[left], place, follow);
                }
                wait[needed] = then;
            }
        }
        double mean = Arrays.stream(wait[2]).average().orElseThrow();
        int seasons = 40_000;
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(
                        List.of(worker("a", 8)),
                        List.of(work("j", "plant", 16, 0, null)),
                        0,
                        new SeasonInput.Weather(record, follow, new SeasonInput.Losses(wet, Map.of()), Map.of())),
                seasons,
                14);
        double sd = Math.sqrt(r.finish().stream()
                        .mapToDouble(d -> Math.pow(d - r.meanDays(), 2))
                        .sum()
                / seasons
                / seasons);
        assertThat(r.meanDays()).isCloseTo(mean, within(5 * sd));
    }

    /** Mean wait after a day at a place: the next place if the record is followed, any otherwise. */
    private static double next(double[] wait, int place, double follow) {
        double any = Arrays.stream(wait).average().orElseThrow();
        return (1 - 1 / follow) * wait[(place + 1) % 5] + any / follow;
    }

    @Test
    void theDayAfterIsFoundWhereItIsRecorded() {
        LocalDate day = LocalDate.of(2024, 2, 28);
        assertThat(RecordedDays.next(List.of(day, day.plusDays(1), day.plusDays(3), day.plusDays(2))))
                .containsExactly(1, 3, -1, 2);
    }

    /** A season meets the weather of its own time of the year: here every day from June on is lost, none before. */
    @Test
    void aDayTurnsOutLikeADayAboutTheSameDate() {
        Set<LocalDate> summer =
                RECORD.stream().filter(d -> d.getMonthValue() >= 6).collect(Collectors.toSet());
        SeasonInput.Weather weather =
                new SeasonInput.Weather(RECORD, 1, new SeasonInput.Losses(summer, Map.of()), Map.of());
        // 47 days until 21 May with certainty, fewer and fewer days of the week around 1 June after it.
        SeasonSimulation.Result r = SeasonSimulation.run(
                season(List.of(worker("a", 1)), List.of(work("j", "plant", 47, 0, null)), 0, weather), 200, 1);
        assertThat(r.finish()).containsOnly(46);
        r = SeasonSimulation.run(
                season(List.of(worker("a", 1)), List.of(work("j", "plant", 80, 0, null)), 0, weather), 200, 1);
        assertThat(r.finish()).allMatch(day -> START.plusDays(day).getYear() == 2028);
    }

    @Test
    void aForetoldDayIsNotDrawn() {
        SeasonInput.Work job = work("j", "plant", 4, 0, START);
        SeasonInput.Losses wet = new SeasonInput.Losses(Set.of(), Map.of(START, true, START.plusDays(1), false));
        assertThat(SeasonSimulation.run(
                                season(
                                        List.of(worker("a", 8)),
                                        List.of(job),
                                        0,
                                        new SeasonInput.Weather(RECORD, 1, wet, Map.of())),
                                100,
                                1)
                        .finish())
                .containsOnly(1);
        SeasonInput.Losses dry = new SeasonInput.Losses(inYears(y -> true), Map.of(START, false));
        assertThat(SeasonSimulation.run(
                                season(
                                        List.of(worker("a", 8)),
                                        List.of(job),
                                        0,
                                        new SeasonInput.Weather(RECORD, 1, dry, Map.of())),
                                100,
                                1)
                        .lots())
                .containsEntry("L1", 1.0);
    }

    /** A forecast is there without a record, and a record of a few days says too little. */
    @Test
    void withTooFewRecordedDaysOnlyTheForecastTakesAny() {
        SeasonInput.Losses losses = new SeasonInput.Losses(Set.copyOf(RECORD), Map.of(START, true));
        for (List<LocalDate> record : List.of(List.<LocalDate>of(), RECORD.subList(0, RecordedDays.FEWEST - 1))) {
            assertThat(SeasonSimulation.run(
                                    season(
                                            List.of(worker("a", 8)),
                                            List.of(work("j", "plant", 4, 0, null)),
                                            0,
                                            new SeasonInput.Weather(record, 1, losses, Map.of())),
                                    100,
                                    1)
                            .finish())
                    .containsOnly(1);
        }
    }

    @Test
    void aDayIsLikeThoseOfItsWeekInAnyYearOrLikeTheNearestThereAre() {
        int[][] like = RecordedDays.like(LocalDate.of(2027, 12, 30), 10, RECORD);
        // 15 days of ten years, across the turn of the year.
        assertThat(like[0]).hasSize(150);
        assertThat(Arrays.stream(like[0])
                        .mapToObj(RECORD::get)
                        .map(MonthDay::from)
                        .distinct())
                .contains(MonthDay.of(12, 23), MonthDay.of(1, 6))
                .doesNotContain(MonthDay.of(12, 22), MonthDay.of(1, 7));
        // 29 February is a day between its neighbours, of which the record has none here: 14 days of ten years.
        assertThat(RecordedDays.like(LocalDate.of(2028, 2, 29), 1, RECORD)[0]).hasSize(140);
        // One year of days: the nearest twenty; the reach ends where there are enough, on both sides.
        List<LocalDate> oneYear = RECORD.subList(0, 365);
        assertThat(RecordedDays.like(START, 1, oneYear)[0]).hasSize(21);
        // A single month of days is what every day is like.
        assertThat(List.of(RecordedDays.like(START, 400, RECORD.subList(0, 31))))
                .allMatch(days -> days.length >= RecordedDays.FEWEST && days.length <= 31);
        assertThat(RecordedDays.like(START, 1, RECORD.subList(0, RecordedDays.FEWEST - 1))[0])
                .isEmpty();
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
