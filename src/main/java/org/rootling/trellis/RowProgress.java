package org.rootling.trellis;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * How far the building of the trellis has come, row by row. Trellis shows it when a module that knows the work offers a
 * bean of this type.
 */
public interface RowProgress {
    /** One step of work on one row. */
    enum Step {
        SET_END_POSTS,
        ANCHOR,
        LINE_POSTS,
        STRING_WIRE,
        TIGHTEN_WIRE,
        STAKE,
        GUARD
    }

    /**
     * @param done units done: places of the row, as logged
     * @param of units in the row's tasks
     * @param lastOn day of the last log, null while there is none
     */
    record Done(
            UUID rowId,
            Step step,
            int done,
            int of,
            @Nullable LocalDate lastOn) {}

    /** What is known of these rows; rows and steps without a task are left out. */
    List<Done> of(Collection<UUID> rowIds);
}
