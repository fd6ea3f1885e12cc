package org.rootling.ground;

import org.jspecify.annotations.Nullable;

/** What to draw at each place of a plan. */
@FunctionalInterface
public interface PlanMarks {

    /** The mark of a place, or null for a bare place. */
    @Nullable
    Mark mark(Row row, int place);

    /** Bare places throughout. */
    static PlanMarks bare() {
        return (row, place) -> null;
    }
}
