package org.rootling.weather.calc;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/**
 * A stretch of days, both ends included.
 *
 * @param first first day
 * @param last last day
 */
public record Span(LocalDate first, LocalDate last) {

    public Span {
        if (last.isBefore(first)) {
            throw new IllegalArgumentException("a span cannot end before it starts");
        }
    }

    /** Whether a day lies in it. */
    public boolean has(LocalDate day) {
        return !day.isBefore(first) && !day.isAfter(last);
    }

    /** Its length in days. */
    public int days() {
        return daysUntil(last);
    }

    /** How many of its days have come by a day, that day included. */
    public int daysUntil(LocalDate day) {
        LocalDate end = day.isAfter(last) ? last : day;
        return end.isBefore(first) ? 0 : Math.toIntExact(ChronoUnit.DAYS.between(first, end)) + 1;
    }
}
