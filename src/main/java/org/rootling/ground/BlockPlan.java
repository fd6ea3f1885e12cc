package org.rootling.ground;

import java.util.List;
import java.util.UUID;

/** Draws a block: boundary, headland, exclusions, rows, posts and places, with north arrow, scale and legend. */
public interface BlockPlan {
    /** Up to so many places each place is drawn; beyond, rows are drawn as lines and marks are not asked for. */
    int MOST_DRAWN = 6000;

    /** A figure of SVG and its legend, ready to stand in a page. */
    String svg(UUID blockId, PlanMarks marks);

    /** The same for whoever has read its rows. */
    String svg(UUID blockId, List<Row> rows, PlanMarks marks);
}
