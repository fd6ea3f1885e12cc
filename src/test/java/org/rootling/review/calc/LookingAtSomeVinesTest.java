package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.HashSet;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LookingAtSomeVinesTest {

    /**
     * Krejcie and Morgan (1970), Educ. Psychol. Meas. 30:607-610, table 1 (read): 95 %, plus or minus 5 points, half
     * expected. They round to the nearest, this plan rounds up, so it may ask for one more.
     */
    @ParameterizedTest
    @CsvSource({"10,10", "50,44", "100,80", "240,148", "500,217", "1500,306", "9000,368"})
    void the_number_is_the_tabulated_one_or_one_more(int vines, int tabulated) {
        assertThat(SamplingPlan.size(vines, 0.95, 0.05, 0.5)).isBetween(tabulated, tabulated + 1);
    }

    /** The endless population: 1.96 x 1.96 x 0.25 / 0.0025 = 384.16. */
    @Test
    void a_million_vines_need_no_more_than_an_endless_number() {
        assertThat(SamplingPlan.size(1_000_000, 0.95, 0.05, 0.5)).isBetween(384, 385);
    }

    @Test
    void never_more_than_there_are_and_none_of_none() {
        assertThat(SamplingPlan.size(3, 0.999, 0.001, 0.5)).isEqualTo(3);
        assertThat(SamplingPlan.size(0, 0.95, 0.05, 0.5)).isZero();
    }

    @Test
    void picks_are_distinct_exist_and_are_spread_over_the_rows() {
        List<Integer> rows = List.of(40, 0, 60, 1, 99);
        for (long seed = 0; seed < 200; seed++) {
            SamplingPlan plan = SamplingPlan.pick(rows, 20, seed);
            assertThat(new HashSet<>(plan.picks())).hasSize(20);
            assertThat(plan.picks()).allSatisfy(p -> assertThat(p.vine()).isBetween(1, rows.get(p.row())));
            assertThat(plan.picks().stream().filter(p -> p.row() == 0).count()).isEqualTo(4);
        }
    }

    @Test
    void every_vine_has_about_the_same_chance() {
        int[] times = new int[60];
        for (long seed = 0; seed < 6000; seed++) {
            SamplingPlan.pick(List.of(20, 20, 20), 10, seed).picks().forEach(p -> times[p.row() * 20 + p.vine() - 1]++);
        }
        assertThat(IntStream.of(times).min().orElseThrow()).isGreaterThan(850);
        assertThat(IntStream.of(times).max().orElseThrow()).isLessThan(1150);
    }

    @Test
    void all_of_them_is_all_of_them() {
        assertThat(SamplingPlan.pick(List.of(2, 3), 5, 1).picks()).hasSize(5);
        assertThat(SamplingPlan.pick(List.of(), 0, 1).picks()).isEmpty();
    }

    @Test
    void absurd_wishes_are_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> SamplingPlan.size(10, 1.5, 0.05, 0.5));
        assertThatIllegalArgumentException().isThrownBy(() -> SamplingPlan.size(10, 0.95, 0, 0.5));
        assertThatIllegalArgumentException().isThrownBy(() -> SamplingPlan.pick(List.of(2), 3, 1));
    }

    /** Of an endless number the interval is Wilson's own, of all it is a point. */
    @Test
    void the_interval_of_a_sample_narrows_from_wilsons_to_nothing() {
        ShareInterval wilson = ShareInterval.wilson(46, 50, 0.95);
        ShareInterval endless = ShareInterval.ofFinite(46, 50, 2_000_000_000, 0.95);
        assertThat(endless.low()).isCloseTo(wilson.low(), within(1e-6));
        assertThat(endless.high()).isCloseTo(wilson.high(), within(1e-6));
        ShareInterval half = ShareInterval.ofFinite(46, 50, 100, 0.95);
        assertThat(half.low()).isGreaterThan(wilson.low());
        assertThat(half.high()).isLessThan(wilson.high());
        assertThat(ShareInterval.ofFinite(46, 50, 50, 0.95)).isEqualTo(new ShareInterval(0.92, 0.92, 0.92));
        assertThat(ShareInterval.ofFinite(0, 1, 2, 0.95).low()).isCloseTo(0, within(1e-12));
    }

    /** What the size promises the sample keeps: half of the interval is no wider than the margin that was asked for. */
    @Test
    void a_sample_of_the_planned_size_is_as_near_as_wanted() {
        for (int vines : new int[] {60, 120, 1500, 1_000_000}) {
            for (double margin : new double[] {0.03, 0.05, 0.1}) {
                int size = SamplingPlan.size(vines, 0.95, margin, 0.5);
                ShareInterval interval = ShareInterval.ofFinite(size / 2, size, vines, 0.95);
                assertThat((interval.high() - interval.low()) / 2)
                        .as(vines + " vines, " + margin)
                        .isLessThanOrEqualTo(margin);
            }
        }
    }

    @Test
    void a_sample_larger_than_its_block_is_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.ofFinite(1, 3, 2, 0.95));
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.ofFinite(4, 3, 9, 0.95));
    }
}
