package org.rootling.work.calc;

import java.time.LocalDate;

/**
 * One person on one job without a break.
 *
 * @param from quarter hours after 08:00 at which it begins
 * @param to quarter hours after 08:00 at which it ends
 */
public record Stint(String job, String helper, LocalDate date, int from, int to) {
    /** Quarter hours of work. */
    public int quarters() {
        return to - from;
    }

    /** Wall clock of a quarter after 08:00, for example {@code 10:15}; the day's end is {@code 24:00}. */
    public static String clock(int quarter) {
        int minutes = 8 * 60 + quarter * 15;
        return (minutes / 60 < 10 ? "0" : "") + minutes / 60 + ":" + (minutes % 60 == 0 ? "00" : minutes % 60);
    }
}
