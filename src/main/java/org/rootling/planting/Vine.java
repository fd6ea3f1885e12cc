package org.rootling.planting;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * One vine in one place.
 *
 * @param place numbered from 1 at the start of its row
 * @param plantedBy account
 * @param stateOn day on which the state was last seen
 * @param endedOn day on which it was replaced or its planting undone; null while it is the vine of its place
 */
public record Vine(
        UUID id,
        UUID blockId,
        UUID rowId,
        int place,
        UUID lotId,
        LocalDate plantedOn,
        UUID plantedBy,
        VineState state,
        LocalDate stateOn,
        @Nullable LocalDate endedOn) {

    /** Whether it is the vine of its place, dead or alive. */
    public boolean present() {
        return endedOn == null;
    }
}
