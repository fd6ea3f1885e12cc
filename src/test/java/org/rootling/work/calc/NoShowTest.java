package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.statistics.distribution.BetaDistribution;
import org.junit.jupiter.api.Test;

class NoShowTest {
    @Test
    void withoutARecordItIsWhatWasTyped() {
        assertThat(new NoShow(0.05, 0, 0).share()).isEqualTo(0.05);
        assertThat(new NoShow(0, 0, 0).share()).isZero();
    }

    /** Against the mean of the posterior distribution as a general-purpose library has it (Apache Commons Statistics). */
    @Test
    void theRecordCorrectsItAsTheConjugatePosteriorDoes() {
        double typed = 0.1;
        for (int planned = 1; planned < 200; planned += 7) {
            for (int missed = 0; missed <= planned; missed += 3) {
                double a = NoShow.TYPED_DAYS * typed + missed;
                double b = NoShow.TYPED_DAYS * (1 - typed) + planned - missed;
                assertThat(new NoShow(typed, planned, missed).share())
                        .isCloseTo(BetaDistribution.of(a, b).getMean(), within(1e-12));
            }
        }
    }

    @Test
    void aLongRecordOutweighsWhatWasTyped() {
        assertThat(new NoShow(0.5, 10_000, 1_000).share()).isCloseTo(0.1, within(0.001));
        assertThat(new NoShow(0.05, 4, 4).share()).isLessThan(0.25);
    }
}
