package org.rootling.weather.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.rootling.weather.calc.Evapotranspiration.Daily;
import org.rootling.weather.calc.Evapotranspiration.Hourly;
import org.rootling.weather.calc.Evapotranspiration.Measured;
import org.rootling.weather.calc.Evapotranspiration.Site;

/**
 * Every line of climate-and-water-checks.csv (id, what, expected value, tolerance, source) against what is computed
 * here. The file names each value's source; a line without a computation fails.
 */
class PublishedChecksTest {
    private static final double SOUTH_20 = Math.toRadians(-20);

    /** FAO-56 Example 18: Uccle, 6 July. */
    private static final Daily UCCLE = Evapotranspiration.penmanMonteith(
            new Site(50.80, 100, false),
            new Measured(187, 12.3, 21.5, 84.0, 63.0, null, Evapotranspiration.windAt2m(10 / 3.6, 10), null, 9.25));

    /** FAO-56 Example 20: Lyon in July, temperatures only. */
    private static final Site LYON = new Site(45.72, 200, false);

    private static final Measured LYON_JULY = Measured.temperatures(196, 14.8, 26.6);
    private static final Daily LYON_DAY = Evapotranspiration.penmanMonteith(LYON, LYON_JULY);

    /** FAO-56 Example 19: N'Diaye, 1 October, two hours. */
    private static final double NDIAYE = Math.toRadians(16 + 13 / 60.0);

    private static final double AFTERNOON_RA =
            Sun.extraterrestrial(NDIAYE, 274, Sun.hourAngle(14.5, 15, 16.25, 274), 1);
    private static final double NIGHT_RA = Sun.extraterrestrial(NDIAYE, 274, Sun.hourAngle(2.5, 15, 16.25, 274), 1);
    private static final Hourly AFTERNOON = Evapotranspiration.hourly(38, 52, 3.3, 8, AFTERNOON_RA, 2.450, 0.8);
    private static final Hourly NIGHT = Evapotranspiration.hourly(28, 90, 1.9, 8, NIGHT_RA, 0, 0.8);

    private static final Map<String, Supplier<double[]>> COMPUTED = new HashMap<>();

    private static void one(String id, Supplier<Double> value) {
        COMPUTED.put(id, () -> new double[] {value.get()});
    }

    private static void two(String id, Supplier<double[]> values) {
        COMPUTED.put(id, values);
    }

    static {
        one("C01", () -> HeatSums.degreeDays(14, 26, 10));
        one("C02", () -> HeatSums.degreeDays(2, 14, 10));
        WinklerClass[] winkler = WinklerClass.values();
        for (int i = 0; i < 7; i++) {
            WinklerClass c = winkler[i];
            two("C1" + i, () -> new double[] {c.lower(), c.upper()});
        }
        double[] latitudes = {40, 41, 43, 45, 47, 49};
        for (int i = 0; i < latitudes.length; i++) {
            double latitude = latitudes[i];
            one("C2" + i, () -> HeatSums.huglinK(latitude));
        }
        one("C26", () -> HeatSums.huglinKInterpolated(45));
        one("C27", () -> HeatSums.huglinDay(20, 26) * HeatSums.huglinK(45));
        one("C30", FrostStage.FIRST_SWELL::tenPercentC);
        one("C31", FrostStage.FIRST_SWELL::ninetyPercentC);
        one("C32", FrostStage.LATE_SWELL::tenPercentC);
        one("C33", FrostStage.LATE_SWELL::ninetyPercentC);
        one("C34", FrostStage.BUD_BURST::tenPercentC);
        one("C35", FrostStage.BUD_BURST::ninetyPercentC);
        one("C36", FrostStage.FIRST_LEAF::tenPercentC);
        one("C37", FrostStage.FIRST_LEAF::ninetyPercentC);
        one("C38", FrostStage.SECOND_LEAF::tenPercentC);
        one("C39", FrostStage.SECOND_LEAF::ninetyPercentC);
        one("C40", FrostStage.THIRD_LEAF::ninetyPercentC);
        one("C41", FrostStage.FOURTH_LEAF::ninetyPercentC);
        one("C50", () -> LastFrost.atLeastOnce(0.1, 10));
        one("C51", () -> LastFrost.exceeded(110, 10, 0.1));
        HuglinClass[] huglin = HuglinClass.values();
        for (int i = 0; i < 6; i++) {
            HuglinClass c = huglin[i];
            two("C6" + i, () -> new double[] {c.lower(), c.upper()});
        }

        one("W01", () -> Sun.distanceFactor(246));
        one("W02", () -> Sun.declination(246));
        one("W03", () -> Sun.sunsetHourAngle(SOUTH_20, 246));
        one("W04", () -> Sun.extraterrestrial(SOUTH_20, 246));
        one("W05", () -> Evapotranspiration.MM_PER_MJ * Sun.extraterrestrial(SOUTH_20, 246));
        one("W06", () -> Sun.daylightHours(SOUTH_20, 246));
        double rio = Math.toRadians(-22.9);
        one(
                "W07",
                () -> Evapotranspiration.radiationFromSun(
                        220 / 31.0, Sun.daylightHours(rio, 135), Sun.extraterrestrial(rio, 135)));
        one("W30", () -> Evapotranspiration.windAt2m(10 / 3.6, 10));
        one("W31", () -> Evapotranspiration.airPressure(100));
        one("W32", UCCLE::slope);
        one("W33", UCCLE::psychrometric);
        one("W34", () -> Evapotranspiration.saturationPressure(21.5));
        one("W35", () -> Evapotranspiration.saturationPressure(12.3));
        one("W36", UCCLE::actual);
        one("W37", UCCLE::extraterrestrial);
        one("W38", () -> Sun.daylightHours(Math.toRadians(50.8), 187));
        one("W39", UCCLE::solar);
        one("W40", UCCLE::clearSky);
        one("W41", UCCLE::netShort);
        one("W42", UCCLE::netLong);
        one("W43", UCCLE::net);
        one("W44", UCCLE::et0Mm);
        one("W46", AFTERNOON::et0Mm);
        one("W47", AFTERNOON::extraterrestrial);
        one("W48", NIGHT::et0Mm);
        one("W50", LYON_DAY::extraterrestrial);
        one("W51", LYON_DAY::solar);
        one("W52", LYON_DAY::actual);
        one("W53", LYON_DAY::saturation);
        one("W54", LYON_DAY::net);
        one("W55", LYON_DAY::et0Mm);
        one("W56", () -> Evapotranspiration.reference(LYON, LYON_JULY).et0Mm());
        one("W57", () -> Evapotranspiration.hargreaves(14.8, 26.6, LYON_DAY.extraterrestrial()));
        one("W60", CropCurve.WINE_GRAPES::initial);
        one("W61", CropCurve.WINE_GRAPES::mid);
        one("W62", CropCurve.WINE_GRAPES::end);
        one("W63", () -> VineWater.DEPLETION_FRACTION);
        two("W64", () -> new double[] {VineWater.ROOT_DEPTH_LOW_M, VineWater.ROOT_DEPTH_HIGH_M});
        one("W65", () -> SoilBucket.adjustedFraction(0.45, 3));
        CropCurve beans = new CropCurve(25, 25, 30, 20, 0.15, 1.14, 0.25);
        one("W66", () -> beans.on(12));
        one("W67", () -> beans.on(37));
        one("W68", () -> beans.on(65));
        one("W69", () -> beans.on(90));
        double[][] crops = {{0.4, 0.30}, {0.8, 0.40}, {1.2, 0.55}};
        double[][] soils = {{0.15, 0.06}, {0.32, 0.15}, {0.35, 0.23}};
        for (int c = 0; c < 3; c++) {
            for (int s = 0; s < 3; s++) {
                double[] crop = crops[c];
                double[] soil = soils[s];
                two("W7" + c + s, () -> {
                    double total = SoilBucket.totalAvailableMm(soil[0], soil[1], crop[0]);
                    return new double[] {total, SoilBucket.readilyAvailableMm(total, crop[1])};
                });
            }
        }
        example37();
        example38();
    }

    /** Ten dry days from a depletion of 55 mm; TAW 160 mm, p 0.40, ETo 5 mm, Kc 1.2. */
    private static void example37() {
        double depletion = 55;
        for (int day = 1; day <= 10; day++) {
            SoilBucket.Day d = SoilBucket.day(depletion, 160, 0.40, 0, 0, 5 * 1.2);
            String id = "W80%02d".formatted(day);
            one(id + "a", d::stress);
            one(id + "b", d::usedMm);
            one(id + "c", d::depletionMm);
            depletion = d.depletionMm();
        }
    }

    /** Ten days of beans with rooting depth growing from 0.30 to 0.35 m; TAW 130 mm per m, p 0.6. */
    private static void example38() {
        double[] rain = {0, 0, 0, 0, 0, 6, 0, 0, 0, 0};
        double[] water = {40, 0, 0, 0, 0, 0, 0, 0, 0, 27};
        double[] used = {5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 6.3};
        double depletion = 23;
        for (int day = 1; day <= 10; day++) {
            double total = 130 * (0.30 + 0.05 * (day - 1) / 9);
            SoilBucket.Day d = SoilBucket.day(depletion, total, 0.6, rain[day - 1], water[day - 1], used[day - 1]);
            two("W81%02d".formatted(day), () -> new double[] {d.percolationMm(), d.depletionMm()});
            depletion = d.depletionMm();
        }
    }

    static List<CSVRecord> lines() throws IOException {
        try (Reader in = new InputStreamReader(
                PublishedChecksTest.class.getResourceAsStream("/reference/climate-and-water-checks.csv"),
                StandardCharsets.UTF_8)) {
            return CSVFormat.DEFAULT
                    .builder()
                    .setHeader()
                    .setSkipHeaderRecord(true)
                    .get()
                    .parse(in)
                    .getRecords();
        }
    }

    /** "17/5", "850-1111", "--1500" (no lower limit), "3000--" (no upper) or one number. */
    static double[] expected(String text, int parts) {
        if (parts == 1) {
            return new double[] {Double.parseDouble(text)};
        }
        if (text.startsWith("--")) {
            return new double[] {Double.NEGATIVE_INFINITY, Double.parseDouble(text.substring(2))};
        }
        if (text.endsWith("--")) {
            return new double[] {Double.parseDouble(text.substring(0, text.length() - 2)), Double.POSITIVE_INFINITY};
        }
        String[] two = text.split("[/-]");
        return new double[] {Double.parseDouble(two[0]), Double.parseDouble(two[1])};
    }

    @TestFactory
    List<DynamicTest> everyPublishedValueIsMet() throws IOException {
        List<DynamicTest> tests = new ArrayList<>();
        for (CSVRecord line : lines()) {
            String id = line.get("id");
            tests.add(dynamicTest(id + " " + line.get("input") + " [" + line.get("source") + "]", () -> {
                assertThat(COMPUTED).containsKey(id);
                double[] computed = COMPUTED.get(id).get();
                double[] expected = expected(line.get("expected"), computed.length);
                double tolerance = Double.parseDouble(line.get("tolerance").replace(" each", ""));
                for (int i = 0; i < computed.length; i++) {
                    if (Double.isInfinite(expected[i])) {
                        assertThat(computed[i]).as(id).isEqualTo(expected[i]);
                    } else {
                        assertThat(computed[i]).as(id).isCloseTo(expected[i], within(tolerance + 1e-12));
                    }
                }
            }));
        }
        return tests;
    }

    @Test
    void theFileHoldsAllClimateAndWaterValues() throws IOException {
        assertThat(lines()).hasSize(129);
    }

    /** FAO-56 Example 19, intermediate values as printed, p. 75-76. */
    @Test
    void hourlyExampleAgreesStepByStep() {
        assertThat(Sun.distanceFactor(274)).isCloseTo(1.0001, within(0.0005));
        assertThat(Sun.declination(274)).isCloseTo(-0.0753, within(0.0005));
        assertThat(Sun.seasonalCorrection(274)).isCloseTo(0.1889, within(0.0005));
        assertThat(Sun.hourAngle(14.5, 15, 16.25, 274)).isCloseTo(0.682, within(0.001));
        assertThat(Sun.hourAngle(2.5, 15, 16.25, 274)).isCloseTo(-2.46, within(0.005));
        assertThat(NIGHT.slope()).isCloseTo(0.220, within(0.001));
        assertThat(AFTERNOON.slope()).isCloseTo(0.358, within(0.001));
        assertThat(AFTERNOON.psychrometric()).isCloseTo(0.0673, within(0.0001));
        assertThat(NIGHT.saturation()).isCloseTo(3.780, within(0.001));
        assertThat(AFTERNOON.saturation()).isCloseTo(6.625, within(0.001));
        assertThat(NIGHT.actual()).isCloseTo(3.402, within(0.001));
        assertThat(AFTERNOON.actual()).isCloseTo(3.445, within(0.001));
        assertThat(NIGHT.extraterrestrial()).isZero();
        assertThat(AFTERNOON.clearSky()).isCloseTo(2.658, within(0.005));
        assertThat(AFTERNOON.netShort()).isCloseTo(1.887, within(0.001));
        assertThat(NIGHT.netLong()).isCloseTo(0.100, within(0.001));
        assertThat(AFTERNOON.netLong()).isCloseTo(0.137, within(0.001));
        assertThat(NIGHT.soilHeat()).isCloseTo(-0.050, within(0.001));
        assertThat(AFTERNOON.soilHeat()).isCloseTo(0.175, within(0.001));
    }

    /** FAO-56 Example 20, p. 78: with wind 1 or 3 m/s instead of 2. */
    @Test
    void windChangesLyonAsPrinted() {
        for (double[] windAndEt : new double[][] {{1, 4.2}, {3, 4.8}}) {
            Measured day = new Measured(196, 14.8, 26.6, null, null, null, windAndEt[0], null, null);
            assertThat(Evapotranspiration.penmanMonteith(LYON, day).et0Mm()).isCloseTo(windAndEt[1], within(0.05));
        }
    }
}
