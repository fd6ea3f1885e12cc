package org.rootling.ground.web;

import jakarta.validation.constraints.NotNull;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.Slope;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;

/**
 * What the rows should be like, as typed; empty bearing, offset and end gap are found. The bearing is that of the compass,
 * lengths are along the ground.
 */
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

    static LayoutForm of(LayoutSpec spec, Slope slope, int version) {
        Double bearing = spec.rowBearingDeg();
        return new LayoutForm(
                spec.rowSpacingM(),
                spec.vineSpacingM(),
                spec.headlandM(),
                spec.sideMarginM(),
                spec.endGapM(),
                bearing == null ? null : Double.valueOf(slope.bearingOnMap(bearing)),
                spec.firstRowOffsetM(),
                spec.minVinesPerRow(),
                spec.alignment(),
                version);
    }

    /** The same with what was found, so that what is accepted is what was shown. */
    LayoutForm found(Layout layout, Slope slope) {
        return of(layout.spec(), slope, version == null ? 0 : version);
    }

    LayoutSpec spec(Slope slope) {
        double vine = given(vineSpacingM, 0);
        return new LayoutSpec(
                given(rowSpacingM, 0),
                vine,
                given(headlandM, 0),
                given(sideMarginM, 0),
                given(endGapM, vine / 2),
                // out of bounds it is refused as it was typed
                rowBearingDeg == null || !(rowBearingDeg >= 0 && rowBearingDeg < 180)
                        ? rowBearingDeg
                        : Double.valueOf(slope.bearingOnGround(rowBearingDeg)),
                firstRowOffsetM,
                minVinesPerRow == null ? 1 : minVinesPerRow,
                alignment == null ? Alignment.ROW : alignment);
    }

    private static double given(@Nullable Double value, double otherwise) {
        return value == null ? otherwise : value;
    }
}
