package org.rootling.weather.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.rootling.weather.calc.FrostStage.Warning;
import org.rootling.weather.calc.YoungVineWater.Bringing;
import org.rootling.weather.calc.YoungVineWater.Outlook;
import org.rootling.weather.calc.YoungVineWater.Stand;
import org.rootling.weather.calc.YoungVineWater.Store;
import org.rootling.weather.calc.YoungVineWater.Turn;
import org.rootling.weather.calc.YoungVineWater.Watering;

class YoungVineWaterTest {
    static final LocalDate PLANTED = LocalDate.of(2027, 4, 20);

    /** Soil and depth chosen so that TAW is 160 mm and p 0.40, as in FAO-56 Example 37, p. 168; roots do not grow. */
    static final Stand EXAMPLE_37 =
            new Stand(PLANTED, 0.32, 0.12, 0.5, 0.8, 0.8, 100, new CropCurve(1, 0, 400, 0, 1.2, 1.2, 1.2), 0.40);

    static List<WeatherDay> days(LocalDate from, int count, double rain, double et0, boolean forecast) {
        return from.datesUntil(from.plusDays(count))
                .map(d -> new WeatherDay(d, 10, 25, rain, et0, forecast))
                .toList();
    }

    /** FAO-56 Example 37: from a depletion of 55 mm, day by day 61.0, 67.0, 72.8 … 104.5 mm. */
    @Test
    void theBucketFollowsThePublishedExample() {
        double[] expected = {61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5};
        // 55 mm after eleven days of 5 mm at Kc 1: the start of the example
        Stand stand =
                new Stand(PLANTED, 0.32, 0.12, 0.5, 0.8, 0.8, 100, new CropCurve(10, 0, 400, 0, 1.0, 1.2, 1.2), 0.40);
        List<WeatherDay> weather = days(PLANTED, 40, 0, 5, false);
        assertThat(YoungVineWater.read(stand, weather, List.of(), List.of(), PLANTED.plusDays(11))
                        .depletionMm())
                .isCloseTo(55, within(1e-9));
        for (int i = 0; i < expected.length; i++) {
            Store store = YoungVineWater.read(stand, weather, List.of(), List.of(), PLANTED.plusDays(12 + i));
            assertThat(store.depletionMm()).as("day %d", i + 1).isCloseTo(expected[i], within(0.06));
        }
    }

    @Test
    void itRunsLowOnTheForecastDayThatUsesUpTheReadyWater() {
        List<WeatherDay> weather = new ArrayList<>(days(PLANTED, 5, 0, 5, false));
        weather.addAll(days(PLANTED.plusDays(5), 10, 0, 5, true));
        Store store = YoungVineWater.read(EXAMPLE_37, weather, List.of(), List.of(), PLANTED.plusDays(5));
        // 64 mm ready, 6 mm a day: the eleventh day passes it
        assertThat(store.readyMm()).isCloseTo(64, within(1e-9));
        assertThat(store.lowOn()).isEqualTo(PLANTED.plusDays(11));
        assertThat(store.outlook()).isEqualTo(Outlook.FORECAST);
        assertThat(store.fillLitres()).isCloseTo(15, within(1e-9));
    }

    @Test
    void normalsCarryOnWhereTheForecastEnds() {
        List<WeatherDay> weather = days(PLANTED, 5, 0, 5, false);
        List<WeatherDay> normals = days(PLANTED.plusDays(5), 100, 0, 5, true);
        Store store = YoungVineWater.read(EXAMPLE_37, weather, normals, List.of(), PLANTED.plusDays(5));
        assertThat(store.lowOn()).isEqualTo(PLANTED.plusDays(11));
        assertThat(store.outlook()).isEqualTo(Outlook.NORMALS);
        assertThat(YoungVineWater.read(EXAMPLE_37, weather, List.of(), List.of(), PLANTED.plusDays(5))
                        .outlook())
                .isEqualTo(Outlook.NONE);
    }

    @Test
    void wateringFillsByLitresOverTheVinesGround() {
        List<WeatherDay> weather = days(PLANTED, 10, 0, 5, false);
        Store dry = YoungVineWater.read(EXAMPLE_37, weather, List.of(), List.of(), PLANTED.plusDays(10));
        Store watered = YoungVineWater.read(
                EXAMPLE_37, weather, List.of(), List.of(new Watering(PLANTED.plusDays(10), 10)), PLANTED.plusDays(10));
        assertThat(dry.depletionMm() - watered.depletionMm()).isCloseTo(20, within(1e-9));
    }

    @Test
    void growingRootsReachMoreWater() {
        Stand stand = Stand.firstYear(PLANTED, SoilType.LOAM);
        Store start = YoungVineWater.read(stand, List.of(), List.of(), List.of(), PLANTED);
        Store later = YoungVineWater.read(stand, List.of(), List.of(), List.of(), PLANTED.plusDays(150));
        assertThat(start.totalMm()).isCloseTo(1000 * 0.13 * 0.25, within(1e-9));
        assertThat(later.totalMm()).isCloseTo(1000 * 0.13 * 0.60, within(1e-9));
        assertThat(later.unknownDays()).isEqualTo(150);
    }

    @Test
    void aHotWeekIsWateredBeforeItRunsLow() {
        Stand stand = Stand.firstYear(PLANTED, SoilType.SANDY_LOAM);
        Store start =
                YoungVineWater.read(stand, days(PLANTED, 3, 0, 4, false), List.of(), List.of(), PLANTED.plusDays(3));
        List<Turn> turns = YoungVineWater.hotSpell(stand, start, 9, 14);
        assertThat(turns).isNotEmpty();
        List<WeatherDay> hot = new ArrayList<>(days(PLANTED, 3, 0, 4, false));
        hot.addAll(days(PLANTED.plusDays(3), 14, 0, 9, false));
        List<Watering> waterings =
                turns.stream().map(t -> new Watering(t.on(), t.litresPerVine())).toList();
        for (int i = 3; i <= 17; i++) {
            Store store = YoungVineWater.read(stand, hot, List.of(), waterings, PLANTED.plusDays(i));
            assertThat(store.share()).as("day %d", i).isLessThan(1);
        }
    }

    @Test
    void litresBecomeMinutesAndWholeLoads() {
        Bringing bringing = YoungVineWater.bring(5, 420, 30.0, 1000.0);
        assertThat(bringing.litres()).isEqualTo(2100);
        assertThat(bringing.hoseMinutes()).isEqualTo(70);
        assertThat(bringing.tankLoads()).isEqualTo(3);
        assertThat(YoungVineWater.bring(5, 400, null, 1000.0).tankLoads()).isEqualTo(2);
        assertThat(YoungVineWater.bring(5, 400, null, null).hoseMinutes()).isNull();
    }

    @Test
    void moreRainNeverRunsLowEarlier() {
        Random random = new Random(4);
        SoilType[] soils = SoilType.values();
        for (int n = 0; n < 300; n++) {
            Stand stand = Stand.firstYear(PLANTED, soils[n % soils.length]);
            List<WeatherDay> dry = new ArrayList<>();
            List<WeatherDay> wet = new ArrayList<>();
            for (int i = 0; i < 160; i++) {
                double rain = random.nextInt(5) == 0 ? 12 * random.nextDouble() : 0;
                double more = random.nextInt(3) == 0 ? 5 * random.nextDouble() : 0;
                double et0 = 1 + 6 * random.nextDouble();
                dry.add(new WeatherDay(PLANTED.plusDays(i), 8, 20, rain, et0, i > 30));
                wet.add(new WeatherDay(PLANTED.plusDays(i), 8, 20, rain + more, et0, i > 30));
            }
            LocalDate on = PLANTED.plusDays(30);
            Store a = YoungVineWater.read(stand, dry, List.of(), List.of(), on);
            Store b = YoungVineWater.read(stand, wet, List.of(), List.of(), on);
            LocalDate far = LocalDate.of(9999, 1, 1);
            assertThat(b.lowOn() == null ? far : b.lowOn())
                    .as("case %d", n)
                    .isAfterOrEqualTo(a.lowOn() == null ? far : a.lowOn());
        }
    }

    @Test
    void onlyNightsAtRiskAreNamedInOrder() {
        List<WeatherDay> days = List.of(
                new WeatherDay(PLANTED.plusDays(1), -1.2, 10, 0, 2, true),
                new WeatherDay(PLANTED, -5, 10, 0, 2, false),
                new WeatherDay(PLANTED.plusDays(2), 6, 10, 0, 2, true));
        List<FrostNights.Night> nights = FrostNights.of(days, FrostStage.BUD_BURST, 2);
        assertThat(nights).hasSize(2);
        assertThat(nights.get(0).warning()).isEqualTo(Warning.DAMAGE);
        assertThat(nights.get(1).warning()).isEqualTo(Warning.WATCH);
        assertThat(nights.get(1).forecast()).isTrue();
    }
}
