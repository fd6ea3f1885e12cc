package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.hipparchus.stat.descriptive.DescriptiveStatistics;
import org.hipparchus.stat.descriptive.rank.Percentile;
import org.hipparchus.stat.inference.TTest;
import org.junit.jupiter.api.Test;
import org.rootling.review.calc.Growth.Look;
import org.rootling.review.calc.Growth.Vine;

/** Spread, pace and forecast of heights: worked examples, cross-checks with Hipparchus, and how often the forecast holds. */
class HeightsOfVinesTest {

    /**
     * Five circuit packs, mean 50.10 V, standard deviation 1.31 V: the mean lies in 48.47 to 51.73 and one more pack in
     * 46.1 to 54.1 V with 95 % (Hahn and Meeker, Statistical Intervals, 1991, sections 3.1 and 4.2; from memory).
     */
    @Test
    void both_intervals_of_the_textbook_sample() {
        Sample packs = new Sample(5, 50.10, 1.31 * 1.31);

        assertThat(packs.mean() - packs.meanHalfWidth(0.95)).isCloseTo(48.47, within(0.005));
        assertThat(packs.mean() + packs.meanHalfWidth(0.95)).isCloseTo(51.73, within(0.005));
        assertThat(packs.mean() - packs.nextHalfWidth(0.95)).isCloseTo(46.1, within(0.05));
        assertThat(packs.mean() + packs.nextHalfWidth(0.95)).isCloseTo(54.1, within(0.05));
        assertThat(packs.nextBelow(packs.mean() - packs.nextHalfWidth(0.95))).isCloseTo(0.025, within(1e-9));
    }

    /** Cross-check: descriptive statistics of Hipparchus, quartiles by the same definition (7). */
    @Test
    void the_spread_is_that_of_the_library() {
        Random random = new Random(4);
        List<Integer> heights = new ArrayList<>();
        DescriptiveStatistics theirs = new DescriptiveStatistics();
        Percentile quartile = new Percentile().withEstimationType(Percentile.EstimationType.R_7);
        for (int i = 0; i < 137; i++) {
            int cm = random.nextInt(160);
            heights.add(cm);
            theirs.addValue(cm);
        }
        HeightSpread ours = spread(heights);

        assertThat(ours.mean()).isCloseTo(theirs.getMean(), within(1e-9));
        assertThat(ours.deviation()).isCloseTo(theirs.getStandardDeviation(), within(1e-9));
        assertThat(ours.quarter()).isCloseTo(quartile.evaluate(theirs.getValues(), 25), within(1e-9));
        assertThat(ours.median()).isCloseTo(quartile.evaluate(theirs.getValues(), 50), within(1e-9));
        assertThat(ours.threeQuarters()).isCloseTo(quartile.evaluate(theirs.getValues(), 75), within(1e-9));
        assertThat(ours.counts().stream().mapToInt(Integer::intValue).sum()).isEqualTo(137);
        assertThat(ours.counts().get(0))
                .isEqualTo((int) heights.stream().filter(h -> h < ours.from(1)).count());
    }

    @Test
    void no_height_one_height_and_equal_heights_have_a_spread_or_none() {
        assertThat(HeightSpread.of(List.of())).isNull();
        assertThat(spread(List.of(0)).counts()).containsExactly(1);
        HeightSpread same = spread(List.of(42, 42, 42));
        assertThat(same.deviation()).isZero();
        assertThat(same.median()).isEqualTo(42);
        assertThat(spread(List.of(0, 500)).counts()).hasSizeLessThanOrEqualTo(16);
    }

    /** 1 in = 2.54 cm by definition (NIST Special Publication 811): 50 cm is 19.7 in, 51 cm 20.08 in. */
    @Test
    void classes_in_inches_hold_the_same_vines() {
        HeightSpread inches =
                Objects.requireNonNull(HeightSpread.of(List.of(5, 50, 51, 52, 81), HeightSpread.Scale.INCH));

        assertThat(inches.mean()).isCloseTo(47.8, within(1e-9));
        assertThat(inches.bin()).isEqualTo(2);
        assertThat(inches.from(0)).isZero();
        assertThat(inches.counts()).hasSize(16);
        assertThat(inches.counts().get(0)).isEqualTo(1);
        assertThat(inches.counts().get(9)).isEqualTo(1);
        assertThat(inches.counts().get(10)).isEqualTo(2);
        assertThat(inches.counts().get(15)).isEqualTo(1);
        assertThat(inches.to(9)).isEqualTo(20);
    }

    /** Vines that grow 10 cm in their last 5 days grow 14 cm a week; looks a day apart do not count. */
    @Test
    void the_pace_is_between_the_last_two_looks_some_days_apart() {
        List<Vine> vines = new ArrayList<>();
        for (int i = 0; i < 6; i++) {
            vines.add(new Vine(1, List.of(new Look(0, 5), new Look(10, 20), new Look(14, 29), new Look(15, 30))));
        }
        Growth growth = Growth.of(vines);

        assertThat(growth.pace()).isNotNull();
        assertThat(growth.pace().mean()).isCloseTo(10 / 5.0, within(1e-9));
        assertThat(growth.weeks()).extracting(Growth.Week::firstDay).containsExactly(0, 7, 14);
        assertThat(growth.weeks().get(0).cm()).isCloseTo(10.5, within(1e-9));
        // 3 days of 1.5, then 4 of 2.25
        assertThat(growth.weeks().get(1).cm()).isCloseTo(13.5, within(1e-9));
        assertThat(Growth.of(vines.subList(0, 4)).pace()).isNull();
        assertThat(Growth.of(List.of()).weeks()).isEmpty();
    }

    /** Cross-check: Welch's test of Hipparchus. */
    @Test
    void a_row_is_compared_with_all_others_by_welchs_test() {
        Random random = new Random(8);
        List<Vine> vines = new ArrayList<>();
        List<List<Double>> rows = new ArrayList<>();
        for (int row = 1; row <= 4; row++) {
            List<Double> heights = new ArrayList<>();
            for (int i = 0; i < 12; i++) {
                int cm = (int) Math.round((row == 3 ? 40 : 70) + random.nextGaussian() * (row == 2 ? 5 : 12));
                heights.add((double) cm);
                vines.add(new Vine(row, List.of(new Look(100, cm))));
            }
            rows.add(heights);
        }
        Growth growth = Growth.of(vines);

        assertThat(growth.rowsCompared()).isEqualTo(4);
        assertThat(growth.behind()).hasSize(1);
        double[] third = rows.get(2).stream().mapToDouble(Double::doubleValue).toArray();
        double[] others = java.util.stream.Stream.of(rows.get(0), rows.get(1), rows.get(3))
                .flatMap(List::stream)
                .mapToDouble(Double::doubleValue)
                .toArray();
        assertThat(growth.behind().get(0).row()).isEqualTo(3);
        // the smallest of four: Holm multiplies it by four
        assertThat(growth.behind().get(0).p()).isCloseTo(4 * new TTest().tTest(third, others), within(1e-9));
    }

    @Test
    void rows_measured_late_are_not_ahead_for_it() {
        List<Vine> vines = new ArrayList<>();
        for (int i = 0; i < 10; i++) {
            vines.add(new Vine(1, List.of(new Look(0, 10 + i % 3), new Look(14, 38 + i % 3))));
            vines.add(new Vine(2, List.of(new Look(7, 24 + i % 3), new Look(21, 52 + i % 3))));
        }
        assertThat(Growth.of(vines).behind()).isEmpty();
        assertThat(Growth.of(vines).rowsCompared()).isEqualTo(2);
    }

    @Test
    void equal_heights_everywhere_put_no_row_behind() {
        List<Vine> vines = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            vines.add(new Vine(i % 3, List.of(new Look(0, 30))));
        }
        assertThat(Growth.of(vines).behind()).isEmpty();
        assertThat(Growth.of(List.of(vines.get(0))).rowsCompared()).isZero();
    }

    /** The 95 % range of the number that stays below holds for 95 of 100 simulated blocks, or nearly. */
    @Test
    void the_forecast_holds_as_often_as_it_says() {
        Random random = new Random(15);
        int inside = 0;
        int rounds = 400;
        for (int round = 0; round < rounds; round++) {
            List<Vine> vines = new ArrayList<>();
            int reallyShort = 0;
            for (int i = 0; i < 40; i++) {
                int now = (int) Math.round(60 + random.nextGaussian() * 12);
                int before = now - (int) Math.round(14 * (1 + 0.3 * random.nextGaussian()));
                vines.add(new Vine(1, List.of(new Look(86, before), new Look(100, now))));
                reallyShort += now + 40 * (1 + 0.3 * random.nextGaussian()) < 100 ? 1 : 0;
            }
            Reach reach = reach(vines, 100, 140);
            assertThat(reach.missing()).isBetween(reach.missingLow(), reach.missingHigh());
            inside += reach.missingLow() <= reallyShort && reallyShort <= reach.missingHigh() ? 1 : 0;
        }
        assertThat(inside / (double) rounds).isGreaterThan(0.92);
    }

    @Test
    void a_vine_at_the_wire_is_there_and_after_the_end_nothing_grows() {
        List<Vine> vines = new ArrayList<>();
        for (int i = 0; i < 10; i++) {
            vines.add(new Vine(1, List.of(new Look(0, 20), new Look(10, 60 + 10 * (i % 3)))));
        }
        Reach after = reach(vines, 80, 5);

        assertThat(after.there()).isEqualTo(3);
        assertThat(after.wont()).isEqualTo(7);
        assertThat(after.missing()).isEqualTo(7);
        assertThat(after.unlikely()).hasSize(7).allMatch(c -> c.chance() == 0);
        assertThat(Reach.of(vines, null, 80, 100)).isNull();
    }

    private static HeightSpread spread(List<Integer> heights) {
        return java.util.Objects.requireNonNull(HeightSpread.of(heights));
    }

    private static Reach reach(List<Vine> vines, double wireCm, int endDay) {
        return java.util.Objects.requireNonNull(Reach.of(vines, Growth.of(vines).pace(), wireCm, endDay));
    }
}
