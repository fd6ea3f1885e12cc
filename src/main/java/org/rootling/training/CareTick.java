package org.rootling.training;

import java.time.LocalDate;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** An item was done on these places of a row. */
public record CareTick(
        UUID id,
        UUID itemId,
        UUID rowId,
        SortedSet<Integer> places,
        LocalDate on,
        UUID by,
        @Nullable String note) {}
