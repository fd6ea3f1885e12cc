package org.rootling.training.calc;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * Stages follow each other within a season and do not go back. A stage that seems to go back is a slip of the pen, or
 * a new start after frost or breakage, which a person has to say.
 */
public final class StageOrder {

    private StageOrder() {}

    /**
     * The record that contradicts a new one: an earlier or same day with a later stage, or a later or same day with an
     * earlier stage. Estimates never contradict what was seen.
     *
     * @param seen what was recorded for the same vines in the same season, in any order
     */
    public static Optional<StageSeen> contradiction(List<StageSeen> seen, Bbch stage, LocalDate on) {
        for (StageSeen other : seen) {
            if (other.estimate()) {
                continue;
            }
            boolean wentBack = other.on().isBefore(on) && other.stage().compareTo(stage) > 0;
            boolean wasAhead = other.on().isAfter(on) && other.stage().compareTo(stage) < 0;
            if (wentBack || wasAhead) {
                return Optional.of(other);
            }
        }
        return Optional.empty();
    }
}
