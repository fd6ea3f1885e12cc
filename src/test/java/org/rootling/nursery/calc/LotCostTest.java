package org.rootling.nursery.calc;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Sums by hand (no source: arithmetic). */
class LotCostTest {

    private static LotCost cost(String price, int charged, String credited, int good, int living) {
        return LotCost.of(new BigDecimal(price), charged, new BigDecimal(credited), good, living);
    }

    @Test
    void whatWasPaidIsSpreadOverTheVinesThatLive() {
        LotCost cost = cost("1.85", 310, "12.95", 303, 280);
        assertThat(cost.charged()).isEqualByComparingTo("573.50");
        assertThat(cost.net()).isEqualByComparingTo("560.55");
        // 560.55 / 303 = 1.8500; 560.55 / 280 = 2.00196…
        assertThat(cost.perVine()).isEqualByComparingTo("1.85");
        assertThat(cost.perLivingVine()).isEqualByComparingTo("2.00");
    }

    @Test
    void whereNoneLivesThereIsNoCostOfALivingVine() {
        assertThat(cost("2", 10, "0", 10, 0).perLivingVine()).isNull();
        assertThat(cost("2", 10, "0", 0, 0).perVine()).isNull();
    }

    @Test
    void halfCentsAreRoundedUp() {
        assertThat(cost("0.125", 1, "0", 1, 1).charged()).isEqualByComparingTo("0.13");
        assertThat(cost("1.01", 1, "0", 2, 2).perLivingVine()).isEqualByComparingTo("0.51");
    }

    @Test
    void linesTogetherCostWhatTheyCostApart() {
        Random random = new Random(5);
        for (int i = 0; i < 1_000; i++) {
            LotCost a = cost(random.nextInt(5) + ".37", random.nextInt(1000), "0", 5, random.nextInt(5));
            LotCost b = cost(random.nextInt(5) + ".83", random.nextInt(1000), "0", 5, random.nextInt(5));
            assertThat(a.plus(b).net()).isEqualByComparingTo(a.net().add(b.net()));
            assertThat(a.plus(b).living()).isEqualTo(a.living() + b.living());
        }
    }
}
