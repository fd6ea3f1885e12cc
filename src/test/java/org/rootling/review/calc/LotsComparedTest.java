package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.List;
import org.apache.commons.statistics.distribution.HypergeometricDistribution;
import org.apache.commons.statistics.inference.FisherExactTest;
import org.junit.jupiter.api.Test;
import org.rootling.review.calc.ShareComparison.Group;

class LotsComparedTest {

    /** S21: the tea tasting table, two-sided, sum of the tables not more likely: 34/70. */
    @Test
    void the_tea_tasting_table_has_its_published_p() {
        assertThat(FisherExact.twoSided(3, 1, 1, 3)).as("S21").isCloseTo(0.4857143, within(1e-6));
    }

    /**
     * S20 (R output at vaszar.org) and S22 (1/70): one-sided. The table is symmetric, so that the two-sided p is twice
     * the one-sided p in both.
     */
    @Test
    void the_one_sided_values_are_half_of_a_symmetric_table() {
        assertThat(FisherExact.twoSided(3, 1, 1, 3) / 2).as("S20").isCloseTo(0.2429, within(5e-5));
        assertThat(FisherExact.twoSided(4, 0, 0, 4) / 2).as("S22").isCloseTo(0.0142857, within(1e-6));
    }

    /** Cross-check: the test of commons-statistics. */
    @Test
    void p_agrees_with_the_librarys_own_test() {
        qt().withExamples(2000)
                .forAll(
                        integers().between(0, 400),
                        integers().between(0, 60),
                        integers().between(0, 400),
                        integers().between(0, 60))
                .assuming((a, b, c, d) -> a + b > 0 && c + d > 0)
                .checkAssert((a, b, c, d) -> {
                    double theirs = FisherExactTest.withDefaults()
                            .test(new int[][] {{a, b}, {c, d}})
                            .getPValue();
                    // A table exactly as likely as the observed one counts; the library can lose it to rounding.
                    var tables = HypergeometricDistribution.of(a + b + c + d, a + c, a + b);
                    double tied = 0;
                    for (int k = tables.getSupportLowerBound(); k <= tables.getSupportUpperBound(); k++) {
                        double ratio = tables.probability(k) / tables.probability(a);
                        tied += k != a && Math.abs(ratio - 1) < 1e-7 ? tables.probability(k) : 0;
                    }
                    double tolerance = 1e-9 + theirs * 1e-9;
                    assertThat(FisherExact.twoSided(a, b, c, d))
                            .isBetween(theirs - tolerance, theirs + tied + tolerance);
                });
    }

    /** The definition itself: every table with the same margins, one by one. */
    @Test
    void p_is_the_sum_over_all_tables_no_more_likely() {
        qt().forAll(
                        integers().between(0, 30),
                        integers().between(0, 30),
                        integers().between(0, 30),
                        integers().between(0, 30))
                .assuming((a, b, c, d) -> a + b + c + d > 0)
                .checkAssert((a, b, c, d) -> {
                    var tables = HypergeometricDistribution.of(a + b + c + d, a + c, a + b);
                    double limit = tables.probability(a) * (1 + 1e-7);
                    double sum = 0;
                    for (int k = tables.getSupportLowerBound(); k <= tables.getSupportUpperBound(); k++) {
                        sum += tables.probability(k) <= limit ? tables.probability(k) : 0;
                    }
                    assertThat(FisherExact.twoSided(a, b, c, d)).isCloseTo(Math.min(1, sum), within(1e-9));
                });
    }

    @Test
    void p_does_not_depend_on_which_lot_comes_first() {
        qt().forAll(
                        integers().between(0, 1000),
                        integers().between(0, 1000),
                        integers().between(0, 1000),
                        integers().between(0, 1000))
                .checkAssert((a, b, c, d) -> assertThat(FisherExact.twoSided(a, b, c, d))
                        .isCloseTo(FisherExact.twoSided(c, d, a, b), within(1e-9)));
    }

    @Test
    void a_million_vines_agree_with_the_library_as_well() {
        double theirs = FisherExactTest.withDefaults()
                .test(new int[][] {{480_000, 20_000}, {481_000, 19_000}})
                .getPValue();

        assertThat(FisherExact.twoSided(480_000, 20_000, 481_000, 19_000)).isCloseTo(theirs, within(theirs * 1e-6));
    }

    @Test
    void all_alive_or_all_dead_shows_no_difference() {
        assertThat(FisherExact.twoSided(10, 0, 20, 0)).isEqualTo(1);
        assertThat(FisherExact.twoSided(0, 10, 0, 20)).isEqualTo(1);
    }

    /** Holm (1979) by hand: 3 x 0.01, then 2 x 0.02, then 0.04 but not below the one before. */
    @Test
    void holms_correction_steps_down() {
        assertThat(Holm.correct(0.04, 0.01, 0.02)).containsExactly(new double[] {0.04, 0.03, 0.04}, within(1e-12));
        assertThat(Holm.correct()).isEmpty();
    }

    @Test
    void corrected_p_is_never_smaller_and_keeps_the_order() {
        qt().forAll(org.quicktheories.generators.SourceDSL.lists()
                        .of(org.quicktheories.generators.SourceDSL.doubles().between(0, 1))
                        .ofSizeBetween(1, 30))
                .checkAssert(list -> {
                    double[] p = list.stream().mapToDouble(Double::doubleValue).toArray();
                    double[] corrected = Holm.correct(p);
                    for (int i = 0; i < p.length; i++) {
                        assertThat(corrected[i]).isBetween(p[i], 1.0);
                        for (int j = 0; j < p.length; j++) {
                            if (p[i] < p[j]) {
                                assertThat(corrected[i]).isLessThanOrEqualTo(corrected[j]);
                            }
                        }
                    }
                });
    }

    @Test
    void each_pair_is_compared_once_and_one_group_with_none() {
        var three = ShareComparison.of(
                List.of(new Group("A", 120, 111), new Group("B", 80, 60), new Group("C", 40, 40)), 0.95);

        assertThat(three.groups()).extracting(g -> g.name()).containsExactly("A", "B", "C");
        assertThat(three.pairs()).extracting(p -> p.a() + p.b()).containsExactly("AB", "AC", "BC");
        assertThat(three.pairs().get(0).p()).isEqualTo(FisherExact.twoSided(111, 9, 60, 20));
        assertThat(ShareComparison.of(List.of(new Group("A", 1, 0)), 0.95).pairs())
                .isEmpty();
    }
}
