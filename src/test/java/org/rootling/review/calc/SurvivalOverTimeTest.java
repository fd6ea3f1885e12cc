package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.junit.jupiter.api.Test;

/**
 * Data: remission times in weeks of 42 children with leukaemia on 6-mercaptopurine or placebo (Freireich, Gehan et al.
 * 1963, Blood 21:699-716), the worked example of many textbooks. The times were read in the example of the R package
 * fastlogranktest 0.1.0 (rdrr.io), which carries them with the test's result. The printed survival and Greenwood errors
 * of the 6-MP group (Kleinbaum and Klein, Survival Analysis, chapter 2; Collett) are from memory.
 */
class SurvivalOverTimeTest {

    private static final int[] TREATED = {6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35};
    private static final int[] TREATED_ENDED = {1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0};
    private static final int[] PLACEBO = {1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23};

    /** Survival of gliomas, the published example of routine G12ABF of the NAG Library (data and result pages read). */
    private static final int[] GLIOMA_1 = {
        6, 13, 21, 30, -31, 37, 38, -47, 49, 50, 63, 79, -80, -82, -82, 86, 98, -149, 202, 219
    };

    private static final int[] GLIOMA_2 = {
        10, 10, 12, 13, 14, 15, 16, 17, 18, 20, 24, 24, 25, 28, 30, 33, -34, 35, 37, 40, 40, -40, 46, 48, -70, 76, 81,
        82, 91, 112, 181
    };

    @Test
    void the_treated_group_has_its_printed_curve() {
        SurvivalCurve curve = SurvivalCurve.of("6-MP", treated());

        assertThat(curve.steps()).extracting(s -> s.days()).containsExactly(6, 7, 10, 13, 16, 22, 23);
        assertThat(curve.steps()).extracting(s -> s.atRisk()).containsExactly(21L, 17L, 15L, 12L, 11L, 7L, 6L);
        assertThat(curve.steps()).extracting(s -> s.events()).containsExactly(3L, 1L, 1L, 1L, 1L, 1L, 1L);
        double[] survival = {0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482};
        double[] error = {0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346};
        for (int i = 0; i < survival.length; i++) {
            assertThat(curve.steps().get(i).survival()).isCloseTo(survival[i], within(5e-5));
            assertThat(curve.steps().get(i).standardError()).isCloseTo(error[i], within(6e-5));
        }
        assertThat(curve.median()).isEqualTo(23);
        assertThat(curve.lives()).isEqualTo(21);
        assertThat(curve.deaths()).isEqualTo(9);
        assertThat(curve.lastDay()).isEqualTo(35);
    }

    @Test
    void without_censoring_the_curve_is_the_share_still_alive() {
        SurvivalCurve curve = SurvivalCurve.of("placebo", placebo());

        for (SurvivalCurve.Step step : curve.steps()) {
            long alive = java.util.Arrays.stream(PLACEBO)
                    .filter(t -> t > step.days())
                    .count();
            double share = alive / 21.0;
            assertThat(step.survival()).isCloseTo(share, within(1e-12));
            if (alive > 0) {
                assertThat(step.standardError()).isCloseTo(Math.sqrt(share * (1 - share) / 21), within(1e-12));
            }
        }
        assertThat(curve.median()).isEqualTo(8);
        assertThat(curve.steps().get(curve.steps().size() - 1).survival()).isZero();
        assertThat(curve.steps().get(curve.steps().size() - 1).standardError()).isNull();
    }

    /** fastlogranktest 0.1.0, example output (read): 1.679294e+01, p 4.168809e-05. */
    @Test
    void the_log_rank_test_of_the_remission_times_is_the_published_one() {
        LogRank test = LogRank.of(List.of(treated(), placebo()));

        assertThat(test).isNotNull();
        assertThat(test.chiSquare()).isCloseTo(16.79294, within(5e-6));
        assertThat(test.p()).isCloseTo(4.168809e-05, within(1e-10));
        assertThat(test.degreesOfFreedom()).isOne();
    }

    /** NAG Library, G12ABF example results (read): statistic 7.4966, 1 degree of freedom, p 0.0062. */
    @Test
    void the_log_rank_test_of_the_gliomas_is_the_published_one() {
        LogRank test = LogRank.of(List.of(signed(GLIOMA_1), signed(GLIOMA_2)));

        assertThat(test).isNotNull();
        assertThat(test.chiSquare()).isCloseTo(7.4966, within(5e-5));
        assertThat(test.p()).isCloseTo(0.0062, within(5e-5));
    }

    /** Cross-check: the sums vine by vine, and Hipparchus for the linear system and the distribution. */
    @Test
    void any_number_of_groups_agrees_with_a_second_library() {
        var random = new Random(7);
        for (int round = 0; round < 40; round++) {
            int groups = 2 + random.nextInt(5);
            List<LifeTable> tables = new ArrayList<>();
            List<int[]> lives = new ArrayList<>();
            for (int g = 0; g < groups; g++) {
                var table = new LifeTable();
                for (int i = 0; i < 15 + random.nextInt(40); i++) {
                    int days = random.nextInt(30);
                    boolean died = random.nextInt(3) > 0;
                    table.add(days, died, 1);
                    lives.add(new int[] {g, days, died ? 1 : 0});
                }
                tables.add(table);
            }
            LogRank ours = LogRank.of(tables);
            assertThat(ours).isNotNull();
            assertThat(ours.degreesOfFreedom()).isEqualTo(groups - 1);
            double expected = vineByVine(lives, groups);
            assertThat(ours.chiSquare()).isCloseTo(expected, within(1e-9 * (1 + expected)));
            assertThat(ours.p())
                    .isCloseTo(
                            1 - new ChiSquaredDistribution(groups - 1).cumulativeProbability(expected), within(1e-9));
        }
    }

    @Test
    void the_order_of_the_groups_does_not_matter() {
        List<LifeTable> forth = List.of(treated(), placebo(), signed(GLIOMA_1));
        List<LifeTable> back = List.of(signed(GLIOMA_1), placebo(), treated());

        assertThat(LogRank.of(forth).chiSquare()).isCloseTo(LogRank.of(back).chiSquare(), within(1e-9));
    }

    @Test
    void the_curve_never_rises() {
        var random = new Random(3);
        var table = new LifeTable();
        for (int i = 0; i < 500; i++) {
            table.add(random.nextInt(200), random.nextBoolean(), 1 + random.nextInt(50));
        }
        SurvivalCurve curve = SurvivalCurve.of("any", table);
        double before = 1;
        for (SurvivalCurve.Step step : curve.steps()) {
            assertThat(step.survival()).isBetween(0.0, before);
            before = step.survival();
        }
        assertThat(curve.at(-1)).isOne();
        assertThat(curve.at(10_000)).isEqualTo(before);
    }

    @Test
    void all_alive_stays_at_one_and_has_no_median_and_no_test() {
        var table = new LifeTable().add(120, false, 1_000_000);
        SurvivalCurve curve = SurvivalCurve.of("A", table);

        assertThat(curve.steps()).isEmpty();
        assertThat(curve.median()).isNull();
        assertThat(curve.at(120)).isOne();
        assertThat(LogRank.of(List.of(table, new LifeTable().add(100, false, 5))))
                .isNull();
        assertThat(LogRank.of(List.of(table))).isNull();
    }

    @Test
    void all_dead_on_one_day_drops_to_zero() {
        SurvivalCurve curve = SurvivalCurve.of("A", new LifeTable().add(0, true, 40));

        assertThat(curve.steps()).containsExactly(new SurvivalCurve.Step(0, 40, 40, 0, null));
        assertThat(curve.median()).isZero();
    }

    @Test
    void half_dead_is_the_median_despite_rounding() {
        var table = new LifeTable();
        for (int day = 1; day <= 12; day++) {
            table.add(day, true, 1);
        }
        assertThat(SurvivalCurve.of("A", table).median()).isEqualTo(6);
    }

    @Test
    void dead_before_it_was_planted_is_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> new LifeTable().add(-1, true, 1));
    }

    private static double vineByVine(List<int[]> lives, int groups) {
        double[] excess = new double[groups - 1];
        double[][] v = new double[groups - 1][groups - 1];
        for (int day = 0; day < 30; day++) {
            double[] risk = new double[groups];
            double[] died = new double[groups];
            double n = 0;
            double d = 0;
            for (int[] life : lives) {
                if (life[1] >= day) {
                    risk[life[0]]++;
                    n++;
                }
                if (life[1] == day && life[2] == 1) {
                    died[life[0]]++;
                    d++;
                }
            }
            if (d == 0 || n < 2) {
                continue;
            }
            double factor = d * (n - d) / (n * n * (n - 1));
            for (int i = 0; i < groups - 1; i++) {
                excess[i] += died[i] - d * risk[i] / n;
                for (int j = 0; j < groups - 1; j++) {
                    v[i][j] += factor * (i == j ? risk[i] * (n - risk[i]) : -risk[i] * risk[j]);
                }
            }
        }
        var vector = MatrixUtils.createRealVector(excess);
        return vector.dotProduct(
                new LUDecomposition(MatrixUtils.createRealMatrix(v)).getSolver().solve(vector));
    }

    private static LifeTable treated() {
        var table = new LifeTable();
        for (int i = 0; i < TREATED.length; i++) {
            table.add(TREATED[i], TREATED_ENDED[i] == 1, 1);
        }
        return table;
    }

    private static LifeTable placebo() {
        var table = new LifeTable();
        for (int time : PLACEBO) {
            table.add(time, true, 1);
        }
        return table;
    }

    private static LifeTable signed(int[] times) {
        var table = new LifeTable();
        for (int time : times) {
            table.add(Math.abs(time), time > 0, 1);
        }
        return table;
    }
}
