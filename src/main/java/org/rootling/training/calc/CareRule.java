package org.rootling.training.calc;

import java.time.LocalDate;
import java.time.MonthDay;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * When a piece of care is due, how long one may take over it, and whether it comes round again.
 *
 * @param windowDays days after the due day that are still in time, 0 to 365
 * @param repeatDays days from round to round, 1 to 365; null for once
 * @param until northern date after which no new round begins that season; null for none
 */
public record CareRule(
        Timing timing,
        int windowDays,
        @Nullable Integer repeatDays,
        @Nullable MonthDay until) {

    /** The first year's list stays open this long after planting (first winter pruning included). */
    public static final int YEAR_ONE_DAYS = 430;

    public CareRule {
        if (windowDays < 0 || windowDays > 365) {
            throw new IllegalArgumentException("a window must be 0 to 365 days: " + windowDays);
        }
        if (repeatDays != null && (repeatDays < 1 || repeatDays > 365)) {
            throw new IllegalArgumentException("a round must come every 1 to 365 days: " + repeatDays);
        }
    }

    /** The round that counts today. */
    public Due on(CareFacts facts) {
        LocalDate today = facts.today();
        if (today.isAfter(facts.plantedLast().plusDays(YEAR_ONE_DAYS))) {
            return new Due(Due.Status.OVER, null, null, false);
        }
        Optional<Timing.Start> start = timing.start(facts);
        if (start.isEmpty()) {
            return new Due(Due.Status.WAITING, null, null, false);
        }
        LocalDate from = start.get().from();
        LocalDate last = start.get().fromLast();
        if (repeatDays != null && from.isBefore(today)) {
            LocalDate end = lastRoundDay(facts, from, today);
            long rounds = Math.max(0, ChronoUnit.DAYS.between(from, end)) / repeatDays;
            from = from.plusDays(rounds * repeatDays);
            if (last.isBefore(from)) {
                last = from;
            }
        }
        LocalDate lateAfter = last.plusDays(windowDays);
        return new Due(
                status(facts, from, lateAfter), from, lateAfter, start.get().estimate());
    }

    private LocalDate lastRoundDay(CareFacts facts, LocalDate from, LocalDate today) {
        if (until == null) {
            return today;
        }
        LocalDate end = Timing.OnDate.onOrAfter(until, from, facts.southern());
        return end.isBefore(today) ? end : today;
    }

    private Due.Status status(CareFacts facts, LocalDate from, LocalDate lateAfter) {
        LocalDate today = facts.today();
        if (from.isAfter(today)) {
            return Due.Status.AHEAD;
        }
        if (until != null
                && Timing.OnDate.onOrAfter(until, from, facts.southern()).isBefore(today)) {
            return Due.Status.OVER;
        }
        return lateAfter.isBefore(today) ? Due.Status.LATE : Due.Status.DUE;
    }
}
