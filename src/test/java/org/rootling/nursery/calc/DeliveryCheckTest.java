package org.rootling.nursery.calc;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.rootling.nursery.calc.DeliveryCheck.Kind;
import org.rootling.nursery.calc.DeliveryCheck.Verdict;

class DeliveryCheckTest {

    private static final Kind ORDERED = new Kind("Bacchus", null, "SO4");

    @Test
    void partDeliveriesAreShortUntilTheLineIsFilled() {
        assertThat(DeliveryCheck.judge(ORDERED, 500, 0, ORDERED, 300)).isEqualTo(Verdict.SHORT);
        assertThat(DeliveryCheck.judge(ORDERED, 500, 300, ORDERED, 200)).isEqualTo(Verdict.AS_ORDERED);
        assertThat(DeliveryCheck.judge(ORDERED, 500, 300, ORDERED, 225)).isEqualTo(Verdict.OVER);
    }

    @Test
    void anotherVarietyIsWrongWhateverItsCount() {
        assertThat(DeliveryCheck.judge(ORDERED, 500, 0, new Kind("Ortega", null, "SO4"), 500))
                .isEqualTo(Verdict.WRONG_VARIETY);
    }

    @Test
    void anotherRootstockOrCloneIsASubstitute() {
        assertThat(DeliveryCheck.judge(ORDERED, 500, 0, new Kind("Bacchus", null, "3309 Couderc"), 500))
                .isEqualTo(Verdict.SUBSTITUTE);
        assertThat(DeliveryCheck.judge(new Kind("Bacchus", "GF 1", "SO4"), 500, 0, ORDERED, 500))
                .isEqualTo(Verdict.SUBSTITUTE);
    }

    @Test
    void aCloneThatWasNotAskedForIsNoSubstitute() {
        assertThat(DeliveryCheck.judge(ORDERED, 500, 0, new Kind("bacchus ", "GF 1", "so4"), 500))
                .isEqualTo(Verdict.AS_ORDERED);
    }

    @Test
    void withoutAnOrderLineItWasNotOrdered() {
        assertThat(DeliveryCheck.judge(null, 0, 0, ORDERED, 1)).isEqualTo(Verdict.NOT_ORDERED);
    }
}
