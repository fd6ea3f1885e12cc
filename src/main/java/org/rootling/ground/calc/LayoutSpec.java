package org.rootling.ground.calc;

import org.jspecify.annotations.Nullable;
import org.rootling.platform.Measure;
import org.rootling.platform.Refused;

/**
 * What the rows of a field should be like. Lengths in metres, the bearing in degrees clockwise from north.
 *
 * @param rowSpacingM distance from row line to row line
 * @param vineSpacingM distance from vine to vine in the row
 * @param headlandM free run along the row beyond each end post, to the boundary
 * @param sideMarginM no part of a row is nearer to the boundary or an exclusion than this
 * @param endGapM end post to first vine and last vine to end post
 * @param rowBearingDeg direction of the rows, 0 &le; b &lt; 180, or null for the bearing that takes most vines
 * @param firstRowOffsetM distance of the first row line from the outermost line allowed by the side margin, or null for
 *     the offset that takes most vines
 * @param minVinesPerRow a stretch for fewer vines is left empty
 * @param alignment how the vines of neighbouring rows stand to each other
 */
public record LayoutSpec(
        double rowSpacingM,
        double vineSpacingM,
        double headlandM,
        double sideMarginM,
        double endGapM,
        @Nullable Double rowBearingDeg,
        @Nullable Double firstRowOffsetM,
        int minVinesPerRow,
        Alignment alignment) {

    /** Bounds of the lengths, metres; wide enough for any vineyard, narrow enough that nothing runs away. */
    public static final double MIN_ROW = 0.5;

    public static final double MAX_ROW = 20;
    public static final double MIN_VINE = 0.2;
    public static final double MAX_VINE = 20;
    public static final double MAX_MARGIN = 200;
    public static final double MAX_OFFSET = 20_000;
    public static final int MAX_MIN_VINES = 10_000;

    public LayoutSpec {
        within(rowSpacingM, MIN_ROW, MAX_ROW, "rowSpacingM");
        within(vineSpacingM, MIN_VINE, MAX_VINE, "vineSpacingM");
        within(headlandM, 0, MAX_MARGIN, "headlandM");
        within(sideMarginM, 0, MAX_MARGIN, "sideMarginM");
        within(endGapM, 0, MAX_VINE, "endGapM");
        if (rowBearingDeg != null && !(rowBearingDeg >= 0 && rowBearingDeg < 180)) {
            throw new Refused("ground.layout.bearing").at("rowBearingDeg");
        }
        if (firstRowOffsetM != null) {
            within(firstRowOffsetM, 0, MAX_OFFSET, "firstRowOffsetM");
        }
        within(minVinesPerRow, 1, MAX_MIN_VINES, "minVinesPerRow");
    }

    /** Rows at the given spacings with half a vine spacing at the ends (common practice, no source). */
    public static LayoutSpec of(double rowSpacingM, double vineSpacingM, double headlandM, double sideMarginM) {
        return new LayoutSpec(
                rowSpacingM, vineSpacingM, headlandM, sideMarginM, vineSpacingM / 2, null, null, 3, Alignment.ROW);
    }

    /** The same with this bearing; null to search. */
    public LayoutSpec bearing(@Nullable Double degrees) {
        return new LayoutSpec(
                rowSpacingM,
                vineSpacingM,
                headlandM,
                sideMarginM,
                endGapM,
                degrees,
                firstRowOffsetM,
                minVinesPerRow,
                alignment);
    }

    /** The same with this offset of the first row; null to search. */
    public LayoutSpec offset(@Nullable Double metres) {
        return new LayoutSpec(
                rowSpacingM,
                vineSpacingM,
                headlandM,
                sideMarginM,
                endGapM,
                rowBearingDeg,
                metres,
                minVinesPerRow,
                alignment);
    }

    /** The same with this alignment. */
    public LayoutSpec aligned(Alignment other) {
        return new LayoutSpec(
                rowSpacingM,
                vineSpacingM,
                headlandM,
                sideMarginM,
                endGapM,
                rowBearingDeg,
                firstRowOffsetM,
                minVinesPerRow,
                other);
    }

    /** Vines per hectare at these spacings with no headland at all: 10,000 / (row x vine). */
    public double grossVinesPerHectare() {
        return 10_000 / (rowSpacingM * vineSpacingM);
    }

    /** Vines that stand in a stretch of this length from end post to end post; 0 when it is too short to count. */
    int vines(double lengthM) {
        int n = (int) Math.floor((lengthM - 2 * endGapM) / vineSpacingM + 1e-9) + 1;
        return n >= minVinesPerRow ? n : 0;
    }

    /** Length from end post to end post of a stretch with that many vines. */
    double length(int vines) {
        return (vines - 1) * vineSpacingM + 2 * endGapM;
    }

    private static void within(double value, double least, double most, String field) {
        if (!(value >= least && value <= most)) {
            Measure measure = Measure.ofField(field);
            throw (measure == null
                            ? new Refused("ground.layout.between", least, most)
                            : new Refused("ground.layout.between", measure.least(least), measure.most(most)))
                    .at(field);
        }
    }
}
