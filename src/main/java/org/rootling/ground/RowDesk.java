package org.rootling.ground;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** Takes rows that stand already, as somebody surveyed them; for imports. */
public interface RowDesk {

    /**
     * A row as it stands, one unbroken stretch.
     *
     * @param number in its block
     * @param start end post where its places begin to count, metres as the corners of the block are given
     * @param end the other end post
     * @param places planting positions
     * @param vineSpacingM vine to vine, metres along the ground; null where the places fill the row, half a spacing at
     *     its ends
     */
    record SurveyedRow(
            int number,
            Point start,
            Point end,
            int places,
            @Nullable Double vineSpacingM) {}

    /**
     * These rows take the place of the block's rows, all or none.
     *
     * @throws org.rootling.platform.Refused when vines stand or stood in the rows of the block, or when the rows are not
     *     numbered from 1 without a gap, lie outside the boundary, meet each other or a patch kept free, or are too short
     *     for their places; its field is {@code block}, {@code row}, {@code places} or {@code spacing}
     */
    void survey(String blockCode, List<SurveyedRow> rows);
}
