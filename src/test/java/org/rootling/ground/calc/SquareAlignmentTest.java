package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import org.junit.jupiter.api.Test;

/** Vines that stand in line from row to row. */
class SquareAlignmentTest {

    @Test
    void theVinesOfAllRowsShareOneLattice() {
        qt().withExamples(80).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            LayoutSpec spec = RandomFields.spec(seed).aligned(Alignment.SQUARE);
            Layout layout = LayoutSolver.solve(RandomFields.field(seed), spec);
            double turn = Math.toRadians(layout.rowBearingDeg());
            double first = Double.NaN;
            for (LayoutRow row : layout.rows()) {
                double along = row.start().x() * Math.sin(turn) + row.start().y() * Math.cos(turn);
                first = Double.isNaN(first) ? along : first;
                double steps = (along - first) / spec.vineSpacingM();
                assertThat(steps).isCloseTo(Math.rint(steps), within(1e-6));
            }
        });
    }

    @Test
    void noOtherLatticeTakesMoreVines() {
        qt().withExamples(80).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            LayoutSpec spec = RandomFields.spec(seed).offset(0.4).aligned(Alignment.SQUARE);
            Field field = RandomFields.field(seed);
            Layout best = LayoutSolver.solve(field, spec);
            Turned turned = new Turned(field, spec.rowBearingDeg(), spec.sideMarginM());
            RowLine line = new RowLine(turned, spec.headlandM());
            double first = new Outermost(field, spec.sideMarginM()).across(turned, spec.rowBearingDeg());
            for (int i = 0; i < 200; i++) {
                double phase = spec.vineSpacingM() * i / 200;
                int vines = 0;
                for (int k = 0; first + 0.4 + k * spec.rowSpacingM() <= turned.greatest(); k++) {
                    for (double[] s : line.stretches(first + 0.4 + k * spec.rowSpacingM())) {
                        vines += (int) SquarePhase.fit(s, phase, spec)[1];
                    }
                }
                assertThat(vines).isLessThanOrEqualTo(best.vines());
            }
        });
    }

    @Test
    void standsAtMostOneVineAStretchBehindRowsCountedOneByOne() {
        qt().withExamples(100).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            LayoutSpec spec = RandomFields.spec(seed);
            Field field = RandomFields.field(seed);
            Layout free = LayoutSolver.solve(field, spec);
            Layout square = LayoutSolver.solve(field, spec.aligned(Alignment.SQUARE));
            int lost =
                    Math.max(1, spec.minVinesPerRow()) * Math.max(1, free.rows().size());
            assertThat(square.vines()).isBetween(free.vines() - lost, free.vines());
        });
    }
}
