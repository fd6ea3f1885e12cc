package org.rootling.nursery.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.calc.HoldCase.Before;
import org.rootling.nursery.calc.HoldCase.Watering;
import org.rootling.nursery.calc.HoldClock.Alternative;
import org.rootling.nursery.calc.HoldClock.Soon;
import org.rootling.nursery.calc.HoldReading.Action;
import org.rootling.nursery.calc.HoldReading.Allowance;
import org.rootling.nursery.calc.Limits.WarmthLimit;
import org.rootling.weather.calc.WeatherDay;

class HoldClockTest {
    static final LocalDate PLACED = LocalDate.of(2027, 3, 12);
    static final LocalDate ASKED = LocalDate.of(2027, 4, 2);

    static HoldCase simple(LocalDate since, Double days, Double interval, Watering... waterings) {
        return new HoldCase(since, List.of(), Limits.simple(days, interval), List.of(waterings));
    }

    static HoldReading read(HoldCase hold, HoldWeather weather) {
        return HoldClock.read(hold, weather, Soon.USUAL);
    }

    static HoldCase warm(LocalDate since, double base, double sum) {
        return new HoldCase(
                since, List.of(), new Limits(null, new WarmthLimit(base, null, sum, null), null), List.of());
    }

    static HoldCase soil(LocalDate since, DryLimit.Bucket bucket, Watering... waterings) {
        return new HoldCase(since, List.of(), new Limits(null, null, bucket), List.of(waterings));
    }

    static List<WeatherDay> steady(LocalDate from, LocalDate to, double low, double high, double rain, double et0) {
        return from.datesUntil(to)
                .map(d -> new WeatherDay(d, low, high, rain, et0, false))
                .toList();
    }

    @Nested
    class WithoutWeather {
        @Test
        void twentyOneOfTwentyEightDaysAreThreeQuarters() {
            Allowance days = read(simple(PLACED, 28.0, null), HoldWeather.none(ASKED))
                    .allowances()
                    .get(0);
            assertThat(days.used()).isEqualTo(21);
            assertThat(days.share()).isEqualTo(0.75);
            assertThat(days.runsOutOn()).isEqualTo("2027-04-09");
            assertThat(days.basis()).isEqualTo(Basis.CALENDAR);
            assertThat(days.level()).isEqualTo(HoldLevel.SOON);
        }

        @Test
        void theAllowanceIsOverOnTheDayItRunsOutAndNotBefore() {
            HoldCase hold = simple(PLACED, 28.0, null);
            assertThat(read(hold, HoldWeather.none(LocalDate.of(2027, 4, 8))).level())
                    .isEqualTo(HoldLevel.SOON);
            assertThat(read(hold, HoldWeather.none(LocalDate.of(2027, 4, 9))).level())
                    .isEqualTo(HoldLevel.OVER);
            assertThat(read(hold, HoldWeather.none(PLACED)).level()).isEqualTo(HoldLevel.EASY);
        }

        @Test
        void daysBeforeCountWithTheirWeights() {
            HoldCase hold = new HoldCase(
                    PLACED,
                    List.of(new Before("on the road", 3, 2, 0), new Before("nursery", 10, 0.25, 0)),
                    Limits.simple(28.0, null),
                    List.of());
            Allowance days = read(hold, HoldWeather.none(ASKED)).allowances().get(0);
            assertThat(days.used()).isEqualTo(21 + 6 + 2.5);
            assertThat(days.runsOutOn()).isEqualTo(PLACED.plusDays(20));
            assertThat(days.level()).isEqualTo(HoldLevel.OVER);
        }

        @Test
        void wateringStartsItsIntervalAfreshAndLaterWateringsAreNotForeseen() {
            HoldCase hold = simple(
                    PLACED,
                    null,
                    4.0,
                    new Watering(LocalDate.of(2027, 3, 31), null),
                    new Watering(LocalDate.of(2027, 3, 20), 10.0),
                    new Watering(LocalDate.of(2027, 4, 3), null),
                    new Watering(LocalDate.of(2027, 1, 3), null));
            Allowance dry = read(hold, HoldWeather.none(ASKED)).allowances().get(0);
            assertThat(dry.kind()).isEqualTo(AllowanceKind.DRYNESS);
            assertThat(dry.used()).isEqualTo(2);
            assertThat(dry.runsOutOn()).isEqualTo("2027-04-04");
        }

        @Test
        void theEarliestAllowanceDecides() {
            HoldReading reading = read(simple(PLACED, 28.0, 30.0), HoldWeather.none(ASKED));
            assertThat(reading.deciding()).isEqualTo(AllowanceKind.DAYS);
            assertThat(reading.runsOutOn()).isEqualTo("2027-04-09");
            reading = read(simple(PLACED, 28.0, 3.0), HoldWeather.none(ASKED));
            assertThat(reading.deciding()).isEqualTo(AllowanceKind.DRYNESS);
            assertThat(reading.runsOutOn()).isEqualTo("2027-03-15");
            assertThat(reading.level()).isEqualTo(HoldLevel.OVER);
        }

        @Test
        void aShedCountsHoursSinceItWasDamp() {
            HoldCase hold = new HoldCase(
                    LocalDate.of(2027, 4, 1), List.of(), new Limits(null, null, new DryLimit.Hours(48)), List.of());
            Allowance dry = read(hold, HoldWeather.none(ASKED)).allowances().get(0);
            assertThat(dry.used()).isEqualTo(24);
            assertThat(dry.unit()).isEqualTo("hours");
            assertThat(dry.runsOutOn()).isEqualTo("2027-04-03");
        }

        @Test
        void warmthAndSoilAreSaidToBeUnknown() {
            HoldCase hold = new HoldCase(
                    PLACED,
                    List.of(),
                    new Limits(28.0, new WarmthLimit(5, null, 80, null), new DryLimit.Bucket(40, 0.5, 1, true)),
                    List.of());
            HoldReading reading = read(hold, HoldWeather.none(ASKED));
            assertThat(reading.unknown()).containsExactly(AllowanceKind.WARMTH, AllowanceKind.DRYNESS);
            assertThat(reading.allowances()).hasSize(1);
            assertThat(reading.runsOutOn()).isEqualTo("2027-04-09");
        }

        @Test
        void aColdStoreUsesItsOwnTemperature() {
            HoldCase hold = new HoldCase(
                    PLACED, List.of(), new Limits(null, new WarmthLimit(0, null, 100, 2.0), null), List.of());
            Allowance warmth = read(hold, HoldWeather.none(ASKED)).allowances().get(0);
            assertThat(warmth.used()).isEqualTo(42);
            assertThat(warmth.runsOutOn()).isEqualTo(PLACED.plusDays(50));
            assertThat(warmth.basis()).isEqualTo(Basis.STORE_TEMPERATURE);

            HoldCase colder = new HoldCase(
                    PLACED, List.of(), new Limits(null, new WarmthLimit(4, null, 100, 2.0), null), List.of());
            assertThat(read(colder, HoldWeather.none(ASKED)).runsOutOn()).isNull();
            assertThat(read(colder, HoldWeather.none(ASKED)).basis()).isEqualTo(Basis.NONE);
        }

        @Test
        void aHoldNotYetPlacedHasUsedNothing() {
            Allowance days = read(simple(ASKED.plusDays(5), 28.0, 4.0), HoldWeather.none(ASKED))
                    .allowances()
                    .get(0);
            assertThat(days.used()).isZero();
            assertThat(days.runsOutOn()).isEqualTo(ASKED.plusDays(33));
        }
    }

    @Nested
    class Warmth {
        @Test
        void recordedDaysAddUpAndTheLastFortnightIsRepeated() {
            HoldWeather weather = HoldWeather.of(steady(PLACED, ASKED, 4, 14, 0, 2), ASKED);
            Allowance warmth = read(warm(PLACED, 5, 100), weather).allowances().get(0);
            assertThat(warmth.used()).isCloseTo(21 * 4, within(1e-9));
            assertThat(warmth.runsOutOn()).isEqualTo(PLACED.plusDays(25));
            assertThat(warmth.basis()).isEqualTo(Basis.LAST_FORTNIGHT);
            assertThat(warmth.estimatedDays()).isZero();
        }

        @Test
        void forecastComesBeforeProjection() {
            List<WeatherDay> days = new ArrayList<>(steady(PLACED, ASKED, 4, 14, 0, 2));
            for (int i = 0; i < 3; i++) {
                days.add(new WeatherDay(ASKED.plusDays(i), 8, 18, 0, 2, true));
            }
            Allowance warmth = read(warm(PLACED, 5, 100), HoldWeather.of(days, ASKED))
                    .allowances()
                    .get(0);
            assertThat(warmth.runsOutOn()).isEqualTo(ASKED.plusDays(2));
            assertThat(warmth.basis()).isEqualTo(Basis.FORECAST);
        }

        @Test
        void earlierYearsGiveASpread() {
            List<WeatherDay> days = new ArrayList<>(steady(PLACED, ASKED, 4, 14, 0, 2));
            double[] warmer = {1, 2, 4, 8};
            for (int back = 1; back <= 4; back++) {
                double mean = 5 + warmer[back - 1];
                days.addAll(
                        steady(ASKED.minusYears(back), ASKED.minusYears(back).plusDays(200), mean - 5, mean + 5, 0, 2));
            }
            Allowance warmth = read(warm(PLACED, 5, 100), HoldWeather.of(days, ASKED))
                    .allowances()
                    .get(0);
            assertThat(warmth.basis()).isEqualTo(Basis.EARLIER_YEARS);
            assertThat(warmth.years()).isEqualTo(4);
            assertThat(warmth.runsOutOn()).isEqualTo(ASKED.plusDays(2));
            assertThat(warmth.runsOutMiddle()).isEqualTo(ASKED.plusDays(4));
            assertThat(warmth.runsOutLatest()).isEqualTo(ASKED.plusDays(16));
        }

        @Test
        void holesAreFilledAndCounted() {
            List<WeatherDay> days = new ArrayList<>(steady(PLACED, ASKED, 4, 14, 0, 2));
            days.removeIf(d -> d.date().getDayOfMonth() == 20 || d.date().getDayOfMonth() == 21);
            Allowance warmth = read(warm(PLACED, 5, 100), HoldWeather.of(days, ASKED))
                    .allowances()
                    .get(0);
            assertThat(warmth.used()).isCloseTo(84, within(1e-9));
            assertThat(warmth.estimatedDays()).isEqualTo(2);
        }

        @Test
        void staleWeatherIsNotProjected() {
            List<WeatherDay> days = steady(PLACED.minusDays(80), PLACED.minusDays(40), 4, 14, 0, 2);
            Allowance warmth = read(warm(PLACED, 5, 100), HoldWeather.of(days, ASKED))
                    .allowances()
                    .get(0);
            assertThat(warmth.estimatedDays()).isEqualTo(21);
            assertThat(warmth.runsOutOn()).isNull();
            assertThat(warmth.basis()).isEqualTo(Basis.NONE);
        }

        @Test
        void theDayItWasUsedUpIsSaid() {
            HoldReading reading = read(warm(PLACED, 5, 40), HoldWeather.of(steady(PLACED, ASKED, 4, 14, 0, 2), ASKED));
            assertThat(reading.runsOutOn()).isEqualTo(PLACED.plusDays(10));
            assertThat(reading.basis()).isEqualTo(Basis.RECORDED);
            assertThat(reading.level()).isEqualTo(HoldLevel.OVER);
        }
    }

    @Nested
    class Dryness {
        static final DryLimit.Bucket BED = new DryLimit.Bucket(40, 0.5, 1, true);

        @Test
        void theBedDriesByEvapotranspirationAndWaterFillsIt() {
            HoldWeather weather = HoldWeather.of(steady(PLACED, ASKED, 4, 14, 0, 2), ASKED);
            LocalDate watered = ASKED.minusDays(3);
            HoldReading reading = read(soil(PLACED, BED, new Watering(watered, null)), weather);
            Allowance dry = reading.allowances().get(0);
            assertThat(dry.used()).isCloseTo(6, within(1e-9));
            assertThat(dry.allowed()).isEqualTo(20);
            assertThat(dry.runsOutOn()).isEqualTo(watered.plusDays(10));

            assertThat(read(soil(PLACED, BED), weather).level()).isEqualTo(HoldLevel.OVER);
            assertThat(read(soil(PLACED, BED), weather).runsOutOn()).isEqualTo(PLACED.plusDays(10));
        }

        @Test
        void rainCountsOnlyWhereItFalls() {
            HoldWeather weather = HoldWeather.of(steady(PLACED, ASKED, 4, 14, 2, 2), ASKED);
            assertThat(read(soil(PLACED, BED), weather).runsOutOn()).isNull();
            assertThat(read(soil(PLACED, new DryLimit.Bucket(40, 0.5, 1, false)), weather)
                            .level())
                    .isEqualTo(HoldLevel.OVER);
        }

        @Test
        void wateringTodayShowsAtOnce() {
            HoldWeather weather = HoldWeather.of(steady(PLACED, ASKED, 4, 14, 0, 2), ASKED);
            HoldReading reading = read(soil(PLACED, BED, new Watering(ASKED, null)), weather);
            assertThat(reading.allowances().get(0).used()).isZero();
            assertThat(reading.runsOutOn()).isEqualTo(ASKED.plusDays(10));
        }
    }

    @Nested
    class WhatToDo {
        static final Limits COLD = new Limits(90.0, new WarmthLimit(5, null, 100, 2.0), new DryLimit.Interval(14));

        @Test
        void movingToTheColdStoreCarriesTheUsedShareAndGainsDays() {
            HoldReading reading = HoldClock.read(
                    simple(PLACED, 28.0, null),
                    HoldWeather.none(ASKED),
                    Soon.USUAL,
                    List.of(new Alternative("Cold room", COLD)));
            assertThat(reading.choices()).hasSize(1);
            assertThat(reading.choices().get(0).action()).isEqualTo(Action.MOVE);
            assertThat(reading.choices().get(0).where()).isEqualTo("Cold room");
            // a quarter of 90 days is left: 22.5, so the 23rd day begins with it used up
            assertThat(reading.choices().get(0).runsOutOn()).isEqualTo(ASKED.plusDays(23));
            assertThat(reading.choices().get(0).gainDays()).isEqualTo(16);
        }

        @Test
        void waterIsAdvisedWhenDrynessDecides() {
            HoldReading reading =
                    HoldClock.read(simple(PLACED, 28.0, 4.0), HoldWeather.none(ASKED), Soon.USUAL, List.of());
            assertThat(reading.choices()).hasSize(1);
            assertThat(reading.choices().get(0).action()).isEqualTo(Action.WATER);
            assertThat(reading.choices().get(0).runsOutOn()).isEqualTo("2027-04-06");
            assertThat(reading.choices().get(0).gainDays()).isEqualTo(4);
        }

        @Test
        void nothingIsAdvisedThatGainsNothing() {
            HoldReading reading = HoldClock.read(
                    simple(PLACED, 28.0, 40.0),
                    HoldWeather.none(ASKED),
                    Soon.USUAL,
                    List.of(new Alternative("Shed", Limits.simple(5.0, 1.0))));
            assertThat(reading.choices()).isEmpty();
        }
    }

    /** Properties over random weather, holds and settings. */
    @Nested
    class Always {
        static final LocalDate FAR = LocalDate.of(9999, 1, 1);

        static LocalDate orFar(LocalDate date) {
            return date == null ? FAR : date;
        }

        record Case(List<WeatherDay> days, HoldCase hold, LocalDate on) {}

        static Case random(Random random) {
            LocalDate on = LocalDate.of(2027, 1, 1).plusDays(random.nextInt(365));
            LocalDate since = on.minusDays(random.nextInt(60));
            List<WeatherDay> days = new ArrayList<>();
            LocalDate first = on.minusDays(20 + random.nextInt(1200));
            LocalDate last = on.plusDays(random.nextInt(10));
            boolean holes = random.nextBoolean();
            for (LocalDate d = first; d.isBefore(last); d = d.plusDays(1)) {
                if (holes && random.nextInt(10) == 0) {
                    continue;
                }
                double mean = 8 - 10 * Math.cos(2 * Math.PI * d.getDayOfYear() / 365) + 3 * random.nextGaussian();
                double half = 1 + 8 * random.nextDouble();
                double rain = random.nextInt(4) == 0 ? 15 * random.nextDouble() : 0;
                days.add(new WeatherDay(d, mean - half, mean + half, rain, Math.max(0.2, mean / 5), !d.isBefore(on)));
            }
            List<Watering> waterings = new ArrayList<>();
            for (int i = random.nextInt(4); i > 0; i--) {
                waterings.add(new Watering(
                        since.plusDays(random.nextInt(60)), random.nextBoolean() ? null : 10 * random.nextDouble()));
            }
            Limits limits = new Limits(
                    10.0 + random.nextInt(60),
                    new WarmthLimit(
                            4 + random.nextInt(7), random.nextBoolean() ? null : 25.0, 20 + random.nextInt(200), null),
                    new DryLimit.Bucket(
                            30 + random.nextInt(60),
                            0.3 + 0.3 * random.nextDouble(),
                            0.4 + 0.6 * random.nextDouble(),
                            true));
            List<Before> before = random.nextBoolean()
                    ? List.of()
                    : List.of(new Before("road", random.nextInt(8), 2 * random.nextDouble(), random.nextInt(30)));
            return new Case(days, new HoldCase(since, before, limits, waterings), on);
        }

        static LocalDate out(HoldReading reading, AllowanceKind kind) {
            return orFar(reading.allowances().stream()
                    .filter(a -> a.kind() == kind)
                    .findFirst()
                    .orElseThrow()
                    .runsOutOn());
        }

        @Test
        void moreWarmthNeverGivesALaterDay() {
            Random random = new Random(20270402);
            for (int n = 0; n < 400; n++) {
                Case c = random(random);
                double more = 4 * random.nextDouble();
                List<WeatherDay> warmer = c.days().stream()
                        .map(d -> new WeatherDay(
                                d.date(),
                                d.lowC() + more,
                                d.highC() + more,
                                d.rainMm(),
                                d.et0Mm() * (1 + more / 10),
                                d.forecast()))
                        .toList();
                HoldReading cool = read(c.hold(), HoldWeather.of(c.days(), c.on()));
                HoldReading warm = read(c.hold(), HoldWeather.of(warmer, c.on()));
                assertThat(orFar(warm.runsOutOn())).as("case %d", n).isBeforeOrEqualTo(orFar(cool.runsOutOn()));
                assertThat(out(warm, AllowanceKind.WARMTH))
                        .as("case %d", n)
                        .isBeforeOrEqualTo(out(cool, AllowanceKind.WARMTH));
            }
        }

        @Test
        void aColderStoreNeverGivesAnEarlierDay() {
            Random random = new Random(7);
            for (int n = 0; n < 400; n++) {
                Case c = random(random);
                HoldWeather weather = HoldWeather.of(c.days(), c.on());
                WarmthLimit here = c.hold().limits().warmth();
                double coldest =
                        c.days().stream().mapToDouble(WeatherDay::lowC).min().orElse(0);
                Double mild = 2 + 10 * random.nextDouble();
                Limits cold = limits(c, coldest - random.nextDouble());
                Limits milder = limits(c, mild);
                Limits colder = limits(c, mild - 5 * random.nextDouble());
                LocalDate stay = out(read(c.hold(), weather), AllowanceKind.WARMTH);
                LocalDate move = out(read(HoldClock.moved(c.hold(), cold, weather), weather), AllowanceKind.WARMTH);
                if (here.degreeDays() > usedWarmth(c.hold(), weather)) {
                    assertThat(move).as("case %d", n).isAfterOrEqualTo(stay);
                }
                HoldReading inMilder = read(HoldClock.moved(c.hold(), milder, weather), weather);
                HoldReading inColder = read(HoldClock.moved(c.hold(), colder, weather), weather);
                assertThat(orFar(inColder.runsOutOn())).as("case %d", n).isAfterOrEqualTo(orFar(inMilder.runsOutOn()));
            }
        }

        private static double usedWarmth(HoldCase hold, HoldWeather weather) {
            return read(hold, weather).allowances().get(1).used();
        }

        private static Limits limits(Case c, double storeC) {
            WarmthLimit w = c.hold().limits().warmth();
            return new Limits(
                    c.hold().limits().days(),
                    new WarmthLimit(w.baseC(), w.upperCutC(), w.degreeDays(), storeC),
                    new DryLimit.Interval(10));
        }

        @Test
        void overMeansTheDayHasComeAndTheSpreadIsInOrder() {
            Random random = new Random(99);
            for (int n = 0; n < 400; n++) {
                Case c = random(random);
                HoldReading reading = read(c.hold(), HoldWeather.of(c.days(), c.on()));
                for (Allowance a : reading.allowances()) {
                    boolean come = a.runsOutOn() != null && !a.runsOutOn().isAfter(c.on());
                    assertThat(a.level() == HoldLevel.OVER)
                            .as("case %d %s", n, a)
                            .isEqualTo(come);
                    assertThat(orFar(a.runsOutOn())).isBeforeOrEqualTo(orFar(a.runsOutMiddle()));
                    assertThat(orFar(a.runsOutMiddle())).isBeforeOrEqualTo(orFar(a.runsOutLatest()));
                    assertThat(orFar(reading.runsOutOn())).isBeforeOrEqualTo(orFar(a.runsOutOn()));
                }
            }
        }
    }
}
