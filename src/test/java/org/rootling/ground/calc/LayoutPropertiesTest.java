package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Polygon;
import org.rootling.ground.Point;

/** Rules that hold for every field, checked against the JTS geometry library and against plain searching. */
class LayoutPropertiesTest {
    private static final GeometryFactory SHAPES = new GeometryFactory();

    @Test
    void everyVineKeepsTheMarginsAndEveryRowItsHeadland() {
        qt().withExamples(120).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed);
            for (Alignment alignment : Alignment.values()) {
                kept(field, LayoutSolver.solve(field, spec.aligned(alignment)));
            }
        });
    }

    private static void kept(Field field, Layout layout) {
        Polygon outline = field.outline();
        LayoutSpec spec = layout.spec();
        for (LayoutRow row : layout.rows()) {
            LineString line = line(row.start(), row.end());
            assertThat(outline.buffer(1e-7).covers(line)).isTrue();
            assertThat(outline.getBoundary().distance(line)).isGreaterThanOrEqualTo(spec.sideMarginM() - 1e-7);
            for (List<Point> patch : field.exclusions()) {
                Polygon p = Field.polygon(patch);
                assertThat(p.buffer(-1e-7).intersects(line)).isFalse();
                if (spec.sideMarginM() > 0) {
                    assertThat(p.distance(line)).isGreaterThanOrEqualTo(spec.sideMarginM() - 1e-7);
                }
            }
            if (spec.headlandM() > 0) {
                double turn = Math.toRadians(layout.rowBearingDeg());
                double h = spec.headlandM() - 1e-6;
                Point before = row.start().plus(-h * Math.sin(turn), -h * Math.cos(turn));
                Point after = row.end().plus(h * Math.sin(turn), h * Math.cos(turn));
                assertThat(outline.buffer(1e-7).covers(line(before, after))).isTrue();
            }
        }
    }

    @Test
    void noRowIsLeftOutThatBufferingTheFieldWouldAllow() {
        qt().withExamples(120).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed).offset(0.37);
            Layout layout = LayoutSolver.solve(field, spec);
            // the same lines, with margins a millimetre wider and narrower than asked
            assertThat(layout.vines()).isBetween(buffered(field, layout, 1e-3), buffered(field, layout, -1e-3));
        });
    }

    /** Vines on the layout's own lines in the field as JTS buffers it. */
    private static int buffered(Field field, Layout layout, double more) {
        LayoutSpec spec = layout.spec();
        Geometry allowed = field.outline().buffer(-Math.max(0, spec.sideMarginM() + more), 64);
        for (List<Point> patch : field.exclusions()) {
            allowed = allowed.difference(Field.polygon(patch).buffer(Math.max(0, spec.sideMarginM() + more), 64));
        }
        double turn = Math.toRadians(layout.rowBearingDeg());
        double sin = Math.sin(turn);
        double cos = Math.cos(turn);
        double first = Double.MAX_VALUE;
        for (Coordinate c : field.outline().buffer(-spec.sideMarginM(), 64).getCoordinates()) {
            first = Math.min(first, c.x * cos - c.y * sin);
        }
        int vines = 0;
        for (int k = 0; k < 200; k++) {
            double c = first + layout.firstRowOffsetM() + k * spec.rowSpacingM();
            Point foot = new Point(c * cos, -c * sin);
            LineString whole = line(foot.plus(-2000 * sin, -2000 * cos), foot.plus(2000 * sin, 2000 * cos));
            Geometry inside = field.outline().intersection(whole);
            Geometry stretches = allowed.intersection(whole);
            for (int i = 0; i < stretches.getNumGeometries(); i++) {
                double[] s = run(stretches.getGeometryN(i), sin, cos);
                for (int j = 0; j < inside.getNumGeometries(); j++) {
                    double[] in = run(inside.getGeometryN(j), sin, cos);
                    if (s[0] >= in[0] - 1e-6 && s[1] <= in[1] + 1e-6) {
                        double length = Math.min(s[1], in[1] - spec.headlandM() - more)
                                - Math.max(s[0], in[0] + spec.headlandM() + more);
                        int n = (int) Math.floor((length - 2 * spec.endGapM()) / spec.vineSpacingM() - more) + 1;
                        vines += n >= spec.minVinesPerRow() ? n : 0;
                    }
                }
            }
        }
        return vines;
    }

    private static double[] run(Geometry stretch, double sin, double cos) {
        double from = Double.MAX_VALUE;
        double to = -Double.MAX_VALUE;
        for (Coordinate c : stretch.getCoordinates()) {
            double along = c.x * sin + c.y * cos;
            from = Math.min(from, along);
            to = Math.max(to, along);
        }
        return new double[] {from, to};
    }

    @Test
    void noBetterOffsetExists() {
        qt().withExamples(120).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed);
            Layout best = LayoutSolver.solve(field, spec);
            for (int i = 0; i < 60; i++) {
                Layout other = LayoutSolver.solve(field, spec.offset(spec.rowSpacingM() * i / 60));
                assertThat(other.vines()).isLessThanOrEqualTo(best.vines());
            }
        });
    }

    @Test
    void theSumOverEventsIsTheCountOnTheGround() {
        qt().withExamples(120).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed);
            Double bearing = spec.rowBearingDeg();
            Fold.Choice choice = new OffsetSweep(new Turned(field, bearing, spec.sideMarginM()), spec)
                    .best(1)
                    .get(0);
            assertThat(LayoutSolver.solve(field, spec).vines()).isEqualTo(choice.vines());
        });
    }

    @Test
    void noBearingHoldsMoreThanTheBoundSays() {
        qt().withExamples(6).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed).bearing(null);
            Layout fullest = LayoutSolver.solve(field, spec);
            Random random = new Random(seed);
            for (int i = 0; i < 400; i++) {
                Layout other = LayoutSolver.solve(
                        field,
                        spec.bearing(180 * random.nextDouble()).offset(spec.rowSpacingM() * random.nextDouble()));
                // null where the work allowed did not reach a bound: nothing is claimed then
                if (fullest.mostVines() != null) {
                    assertThat(other.vines()).isLessThanOrEqualTo(fullest.mostVines());
                }
            }
        });
    }

    /** The work is counted, not timed, so that these fields are always bounded as closely. */
    @Test
    void theBoundIsCloseTakenTogether() {
        int vines = 0;
        int most = 0;
        for (int seed = 1; seed <= 12; seed++) {
            Layout fullest = LayoutSolver.solve(
                    RandomFields.field(seed), RandomFields.spec(seed).bearing(null));
            assertThat(fullest.mostVines()).isNotNull().isGreaterThanOrEqualTo(fullest.vines());
            vines += fullest.vines();
            most += fullest.mostVines();
        }
        assertThat(most - vines).isLessThanOrEqualTo(vines / 100);
    }

    /** The search of a large field ends before all is proved, and what it says of the best still holds. */
    @Test
    void aHundredHectaresAreBoundedToo() {
        Field small = RandomFields.field(7);
        double scale = Math.sqrt(1_000_000 / small.areaM2());
        Field field = Field.of(
                small.boundary().stream()
                        .map(p -> new Point(p.x() * scale, p.y() * scale))
                        .toList(),
                List.of());
        LayoutSpec spec = LayoutSpec.of(2.2, 1.2, 6, 2);
        Layout fullest = LayoutSolver.solve(field, spec);
        assertThat(fullest.vines()).isGreaterThan(300_000);
        assertThat(fullest.mostVines()).isNotNull().isBetween(fullest.vines(), fullest.vines() + fullest.vines() / 25);
        Random random = new Random(7);
        for (int i = 0; i < 60; i++) {
            Layout other = LayoutSolver.solve(field, spec.bearing(180 * random.nextDouble()));
            assertThat(other.vines()).isLessThanOrEqualTo(fullest.mostVines());
            assertThat(other.vines()).isLessThanOrEqualTo(fullest.vines() + fullest.vines() / 200);
        }
    }

    @Test
    void turningAndMovingTheFieldWithItsRowsChangesNothing() {
        qt().withExamples(60).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            LayoutSpec spec = RandomFields.spec(seed).bearing(20.0);
            Layout here = LayoutSolver.solve(field, spec);
            Field away = RandomFields.turned(field, 73, 4000, -900);
            Layout there = LayoutSolver.solve(away, spec.bearing(93.0));
            assertThat(there.vines()).isEqualTo(here.vines());
            assertThat(there.rowCount()).isEqualTo(here.rowCount());
        });
    }

    private static LineString line(Point a, Point b) {
        return SHAPES.createLineString(new Coordinate[] {new Coordinate(a.x(), a.y()), new Coordinate(b.x(), b.y())});
    }
}
