package org.rootling.planting;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * One line of a vine's history.
 *
 * @param state what it was seen as, where it was seen
 * @param note free text, if any
 * @param picture photo that was taken, if any
 * @param by account
 */
public record VineEvent(
        LocalDate when,
        Kind kind,
        @Nullable VineState state,
        @Nullable String note,
        @Nullable UUID picture,
        UUID by) {

    /** What happened. */
    public enum Kind {
        PLANTED,
        SEEN,
        NOTED,
        PHOTO,
        REPLACED,
        UNDONE,
        REMOVED;

        /** Name in message keys. */
        public String key() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }
}
