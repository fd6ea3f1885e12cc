package org.rootling.work;

import java.time.LocalDate;
import java.util.List;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A task to be made.
 *
 * @param places which places of the row; null for all
 * @param due null: for a lot's planting the day by which its holds want it planted, otherwise none
 */
public record NewTask(
        String step,
        UUID rowId,
        @Nullable UUID lotId,
        @Nullable SortedSet<Integer> places,
        @Nullable LocalDate due,
        List<UUID> people,
        @Nullable String note) {
    public NewTask {
        people = List.copyOf(people);
    }
}
