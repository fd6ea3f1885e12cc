package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/** Lengths along falling ground against lengths on the map. */
class SlopeTest {

    /** Suunto Tandem manual, fig. 11: a ground distance of 25 m at 9 degrees is 24.7 m (81 ft) level. */
    @Test
    void aTapeOf25MetresAtNineDegreesSpans24Point7MetresOfMap() {
        Slope slope = Slope.degrees(9, 180);
        assertThat(slope.onMap(new Point(0, -25)).y()).isCloseTo(-24.7, within(0.05));
        assertThat(slope.onMap(new Point(0, -25)).y() / 0.3048).isCloseTo(-81, within(0.5));
        assertThat(25 / slope.groundPerMap(180)).isCloseTo(24.7, within(0.05));
    }

    /**
     * civilnoteppt.com, "Calculate the horizontal length after slope correction of tape": 30 m with one end 0.70 m too low
     * are 29.99183 m level (by h^2 / 2l, which is good to a hundredth of a millimetre here).
     */
    @Test
    void a30MetreTapeWithOneEnd70CentimetresLowSpans29Point99183Metres() {
        double level = Math.sqrt(30 * 30 - 0.7 * 0.7);
        Slope slope = new Slope(0.7 / level * 100, 90);
        assertThat(slope.onMap(new Point(30, 0)).x()).isCloseTo(29.99183, within(2e-5));
    }

    /** waycalculator.com, slope correction: at 0.4363323 rad (25 degrees) 15 m lose 1.4053831944 m. */
    @Test
    void at25Degrees15MetresLose1Point405Metres() {
        Slope slope = Slope.degrees(Math.toDegrees(0.4363323129985), 0);
        assertThat(15 - slope.onMap(new Point(0, 15)).y()).isCloseTo(1.4053831944497, within(1e-7));
    }

    @Test
    void theUnrolledFieldKeepsEveryLengthAndAreaOfTheTiltedPlane() {
        qt().withExamples(200).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Random random = new Random(seed);
            Slope slope = new Slope(100 * random.nextDouble(), 360 * random.nextDouble());
            Point a = new Point(200 * random.nextDouble(), 200 * random.nextDouble());
            Point b = new Point(200 * random.nextDouble(), 200 * random.nextDouble());
            double fall = (height(slope, a) - height(slope, b));
            double along = Math.hypot(a.distance(b), fall);
            assertThat(slope.onGround(a).distance(slope.onGround(b))).isCloseTo(along, within(1e-9));
            assertThat(slope.onMap(slope.onGround(a)).distance(a)).isLessThan(1e-9);
            double bearing = Math.toDegrees(Math.atan2(b.x() - a.x(), b.y() - a.y()));
            assertThat(a.distance(b) * slope.groundPerMap(bearing)).isCloseTo(along, within(1e-9));
            double compass = 180 * random.nextDouble();
            double back = slope.bearingOnMap(slope.bearingOnGround(compass));
            assertThat(Math.abs(Math.sin(Math.toRadians(back - compass)))).isLessThan(1e-12);
            Field field = RandomFields.field(seed);
            assertThat(slope.onGround(field).areaM2() / field.areaM2())
                    .isCloseTo(1 / Math.cos(Math.toRadians(slope.angleDeg())), within(1e-9));
        });
    }

    /** Height of the plane above the origin's. */
    private static double height(Slope slope, Point p) {
        double d = Math.toRadians(slope.downhillDeg());
        return -slope.percent() / 100 * (p.x() * Math.sin(d) + p.y() * Math.cos(d));
    }

    @Test
    void rowsDownTheSlopeGrowLongerAndRowsAcrossItGrowMore() {
        Field map =
                Field.of(List.of(new Point(0, 0), new Point(60, 0), new Point(60, 40), new Point(0, 40)), List.of());
        // 75 %: three down on four along is five along the ground (3-4-5), so 40 m of map are 50 m of ground
        Slope slope = new Slope(75, 0);
        Field ground = slope.onGround(map);
        assertThat(ground.areaM2()).isCloseTo(3000, within(1e-9));
        LayoutSpec spec = new LayoutSpec(2.2, 1.2, 6, 2, 0.6, 0.0, 0.0, 3, Alignment.ROW);
        Layout down = LayoutSolver.solve(ground, spec.bearing(slope.bearingOnGround(0)));
        // 50 - 12 = 38 m: floor((38 - 1.2) / 1.2) + 1 = 31 vines; 56 m across: 26 rows as on level ground
        assertThat(down.rowCount()).isEqualTo(26);
        assertThat(down.rows().get(0).vines()).isEqualTo(31);
        Layout across = LayoutSolver.solve(ground, spec.bearing(slope.bearingOnGround(90)));
        // 46 m across the rows: floor(46 / 2.2) + 1 = 21 rows (17 on level ground); 48 m: 40 vines
        assertThat(across.rowCount()).isEqualTo(21);
        assertThat(across.rows().get(0).vines()).isEqualTo(40);
        assertThat(Choices.of(ground, spec, slope))
                .extracting(Choices.Choice::reason)
                .contains(Choices.Reason.UP_AND_DOWN, Choices.Reason.ACROSS_SLOPE);
    }

    @Test
    void levelGroundIsLeftAsItIs() {
        Point p = new Point(12.345, 67.89);
        assertThat(Slope.LEVEL.onGround(p)).isSameAs(p);
        assertThat(Slope.LEVEL.bearingOnGround(179.5)).isEqualTo(179.5);
        assertThat(Slope.LEVEL.fallPercent(33)).isZero();
    }

    @Test
    void slopesThatCannotBeAreRefused() {
        assertThat(Slope.degrees(45, 360)).isEqualTo(new Slope(100, 0));
        for (double wrong : new double[] {-1, 101, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> new Slope(wrong, 0)).isInstanceOf(Refused.class);
        }
        for (double wrong : new double[] {-1, 46, 89.9, 90, 135, 1e9, Double.NaN}) {
            assertThatThrownBy(() -> Slope.degrees(wrong, 0)).as("" + wrong).isInstanceOf(Refused.class);
        }
        assertThatThrownBy(() -> new Slope(5, 361)).isInstanceOf(Refused.class);
    }
}
