package org.rootling.planting;

import java.util.Map;
import java.util.UUID;

/**
 * The vines of one row.
 *
 * @param places planting positions in the row
 */
public record RowTally(UUID rowId, UUID blockId, int number, int places, Tally tally) {

    public Map<VineState, Integer> counts() {
        return tally.counts();
    }

    /** Places without a present vine. */
    public int empty() {
        return Math.max(0, places - tally.present());
    }
}
