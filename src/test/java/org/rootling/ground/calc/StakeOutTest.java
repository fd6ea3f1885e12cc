package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;

/** The sheet must put every post where the layout has it, by nothing but its own readings. */
class StakeOutTest {

    private static List<Row> rows(Layout layout) {
        List<Row> rows = new ArrayList<>();
        List<Stretch> stretches = new ArrayList<>();
        int places = 0;
        double gap = layout.spec().endGapM();
        for (int i = 0; i < layout.rows().size(); i++) {
            LayoutRow r = layout.rows().get(i);
            stretches.add(new Stretch(
                    r.segment(),
                    places + 1,
                    r.vines(),
                    r.start().x(),
                    r.start().y(),
                    r.end().x(),
                    r.end().y(),
                    gap,
                    gap,
                    layout.spec().vineSpacingM()));
            places += r.vines();
            if (i + 1 == layout.rows().size() || layout.rows().get(i + 1).number() != r.number()) {
                rows.add(new Row(new UUID(0, i), new UUID(0, 0), "B1", r.number(), places, stretches));
                stretches = new ArrayList<>();
                places = 0;
            }
        }
        return rows;
    }

    @Test
    void followingTheReadingsFindsEveryPost() {
        qt().withExamples(120).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            Layout layout = LayoutSolver.solve(field, RandomFields.spec(seed));
            List<Row> rows = rows(layout);
            if (rows.isEmpty()) {
                return;
            }
            StakeOut out = StakeOut.of(field, rows, layout.rowBearingDeg(), 50);
            List<Point> corners = field.boundary();
            List<Point> sights = new ArrayList<>();
            for (StakeOut.Sight s : out.sights()) {
                Point a = corners.get(s.fromCorner() - 1);
                Point b = corners.get(s.toCorner() - 1);
                double share = s.readingM() / a.distance(b);
                sights.add(a.plus((b.x() - a.x()) * share, (b.y() - a.y()) * share));
            }
            Point a = sights.get(0);
            Point b = sights.get(1);
            assertThat(a.distance(b)).isCloseTo(out.baseLengthM(), within(1e-6));
            double ux = (b.x() - a.x()) / a.distance(b);
            double uy = (b.y() - a.y()) / a.distance(b);
            Point c = a.plus(ux * out.zeroM(), uy * out.zeroM());
            for (int i = 0; i < rows.size(); i++) {
                StakeOut.Peg peg = out.pegs().get(i);
                // right of the base line, looking from A to B
                Point p = c.plus(uy * peg.acrossM(), -ux * peg.acrossM());
                assertThat(p.distance(peg.first())).isLessThan(1e-5);
                int k = 0;
                for (Stretch s : rows.get(i).stretches()) {
                    double first = peg.posts().get(k++);
                    double last = peg.posts().get(k++);
                    assertThat(p.plus(ux * first, uy * first).distance(new Point(s.startX(), s.startY())))
                            .isLessThan(1e-5);
                    assertThat(p.plus(ux * last, uy * last).distance(new Point(s.endX(), s.endY())))
                            .isLessThan(1e-5);
                }
            }
            StakeOut.Frame frame = out.frame();
            if (frame != null) {
                Point d1 = out.pegs().get(frame.fromRow() - 1).first();
                Point d2 = out.pegs().get(frame.toRow() - 1).second();
                assertThat(d1.distance(d2)).isCloseTo(frame.diagonalM(), within(1e-5));
            }
        });
    }

    @Test
    void aCheckIsJudgedByWhatItDoesAtTheFarEnd() {
        assertThat(StakeOut.judge(30, 40, 50, 60).advice()).isEqualTo(StakeOut.Advice.ACCEPT);
        assertThat(StakeOut.judge(30, 40, 50.05, 60).advice()).isEqualTo(StakeOut.Advice.SHIFT);
        // L16: half a degree out
        StakeOut.Verdict far = StakeOut.judge(30, 40, 50.20, 100);
        assertThat(far.angleDeg()).isCloseTo(90.48, within(0.02));
        assertThat(far.advice()).isEqualTo(StakeOut.Advice.REDO);
    }
}
