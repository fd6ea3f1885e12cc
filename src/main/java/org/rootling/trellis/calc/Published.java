package org.rootling.trellis.calc;

/** Published limits that the warnings refer to, in metres; the sources give feet and inches. */
public final class Published {
    private static final double FOOT = 0.3048;

    /** Longest row for anchored ends: 600 ft (Domoto, Iowa State Univ. 2002, "Constructing a Vineyard Trellis"). */
    public static final double ANCHORED_ROW_M = 600 * FOOT;
    /** Longest row for a 4-inch screw anchor: about 250 ft, less on sand (Domoto 2002). */
    public static final double SMALL_ANCHOR_ROW_M = 250 * FOOT;
    /** A screw anchor below this counts as a 4-inch one (published sizes are 4 and 6 inches; Domoto 2002). */
    public static final double LARGE_ANCHOR_M = 6 * 0.0254;
    /** Line posts every 21, 24 or 28 ft (Domoto 2002). */
    public static final double LINE_POST_SPAN_M = 28 * FOOT;
    /** Widest published bay: 30 ft (UNH kiwiberry guide, noreastkiwiberries.com). */
    public static final double WIDEST_BAY_M = 30 * FOOT;
    /** End posts set at least 3 ft deep (Domoto 2002). */
    public static final double END_POST_DEPTH_M = 3 * FOOT;
    /** Post and tie each make about 60 degrees with the ground (Domoto 2002). */
    public static final double TIE_ANGLE_DEG = 60;

    private Published() {}
}
