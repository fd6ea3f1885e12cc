package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/** The layout contract on fields small enough to work out by hand. */
class LayoutSolverTest {
    static Field rectangle(double width, double height) {
        return Field.of(
                List.of(new Point(0, 0), new Point(width, 0), new Point(width, height), new Point(0, height)),
                List.of());
    }

    private static LayoutSpec plain() {
        return new LayoutSpec(2.2, 1.2, 6, 2, 0.6, 0.0, 0.0, 3, Alignment.ROW);
    }

    @Test
    void theFirstRowStandsOnTheOutermostAllowedLineAndKeepsTheHeadland() {
        Layout layout = LayoutSolver.solve(rectangle(60, 40), plain());
        LayoutRow first = layout.rows().get(0);
        // 40 m less 2 x 6 m leaves 28 m; (28 - 1.2) / 1.2 = 22.3, so 23 vines on 27.6 m
        assertThat(first.vines()).isEqualTo(23);
        assertThat(first.start()).isEqualTo(new Point(2, 6));
        assertThat(first.lengthM()).isCloseTo(27.6, within(1e-9));
        assertThat(first.end().y()).isCloseTo(33.6, within(1e-9));
        // 60 m less 2 x 2 m leaves 56 m; floor(56 / 2.2) + 1 = 26 lines
        assertThat(layout.rowCount()).isEqualTo(26);
        assertThat(layout.vines()).isEqualTo(26 * 23);
        assertThat(layout.areaM2()).isEqualTo(2400);
    }

    @Test
    void theOnlyOffsetThatTakesOneRowMoreIsFound() {
        // 56 m take 29 rows at 2 m only when the first stands exactly at the margin
        LayoutSpec spec = new LayoutSpec(2, 1.2, 6, 2, 0.6, 0.0, null, 3, Alignment.ROW);
        Layout layout = LayoutSolver.solve(rectangle(60, 40), spec);
        assertThat(layout.rowCount()).isEqualTo(29);
        assertThat(layout.firstRowOffsetM()).isZero();
    }

    @Test
    void theFullestBearingOfARectangleIsProvedAgainstAllOthers() {
        Layout layout =
                LayoutSolver.solve(rectangle(60, 40), plain().bearing(null).offset(null));
        // along the long side: 48 m take 40 vines, 36 m take 17 rows
        assertThat(layout.vines()).isEqualTo(680);
        assertThat(layout.mostVines()).isEqualTo(680);
        assertThat(layout.rowCount()).isEqualTo(17);
    }

    @Test
    void aRowIsCutByAnExclusionIntoSegmentsWithNoHeadlandThere() {
        Field field = Field.of(
                rectangle(20, 60).boundary(),
                List.of(List.of(new Point(8, 28), new Point(12, 28), new Point(12, 32), new Point(8, 32))));
        LayoutSpec spec = new LayoutSpec(20, 1, 5, 1, 0.5, 0.0, 9.0, 3, Alignment.ROW);
        assertThat(LayoutSolver.solve(field, spec).rows())
                .extracting(LayoutRow::number, LayoutRow::segment, LayoutRow::vines)
                // the line x = 10: 5 to 27 m and 33 to 55 m
                .containsExactly(tuple(1, 1, 22), tuple(1, 2, 22));
    }

    @Test
    void aFieldTooNarrowForItsMarginsHoldsNothingAndSaysSo() {
        Layout layout = LayoutSolver.solve(rectangle(3, 40), plain());
        assertThat(layout.vines()).isZero();
        assertThat(layout.warnings()).extracting(Layout.Warning::key).contains("ground.layout.warn.none");
    }

    @Test
    void aFieldForMillionsOfVinesIsRefused() {
        assertThatThrownBy(() -> LayoutSolver.solve(rectangle(15_000, 15_000), plain()))
                .isInstanceOfSatisfying(
                        Refused.class, e -> assertThat(e.key()).isEqualTo("ground.layout.too-many-places"));
    }
}
