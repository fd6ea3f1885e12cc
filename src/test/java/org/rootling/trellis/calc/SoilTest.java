package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class SoilTest {
    @ParameterizedTest
    @CsvSource({"1, 3.70", "2, 8.20", "3, 14.47", "4, 22.51"})
    void breakoutFactorMatchesThePublishedTableForSquarePlatesInDenseSand(double ratio, double published) {
        // "Variation of breakout factor with embedment ratio based on the Meyerhof and Adams theory (1968) in dense
        // sand", Soil Reinforcement for Anchor Plates and Uplift Responses, 2017, appendix G: shape factor
        // 1 + 0.48 L/D, Ku tan phi 0.92.
        assertThat(Soil.breakout(ratio, 0.48, 0.92)).isCloseTo(published, within(0.03));
    }

    @Test
    void screwAreasAreThePublishedOnes() {
        // T10, T11: Domoto 2002, helix 4 in = 12.6 in2, 6 in = 28.3 in2; 44.5 % of each other.
        double four = Math.PI * 4 * 4 / 4;
        double six = Math.PI * 6 * 6 / 4;
        assertThat(four).isCloseTo(12.6, within(0.05));
        assertThat(six).isCloseTo(28.3, within(0.05));
        double small = Soil.STIFF_CLAY.anchorN(4 * 0.0254, 1.2);
        double large = Soil.STIFF_CLAY.anchorN(6 * 0.0254, 1.2);
        assertThat(small / large).isCloseTo(0.445, within(0.002));
    }

    @ParameterizedTest
    @EnumSource
    void deeperAndWiderAnchorsHoldMore(Soil soil) {
        assertThat(soil.anchorN(0.15, 1.2)).isGreaterThanOrEqualTo(soil.anchorN(0.15, 0.8));
        assertThat(soil.anchorN(0.2, 0.8)).isGreaterThan(soil.anchorN(0.1, 0.8));
        assertThat(soil.postPullOutN(0.1, 0.8)).isPositive();
    }
}
