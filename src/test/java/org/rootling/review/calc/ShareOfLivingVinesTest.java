package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;
import static org.quicktheories.generators.SourceDSL.integers;

import org.hipparchus.stat.interval.BinomialProportion;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ShareOfLivingVinesTest {

    /** Check values S10 to S14: Wilson (1927), 95 %. */
    @ParameterizedTest(name = "{0}: {1} of {2}")
    @CsvSource({
        "S10, 4, 20, 0.08065766, 0.41601743",
        "S11, 95, 100, 0.88824953, 0.97845632",
        "S12, 47, 50, 0.83782908, 0.97938503",
        "S13, 0, 20, 0.0, 0.16112516",
        "S14, 10, 10, 0.7224672, 1.0"
    })
    void the_interval_is_wilsons(String id, int alive, int planted, double low, double high) {
        ShareInterval interval = ShareInterval.wilson(alive, planted, 0.95);

        assertThat(interval.low()).as(id + "a").isCloseTo(low, within(1e-7));
        assertThat(interval.high()).as(id + "b").isCloseTo(high, within(1e-7));
        assertThat(interval.share()).isEqualTo((double) alive / planted);
    }

    /** Cross-check: Hipparchus, which takes the share and not the count. */
    @Test
    void the_interval_agrees_with_a_second_library() {
        qt().forAll(
                        integers().between(1, 5000),
                        doubles().between(0, 1),
                        doubles().between(0.5, 0.999))
                .checkAssert((planted, share, confidence) -> {
                    int alive = (int) Math.round(share * planted);
                    ShareInterval ours = ShareInterval.wilson(alive, planted, confidence);
                    var theirs =
                            BinomialProportion.getWilsonScoreInterval(planted, (double) alive / planted, confidence);
                    assertThat(ours.low()).isCloseTo(theirs.getLowerBound(), within(1e-9));
                    assertThat(ours.high()).isCloseTo(theirs.getUpperBound(), within(1e-9));
                });
    }

    @Test
    void the_interval_holds_the_share_and_stays_within_nothing_and_all() {
        qt().forAll(integers().between(1, 1_000_000), doubles().between(0, 1)).checkAssert((planted, share) -> {
            int alive = (int) Math.floor(share * planted);
            ShareInterval i = ShareInterval.wilson(alive, planted, 0.95);
            assertThat(i.low()).isBetween(0.0, i.share());
            assertThat(i.high()).isBetween(i.share(), 1.0);
        });
    }

    @Test
    void more_confidence_is_a_wider_interval() {
        assertThat(width(0.99)).isGreaterThan(width(0.95));
        assertThat(width(0.95)).isGreaterThan(width(0.80));
    }

    @Test
    void few_vines_are_said_to_be_few() {
        assertThat(ShareInterval.wilson(17, 20, 0.95).smallNumbers()).isTrue();
        assertThat(ShareInterval.wilson(850, 1000, 0.95).smallNumbers()).isFalse();
    }

    @Test
    void impossible_counts_are_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.wilson(5, 4, 0.95));
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.wilson(-1, 4, 0.95));
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.wilson(0, 0, 0.95));
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.wilson(1, 4, 1));
        assertThatIllegalArgumentException().isThrownBy(() -> ShareInterval.wilson(1, 4, Double.NaN));
    }

    private static double width(double confidence) {
        ShareInterval i = ShareInterval.wilson(90, 100, confidence);
        return i.high() - i.low();
    }
}
