package org.rootling.ground;

import java.util.List;

/** Makes blocks and rows without anyone drawing; for seeding and imports. Lengths in metres, bearings in degrees. */
public interface BlockDesk {

    /** A block from its corners. */
    Block add(String code, String name, List<Point> corners);

    /** Something in the block that nothing may touch. */
    void exclude(String code, String name, List<Point> corners);

    /** Lays the block out with the best offset and makes its rows; half a vine spacing from end post to first vine. */
    void layOut(
            String code,
            double rowSpacingM,
            double vineSpacingM,
            double headlandM,
            double sideMarginM,
            double rowBearingDeg);
}
