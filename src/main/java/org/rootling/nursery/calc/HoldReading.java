package org.rootling.nursery.calc;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What the clock says of one hold on one day.
 *
 * @param on the day asked
 * @param allowances those that apply and are known, in the order of {@link AllowanceKind}
 * @param unknown those that apply but cannot be read because no weather is known
 * @param level the most pressing level
 * @param runsOutOn the earliest run-out of all, null if none
 * @param deciding which allowance that is
 * @param basis what that day rests on
 * @param choices what would gain time, most gain first
 */
public record HoldReading(
        LocalDate on,
        List<Allowance> allowances,
        List<AllowanceKind> unknown,
        HoldLevel level,
        @Nullable LocalDate runsOutOn,
        @Nullable AllowanceKind deciding,
        Basis basis,
        List<Choice> choices) {

    public HoldReading {
        allowances = List.copyOf(allowances);
        unknown = List.copyOf(unknown);
        choices = List.copyOf(choices);
    }

    /**
     * One allowance.
     *
     * @param used how much is used at the start of the day asked
     * @param allowed how much there is
     * @param unit "days", "degree days", "mm" or "hours"
     * @param share used over allowed
     * @param runsOutOn the first day that begins with the allowance used up, the cautious answer: with a spread, the
     *     earliest; null when it does not run out within a year or cannot be told
     * @param runsOutMiddle the median over earlier years (of two middle ones the earlier); the same day without a
     *     spread; null if most years never get there
     * @param runsOutLatest the latest over earlier years; null if some never get there
     * @param basis what the days rest on
     * @param years how many earlier years the spread is over, 0 without one
     * @param estimatedDays how many past days had no record and were filled in
     */
    public record Allowance(
            AllowanceKind kind,
            double used,
            double allowed,
            String unit,
            double share,
            @Nullable LocalDate runsOutOn,
            @Nullable LocalDate runsOutMiddle,
            @Nullable LocalDate runsOutLatest,
            Basis basis,
            int years,
            int estimatedDays,
            HoldLevel level) {}

    /** What can be done. */
    public enum Action {
        WATER,
        MOVE
    }

    /**
     * Something that gains time.
     *
     * @param where the store to move to, empty for watering
     * @param runsOutOn the hold's run-out afterwards, null for not within a year
     * @param gainDays days gained on the hold's run-out, or against the day asked if that has passed; null when it no
     *     longer runs out within a year
     */
    public record Choice(
            Action action,
            String where,
            @Nullable LocalDate runsOutOn,
            @Nullable Integer gainDays) {}
}
