package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import org.junit.jupiter.api.Test;

class WhatToReorderTest {

    /** P05: bundles of 25 (Winegrowers Supplies). */
    @Test
    void gaps_are_bought_in_whole_bundles() {
        assertThat(Reorder.of(60, 0, Reorder.SPARE_SHARE, Reorder.BUNDLE)).isEqualTo(new Reorder(60, 0, 60, 15, 3, 75));
    }

    @Test
    void vines_in_hand_are_used_first() {
        assertThat(Reorder.of(30, 12, 0.02, 25).needed()).isEqualTo(18);
        assertThat(Reorder.of(30, 31, 0.02, 25)).isEqualTo(new Reorder(30, 31, 0, 0, 0, 0));
    }

    @Test
    void a_full_bundle_without_a_spare_takes_another() {
        assertThat(Reorder.of(50, 0, 0.02, 25).bundles()).isEqualTo(3);
        assertThat(Reorder.of(50, 0, 0, 25).bundles()).isEqualTo(2);
    }

    @Test
    void enough_is_bought_and_never_a_bundle_too_many() {
        qt().forAll(
                        integers().between(0, 100_000),
                        integers().between(0, 500),
                        integers().between(1, 200))
                .checkAssert((gaps, inHand, bundle) -> {
                    Reorder order = Reorder.of(gaps, inHand, 0.02, bundle);
                    int wanted = order.needed() + (int) Math.ceil(order.needed() * 0.02 - 1e-9);
                    assertThat(order.vines()).isGreaterThanOrEqualTo(wanted).isLessThan(wanted + bundle);
                    assertThat(order.vines()).isEqualTo(order.needed() + order.spares());
                });
    }

    @Test
    void absurd_numbers_are_refused() {
        assertThatIllegalArgumentException().isThrownBy(() -> Reorder.of(-1, 0, 0.02, 25));
        assertThatIllegalArgumentException().isThrownBy(() -> Reorder.of(1, 0, 2, 25));
        assertThatIllegalArgumentException().isThrownBy(() -> Reorder.of(1, 0, 0.02, 0));
    }
}
