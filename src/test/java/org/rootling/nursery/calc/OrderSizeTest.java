package org.rootling.nursery.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.hipparchus.distribution.discrete.BinomialDistribution;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.calc.OrderSize.Answer;

class OrderSizeTest {

    /** Against Hipparchus, a second statistics library. */
    @Test
    void theChanceAgreesWithAnotherLibrary() {
        Random random = new Random(5);
        for (int i = 0; i < 200; i++) {
            int wanted = 1 + random.nextInt(3000);
            int ordered = wanted + random.nextInt(300);
            double loss = random.nextDouble() * 0.3;
            double expected = 1 - new BinomialDistribution(ordered, 1 - loss).cumulativeProbability(wanted - 1);
            assertThat(OrderSize.chance(ordered, wanted, loss)).isCloseTo(expected, within(1e-9));
        }
    }

    /** By hand: three of three grow with 0.9³ = 0.729; three of four with 0.729 + 3 · 0.1 · 0.729 = 0.9477. */
    @Test
    void theSmallestCaseIsRightByHand() {
        assertThat(OrderSize.chance(3, 3, 0.1)).isCloseTo(0.729, within(1e-12));
        assertThat(OrderSize.chance(4, 3, 0.1)).isCloseTo(0.9477, within(1e-12));
        assertThat(OrderSize.of(3, 0, 0.1, 0.9, 1).vines()).isEqualTo(4);
    }

    @Test
    void oneBundleLessWouldNotSuffice() {
        Random random = new Random(6);
        for (int i = 0; i < 200; i++) {
            int places = 1 + random.nextInt(5000);
            int bundle = 1 + random.nextInt(50);
            double loss = random.nextDouble() * 0.4;
            double sure = 0.5 + random.nextDouble() * 0.49;
            Answer answer = OrderSize.of(places, places / 50, loss, sure, bundle);
            assertThat(answer.vines() % bundle).isZero();
            assertThat(answer.chance()).isGreaterThanOrEqualTo(sure);
            assertThat(OrderSize.chance(answer.vines() - bundle, places + places / 50, loss))
                    .isLessThan(sure);
        }
    }

    /** Bioletti, Univ. California Circular 249 (1922): 95 % of planted vines growing is excellent, 85 % nearer average. */
    @Test
    void lossesAsPublishedAskForMoreThanTheBareShare() {
        Answer excellent = OrderSize.of(1000, 0, 0.05, 0.95, 25);
        Answer average = OrderSize.of(1000, 0, 0.15, 0.95, 25);
        assertThat(excellent.vines())
                .isGreaterThan((int) Math.ceil(1000 / 0.95))
                .isLessThan(1150);
        assertThat(average.vines()).isGreaterThan((int) Math.ceil(1000 / 0.85)).isLessThan(1300);
    }

    @Test
    void withoutLossThePlacesSuffice() {
        assertThat(OrderSize.of(100, 0, 0, 0.999, 25)).isEqualTo(new Answer(100, 4, 1, 0));
    }
}
