package org.rootling.nursery.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * One entry of the stock ledger: vines of a lot went from one account to another.
 *
 * @param reference what it belongs to, such as a planting
 * @param answers the movement it takes back
 * @param answered whether it was itself taken back
 */
public record Movement(
        UUID id,
        UUID lotId,
        MovementKind kind,
        int count,
        LocalDate on,
        Spot from,
        @Nullable String fromStore,
        Spot to,
        @Nullable String toStore,
        @Nullable String reason,
        @Nullable UUID reference,
        @Nullable UUID answers,
        boolean answered,
        @Nullable UUID by,
        Instant at) {

    /** Whether the lot's page offers to take it back. */
    public boolean canBeUndone() {
        return !answered && kind.canBeUndone();
    }
}
