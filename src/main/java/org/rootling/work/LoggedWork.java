package org.rootling.work;

import java.time.LocalDate;
import java.util.List;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Work as it was logged.
 *
 * @param by account of who did it
 * @param on the day it was done, in the vineyard's zone
 * @param minutes person minutes; 0 where nobody took the time
 */
public record LoggedWork(
        UUID logId,
        UUID taskId,
        String step,
        UUID rowId,
        @Nullable UUID lotId,
        SortedSet<Integer> places,
        List<Found> found,
        UUID by,
        LocalDate on,
        int minutes) {
    public LoggedWork {
        found = List.copyOf(found);
    }
}
