package org.rootling.training.calc;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * The current round of a piece of care.
 *
 * @param from first day of the round; null while it waits for a stage, a heat sum or rain. Ticks from this day on count
 * @param lateAfter last day on which it is in time; null while waiting
 * @param estimate whether the day rests on an estimate
 */
public record Due(
        Status status, @Nullable LocalDate from, @Nullable LocalDate lateAfter, boolean estimate) {

    /** Where a piece of care stands, apart from whether it was done. */
    public enum Status {
        /** Hangs on something that has not happened. */
        WAITING,
        /** Its day is known and lies ahead. */
        AHEAD,
        /** To be done now. */
        DUE,
        /** Should have been done. */
        LATE,
        /** Its time of the year, or the first year, has passed. */
        OVER
    }
}
