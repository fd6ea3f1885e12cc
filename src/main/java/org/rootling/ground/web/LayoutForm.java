package org.rootling.ground.web;

import jakarta.validation.constraints.NotNull;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;

/** What the rows should be like, as typed; empty bearing, offset and end gap are found. */
record LayoutForm(
        @NotNull @Measured(Measure.METRE) Double rowSpacingM,
        @NotNull @Measured(Measure.METRE) Double vineSpacingM,
        @Measured(Measure.METRE) @Nullable Double headlandM,
        @Measured(Measure.METRE) @Nullable Double sideMarginM,
        @Measured(Measure.METRE) @Nullable Double endGapM,
        @Nullable Double rowBearingDeg,
        @Measured(Measure.METRE) @Nullable Double firstRowOffsetM,
        @Nullable Integer minVinesPerRow,
        @Nullable Alignment alignment,
        @Nullable Integer version) {

    /** Common starting figures (common practice, no source); the grower changes them. */
    static LayoutForm fresh(int version) {
        return new LayoutForm(2.2, 1.2, 6.0, 2.0, null, null, null, 3, Alignment.ROW, version);
    }

    static LayoutForm of(LayoutSpec spec, int version) {
        return new LayoutForm(
                spec.rowSpacingM(),
                spec.vineSpacingM(),
                spec.headlandM(),
                spec.sideMarginM(),
                spec.endGapM(),
                spec.rowBearingDeg(),
                spec.firstRowOffsetM(),
                spec.minVinesPerRow(),
                spec.alignment(),
                version);
    }

    /** The same with what was found, so that what is accepted is what was shown. */
    LayoutForm found(Layout layout) {
        return of(layout.spec(), version == null ? 0 : version);
    }

    LayoutSpec spec() {
        double vine = given(vineSpacingM, 0);
        return new LayoutSpec(
                given(rowSpacingM, 0),
                vine,
                given(headlandM, 0),
                given(sideMarginM, 0),
                given(endGapM, vine / 2),
                rowBearingDeg,
                firstRowOffsetM,
                minVinesPerRow == null ? 1 : minVinesPerRow,
                alignment == null ? Alignment.ROW : alignment);
    }

    private static double given(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
