package org.rootling.weather.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.stat.descriptive.DescriptiveStatistics;
import org.junit.jupiter.api.Test;
import org.rootling.weather.calc.Evapotranspiration.Daily;
import org.rootling.weather.calc.Evapotranspiration.Measured;
import org.rootling.weather.calc.Evapotranspiration.Method;
import org.rootling.weather.calc.Evapotranspiration.Site;
import org.rootling.weather.calc.Evapotranspiration.Substitute;
import org.rootling.weather.calc.FrostStage.Warning;
import org.rootling.weather.calc.HeatSums.UpperCut;

class WeatherCalcTest {

    /** PMC7581921, Table 3: three ways to treat highest temperatures above 30 °C. */
    @Test
    void theUpperCutHasThreeForms() {
        assertThat(HeatSums.degreeDays(16, 36, 10, 30, UpperCut.NONE)).isEqualTo(16);
        assertThat(HeatSums.degreeDays(16, 36, 10, 30, UpperCut.LEVEL)).isEqualTo(13);
        assertThat(HeatSums.degreeDays(16, 36, 10, 30, UpperCut.MIRRORED)).isEqualTo(10);
        assertThat(HeatSums.degreeDays(16, 29, 10, 30, UpperCut.MIRRORED)).isEqualTo(HeatSums.degreeDays(16, 29, 10));
    }

    @Test
    void classLimitsBelongWhereTheRuleSays() {
        assertThat(WinklerClass.of(849.9)).isEqualTo(WinklerClass.TOO_COOL);
        assertThat(WinklerClass.of(850)).isEqualTo(WinklerClass.IA);
        assertThat(WinklerClass.of(1389)).isEqualTo(WinklerClass.II);
        assertThat(WinklerClass.of(2700)).isEqualTo(WinklerClass.V);
        assertThat(WinklerClass.of(2700.1)).isEqualTo(WinklerClass.TOO_HOT);
        assertThat(HuglinClass.of(1500)).isEqualTo(HuglinClass.VERY_COOL);
        assertThat(HuglinClass.of(1500.1)).isEqualTo(HuglinClass.COOL);
        assertThat(HuglinClass.of(3001)).isEqualTo(HuglinClass.VERY_WARM);
    }

    @Test
    void huglinsFactorTakesTheSameLatitudeSouthAndIsSaidToBeUndefinedBeyondFifty() {
        assertThat(HeatSums.huglinK(-45)).isEqualTo(1.04);
        assertThat(HeatSums.huglinK(42)).isEqualTo(1.02);
        assertThat(HeatSums.huglinK(42.01)).isEqualTo(1.03);
        assertThat(HeatSums.huglinK(55)).isEqualTo(1.06);
        assertThat(HeatSums.huglinDefined(50)).isTrue();
        assertThat(HeatSums.huglinDefined(-50.1)).isFalse();
    }

    @Test
    void southernSeasonsRunOverTheNewYear() {
        assertThat(Seasons.of(LocalDate.of(2027, 6, 30), true)).isEqualTo(2026);
        assertThat(Seasons.of(LocalDate.of(2027, 7, 1), true)).isEqualTo(2027);
        assertThat(Seasons.of(LocalDate.of(2027, 6, 30), false)).isEqualTo(2027);
        assertThat(Seasons.winkler(2026, true).days()).isEqualTo(212);
        assertThat(Seasons.winkler(2026, false).days()).isEqualTo(214);
        assertThat(Seasons.huglin(2026, true).last()).isEqualTo("2027-03-31");
        assertThat(Seasons.spring(2026, true).last()).isEqualTo("2026-12-31");
        assertThat(Seasons.spring(2026, false).last()).isEqualTo("2026-06-30");
        assertThat(Seasons.dormant(2028, false).last()).isEqualTo("2028-02-29");
    }

    @Test
    void aSeasonSumsOnlyItsOwnDaysOnceAndCountsThoseMissing() {
        List<WeatherDay> days = new ArrayList<>();
        for (LocalDate d = LocalDate.of(2026, 3, 1); d.getYear() == 2026; d = d.plusDays(1)) {
            if (d.getDayOfMonth() != 15) {
                days.add(new WeatherDay(d, 10, 20, 0, 3, false));
                days.add(new WeatherDay(d, 10, 20, 0, 3, false));
            }
        }
        HeatSums.Sum winkler = HeatSums.winkler(days, Seasons.winkler(2026, false), LocalDate.of(2026, 12, 31));
        assertThat(winkler.sum()).isCloseTo(5 * (214 - 7), within(1e-9));
        assertThat(winkler.missing()).isEqualTo(7);
        HeatSums.Sum part = HeatSums.winkler(days, Seasons.winkler(2026, false), LocalDate.of(2026, 4, 10));
        assertThat(part.sum()).isCloseTo(50, within(1e-9));
        assertThat(part.outOf()).isEqualTo(10);
        HeatSums.Sum huglin = HeatSums.huglin(days, Seasons.huglin(2026, false), LocalDate.of(2026, 4, 10), 45);
        assertThat(huglin.sum()).isCloseTo(10 * 7.5 * 1.04, within(1e-9));
    }

    @Test
    void onlyTemperaturesGiveHargreavesAndAnythingMorePenmanMonteith() {
        Site site = new Site(45, 100, false);
        Daily bare = Evapotranspiration.reference(site, Measured.temperatures(180, 12, 26));
        assertThat(bare.method()).isEqualTo(Method.HARGREAVES);
        assertThat(bare.substitutes())
                .containsExactlyInAnyOrder(Substitute.HUMIDITY, Substitute.WIND, Substitute.RADIATION);
        Daily windy = Evapotranspiration.reference(site, new Measured(180, 12, 26, null, null, null, 2.5, null, null));
        assertThat(windy.method()).isEqualTo(Method.PENMAN_MONTEITH);
        assertThat(windy.substitutes()).containsExactlyInAnyOrder(Substitute.HUMIDITY, Substitute.RADIATION);
    }

    /** FAO-56 p. 63: the wind is never taken below 0.5 m/s. */
    @Test
    void stillAirCountsAsHalfAMetreASecond() {
        Site site = new Site(45, 100, false);
        Daily still = Evapotranspiration.reference(site, new Measured(180, 12, 26, null, null, null, 0.0, null, null));
        Daily half = Evapotranspiration.reference(site, new Measured(180, 12, 26, null, null, null, 0.5, null, null));
        assertThat(still.et0Mm()).isEqualTo(half.et0Mm());
    }

    @Test
    void evapotranspirationIsFiniteAndNeverNegativeAnywhereOnEarth() {
        Random random = new Random(56);
        for (int n = 0; n < 5000; n++) {
            double low = -50 + 85 * random.nextDouble();
            double high = low + 25 * random.nextDouble();
            Measured day = new Measured(
                    1 + random.nextInt(366),
                    low,
                    high,
                    null,
                    null,
                    random.nextBoolean() ? null : 100 * random.nextDouble(),
                    random.nextBoolean() ? null : 30 * random.nextDouble(),
                    random.nextBoolean() ? null : 40 * random.nextDouble(),
                    random.nextBoolean() ? null : 24 * random.nextDouble());
            Site site = new Site(-90 + 180 * random.nextDouble(), 3000 * random.nextDouble(), random.nextBoolean());
            assertThat(Evapotranspiration.reference(site, day).et0Mm())
                    .as("%s %s", site, day)
                    .isBetween(0.0, 60.0);
        }
    }

    /** The balance closes: what came in equals what went out and what is stored (equation 85). */
    @Test
    void noWaterIsLostOrMade() {
        Random random = new Random(85);
        for (int n = 0; n < 5000; n++) {
            double total = 20 + 150 * random.nextDouble();
            double start = total * random.nextDouble();
            double rain = 30 * random.nextDouble();
            double water = random.nextBoolean() ? 0 : 40 * random.nextDouble();
            SoilBucket.Day day =
                    SoilBucket.day(start, total, 0.2 + 0.5 * random.nextDouble(), rain, water, 9 * random.nextDouble());
            assertThat(start - rain - water + day.usedMm() + day.percolationMm())
                    .isCloseTo(day.depletionMm(), within(1e-9));
            assertThat(day.depletionMm()).isBetween(0.0, total);
        }
    }

    @Test
    void theShortFormOfTheBucketAgreesWithTheLong() {
        Random random = new Random(88);
        for (int n = 0; n < 1000; n++) {
            double start = 80 * random.nextDouble();
            double water = 20 * random.nextDouble();
            double demand = 8 * random.nextDouble();
            assertThat(SoilBucket.depletionAfter(start, 80, 0.45, water, demand))
                    .isCloseTo(SoilBucket.day(start, 80, 0.45, water, 0, demand).depletionMm(), within(1e-9));
        }
    }

    @Test
    void lastFrostByYearsLeavesAtMostTheChanceOfYearsLater() {
        List<Integer> days = Arrays.asList(100, 110, 120, 130, 140, 90, 95, 105, 115, 125);
        assertThat(LastFrost.byYears(days, 0.1)).hasValue(130);
        assertThat(LastFrost.byYears(days, 0.5)).hasValue(110);
        assertThat(LastFrost.byYears(days, 0)).hasValue(140);
        assertThat(LastFrost.byYears(Arrays.asList(null, null, null, 100), 0.5)).isEmpty();
        assertThat(LastFrost.byYears(List.of(), 0.1)).isEmpty();
    }

    /** Cross-check: Hipparchus, normal quantiles and sample deviation. */
    @Test
    void lastFrostByNormalAgreesWithAStatisticsLibrary() {
        List<Integer> days = List.of(100, 110, 121, 133, 140, 92, 95, 105, 115, 125);
        DescriptiveStatistics stats = new DescriptiveStatistics();
        days.forEach(stats::addValue);
        NormalDistribution normal = new NormalDistribution(stats.getMean(), stats.getStandardDeviation());
        for (double chance : new double[] {0.05, 0.1, 0.5, 0.9}) {
            assertThat(LastFrost.byNormal(days, chance).orElseThrow())
                    .isCloseTo(normal.inverseCumulativeProbability(1 - chance), within(1e-6));
        }
        List<Integer> withFree = new ArrayList<>(days);
        for (int i = 0; i < 10; i++) {
            withFree.add(null);
        }
        assertThat(LastFrost.byNormal(withFree, 0.1).orElseThrow())
                .isCloseTo(normal.inverseCumulativeProbability(0.8), within(1e-6));
        assertThat(LastFrost.byNormal(withFree, 0.5)).isEmpty();
        assertThat(LastFrost.byNormal(List.of(100, 110), 0.1)).isEmpty();
        assertThat(LastFrost.byNormal(List.of(100, 100, 100), 0.1)).hasValue(100);
    }

    /** FAO Frost protection, vol. 2 ch. 1 describes the certainty over a design period; 0.05 in 20 years: 0.6415. */
    @Test
    void aSmallYearlyChanceGrowsOverTheYears() {
        assertThat(LastFrost.atLeastOnce(0.05, 20)).isCloseTo(0.6415, within(0.0001));
    }

    @Test
    void frostWarningsAreAtTheMoreCautiousTableFirst() {
        // 28.5 °F = -1.94 °C in the one table, -2.8 °C in the other
        assertThat(FrostStage.FIRST_LEAF.warning(-1.5, 0)).isEqualTo(Warning.NONE);
        assertThat(FrostStage.FIRST_LEAF.warning(-2.0, 0)).isEqualTo(Warning.WATCH);
        assertThat(FrostStage.FIRST_LEAF.warning(-2.8, 0)).isEqualTo(Warning.DAMAGE);
        assertThat(FrostStage.FIRST_LEAF.warning(-6.1, 0)).isEqualTo(Warning.HEAVY);
        assertThat(FrostStage.FIRST_LEAF.warning(-1.5, 2)).isEqualTo(Warning.DAMAGE);
    }

    @Test
    void laterStagesBearLessFrost() {
        FrostStage[] stages = FrostStage.values();
        for (int i = 1; i < stages.length; i++) {
            assertThat(stages[i].tenPercentC()).isGreaterThanOrEqualTo(stages[i - 1].tenPercentC());
            assertThat(stages[i].ninetyPercentC()).isGreaterThan(stages[i - 1].ninetyPercentC());
        }
    }

    @Test
    void chillIsTheTimeBetweenFreezingAndSevenDegrees() {
        assertThat(Chill.hours(2, 6)).isEqualTo(24);
        assertThat(Chill.hours(8, 15)).isZero();
        assertThat(Chill.hours(-9, -1)).isZero();
        assertThat(Chill.hours(0, 14.4)).isCloseTo(12, within(1e-9));
        assertThat(Chill.hours(-5, 12)).isBetween(4.0, 12.0);
        assertThat(Chill.hours(5, 5)).isEqualTo(24);
    }

    @Test
    void theCropCurveIsSteadyAtItsCornersAndBeyondItsEnds() {
        CropCurve curve = CropCurve.WINE_GRAPES;
        assertThat(curve.on(-10)).isEqualTo(0.30);
        assertThat(curve.on(30)).isEqualTo(0.30);
        assertThat(curve.on(90)).isEqualTo(0.70);
        assertThat(curve.on(130)).isEqualTo(0.70);
        assertThat(curve.on(210)).isEqualTo(0.45);
        assertThat(curve.on(400)).isEqualTo(0.45);
        assertThat(new CropCurve(0, 0, 10, 0, 0.1, 0.5, 0.2).on(5)).isEqualTo(0.5);
    }

    /** FAO-56 Table 19: the middle of the published ranges, and soils hold water between the two points. */
    @Test
    void soilsHoldWater() {
        assertThat(SoilType.LOAM.fieldCapacity()).isCloseTo(0.25, within(1e-9));
        assertThat(SoilType.LOAM.wiltingPoint()).isCloseTo(0.12, within(1e-9));
        for (SoilType soil : SoilType.values()) {
            assertThat(soil.fieldCapacity()).isGreaterThan(soil.wiltingPoint());
        }
    }
}
