package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The right angle by tape. */
class SquaringTest {

    @ParameterizedTest
    @CsvSource({"3, 4, 5", "6, 8, 10", "9, 12, 15", "30, 40, 50"})
    void threeFourFive(double a, double b, double diagonal) {
        // L15: 3-4-5 rule (Organic Backyard Vineyard, what-when-how.com excerpt 78), scaled
        assertThat(Squaring.diagonal(a, b)).isCloseTo(diagonal, within(0.001));
        assertThat(Squaring.angle(a, b, diagonal)).isCloseTo(90, within(1e-9));
    }

    @Test
    void aDiagonalTwentyCentimetresLongIsHalfADegreeOut() {
        // L16: legs 30 and 40 m, measured diagonal 50.20 m, cosine rule
        assertThat(Squaring.angle(30, 40, 50.20)).isCloseTo(90.48, within(0.02));
    }

    @Test
    void aCentimetreMeansWhatTheCosineRuleSays() {
        double per = Squaring.degreesPerCentimetre(30, 40);
        assertThat(Squaring.angle(30, 40, 50.01) - 90).isCloseTo(per, within(1e-4));
        assertThat(Squaring.swing(100, per)).isCloseTo(100 * Math.toRadians(per), within(1e-4));
    }

    @Test
    void theAllowedDifferenceSwingsTheFarEndByExactlyTheAllowance() {
        double allowed = Squaring.allowed(30, 40, 120, 0.05);
        double degrees = Squaring.angle(30, 40, 50 + allowed) - 90;
        assertThat(Squaring.swing(120, degrees)).isCloseTo(0.05, within(0.001));
    }

    @Test
    void theLargestTriangleFitsLegsAndTape() {
        assertThat(Squaring.largest(20, 48, 50)).isEqualTo(new Squaring.Triangle(18, 24, 30));
        assertThat(Squaring.largest(100, 100, 50)).isEqualTo(new Squaring.Triangle(30, 40, 50));
    }
}
