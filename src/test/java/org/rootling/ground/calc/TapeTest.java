package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Tape.Measure;
import org.rootling.platform.Refused;

/** A field from taped sides and diagonals. */
class TapeTest {

    private static Refused refusal(int corners, List<Measure> measures) {
        try {
            Tape.solve(corners, measures, Set.of());
        } catch (Refused e) {
            return e;
        }
        throw new AssertionError("not refused");
    }

    @Test
    void theTriangleOfThirteenFourteenFifteenHoldsEightyFour() {
        // Heron's own example in the textbooks: s = 21, area = sqrt(21 * 8 * 7 * 6) = 84
        Tape.Result result =
                Tape.solve(3, List.of(new Measure(1, 2, 14), new Measure(2, 3, 13), new Measure(3, 1, 15)), Set.of());
        assertThat(result.areaM2()).isCloseTo(84, within(1e-6));
        assertThat(result.spare()).isZero();
        assertThat(result.corners().get(2).x()).isCloseTo(9, within(1e-6));
        assertThat(result.corners().get(2).y()).isCloseTo(12, within(1e-6));
    }

    @Test
    void aThreeFourFiveCornerIsSquare() {
        // check value L15 scaled: legs 30 and 40 m, diagonal 50 m (3-4-5 rule, Organic Backyard Vineyard)
        Tape.Result result =
                Tape.solve(3, List.of(new Measure(1, 2, 30), new Measure(2, 3, 40), new Measure(3, 1, 50)), Set.of());
        assertThat(result.areaM2()).isCloseTo(600, within(1e-6));
        assertThat(result.corners().get(2).x()).isCloseTo(30, within(1e-6));
    }

    @Test
    void aSideTapedTwiceIsTheMeanOfBoth() {
        // two equally good measures of one length: least squares gives the mean, each off by half their difference
        Tape.Result result = Tape.solve(
                3,
                List.of(
                        new Measure(1, 2, 30.02),
                        new Measure(1, 2, 29.98),
                        new Measure(2, 3, 40),
                        new Measure(3, 1, 50)),
                Set.of());
        assertThat(result.corners().get(1).x()).isCloseTo(30, within(1e-4));
        assertThat(result.measures().get(0).misfitM()).isCloseTo(-0.02, within(1e-4));
        assertThat(result.spare()).isEqualTo(1);
    }

    @Test
    void exactMeasuresGiveTheFieldBack() {
        qt().withExamples(150).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Shape shape = shape(new Random(seed), 3 + seed % 6);
            Tape.Result result = Tape.solve(shape.corners.size(), shape.measures(0, new Random(1)), shape.inward());
            assertThat(result.areaM2()).isCloseTo(Field.signedArea(shape.corners), within(1e-4));
        });
    }

    @Test
    void noNearbyFieldFitsTheMeasuresBetter() {
        qt().withExamples(60).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Random random = new Random(seed);
            Shape shape = shape(random, 4 + seed % 4);
            List<Measure> measures = shape.measures(0.02, random);
            Tape.Result result = Tape.solve(shape.corners.size(), measures, shape.inward());
            double best = misfit(result.corners(), measures);
            for (int i = 0; i < 60; i++) {
                List<Point> moved = result.corners().stream()
                        .map(p -> p.plus(0.01 * random.nextGaussian(), 0.01 * random.nextGaussian()))
                        .toList();
                assertThat(misfit(moved, measures)).isGreaterThanOrEqualTo(best - 1e-9);
            }
        });
    }

    @Test
    void theAreaIsAsGoodAsItSays() {
        Random random = new Random(11);
        Shape shape = shape(random, 5);
        double truth = Field.signedArea(shape.corners);
        int inside = 0;
        int tries = 300;
        for (int i = 0; i < tries; i++) {
            List<Measure> measures = new ArrayList<>();
            for (Measure m : shape.measures(0, random)) {
                measures.add(new Measure(m.from(), m.to(), m.lengthM() + random.nextGaussian() * m.sigma()));
            }
            Tape.Result result = Tape.solve(5, measures, shape.inward());
            inside += Math.abs(result.areaM2() - truth) <= 2 * result.areaErrorM2() ? 1 : 0;
        }
        // about 95 of 100 lie within two standard deviations; the scale makes it a little more
        assertThat(inside / (double) tries).isBetween(0.90, 1.0);
    }

    @Test
    void sidesAloneDoNotHoldAQuadrilateralAndTheMissingDiagonalIsNamed() {
        Refused refused = refusal(
                4, List.of(new Measure(1, 2, 60), new Measure(2, 3, 40), new Measure(3, 4, 60), new Measure(4, 1, 40)));
        assertThat(refused.key()).isEqualTo("ground.tape.not-fixed");
        assertThat(refused.args()[0]).isEqualTo(1);
        assertThat(refused.args()[1]).isEqualTo(3);
    }

    @Test
    void aGrossErrorIsNamedWithItsSize() {
        // a pentagon fully taped; side 3-4 read 4.1 m too long
        Shape shape = shape(new Random(3), 5);
        List<Measure> measures = new ArrayList<>();
        for (Measure m : shape.measures(0, new Random(1))) {
            boolean wrong = m.from() == 3 && m.to() == 4;
            measures.add(new Measure(m.from(), m.to(), m.lengthM() + (wrong ? 4.1 : 0)));
        }
        Refused refused = refusal(5, measures);
        assertThat(refused.key()).isEqualTo("ground.tape.blunder-long");
        assertThat(refused.args()[0]).isEqualTo(3);
        assertThat(refused.args()[1]).isEqualTo(4);
        assertThat((Double) refused.args()[2]).isCloseTo(4.1, within(0.02));
    }

    @Test
    void nonsenseMeasuresAreRefused() {
        assertThat(refusal(13, List.of()).key()).isEqualTo("ground.tape.corners");
        assertThat(refusal(3, List.of(new Measure(1, 1, 5))).key()).isEqualTo("ground.tape.measure");
        assertThat(refusal(3, List.of(new Measure(1, 4, 5))).key()).isEqualTo("ground.tape.measure");
        assertThat(refusal(3, List.of(new Measure(1, 2, Double.NaN))).key()).isEqualTo("ground.tape.measure");
        assertThat(refusal(3, List.of(new Measure(2, 3, 5))).key()).isEqualTo("ground.tape.side-missing");
    }

    private static double misfit(List<Point> corners, List<Measure> measures) {
        return measures.stream()
                .mapToDouble(m -> Math.pow(
                        (corners.get(m.from() - 1).distance(corners.get(m.to() - 1)) - m.lengthM()) / m.sigma(), 2))
                .sum();
    }

    /** A field with every side and every diagonal. */
    private record Shape(List<Point> corners) {
        List<Measure> measures(double error, Random random) {
            List<Measure> measures = new ArrayList<>();
            for (int i = 1; i <= corners.size(); i++) {
                for (int j = i + 1; j <= corners.size(); j++) {
                    double d = corners.get(i - 1).distance(corners.get(j - 1));
                    measures.add(new Measure(i, j, d + error * random.nextGaussian()));
                }
            }
            return measures;
        }

        Set<Integer> inward() {
            java.util.Set<Integer> in = new java.util.HashSet<>();
            int n = corners.size();
            for (int i = 0; i < n; i++) {
                Point a = corners.get((i + n - 1) % n);
                Point b = corners.get(i);
                Point c = corners.get((i + 1) % n);
                if ((b.x() - a.x()) * (c.y() - b.y()) - (b.y() - a.y()) * (c.x() - b.x()) < 0) {
                    in.add(i + 1);
                }
            }
            return in;
        }
    }

    private static Shape shape(Random random, int corners) {
        List<Point> ring = new ArrayList<>();
        for (int i = 0; i < corners; i++) {
            double turn = 2 * Math.PI * (i + 0.4 * random.nextDouble()) / corners;
            double r = 30 + 25 * random.nextDouble();
            ring.add(new Point(r * Math.cos(turn), r * Math.sin(turn)));
        }
        return new Shape(ring);
    }
}
