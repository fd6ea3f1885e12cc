package org.rootling.ground;

import org.jspecify.annotations.Nullable;

/** What to draw at each place of a plan. */
@FunctionalInterface
public interface PlanMarks {

    /** The mark of a place, or null for a bare place. */
    @Nullable
    Mark mark(Row row, int place);

    /** The page that a row's marks lead to, or null. */
    default @Nullable String href(Row row) {
        return null;
    }

    /** Bare places throughout. */
    static PlanMarks bare() {
        return (row, place) -> null;
    }
}
