package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Finds the recorded days that a day to come may turn out like. */
final class RecordedDays {
    /** Days before and after in the calendar that are like a day; common practice, no source. */
    static final int REACH = 7;

    /** With fewer days than these to draw from the reach grows; with fewer in the whole record none is like any. */
    static final int FEWEST = 20;

    /** Days of a leap year, which has them all. */
    private static final int YEAR = 366;

    private RecordedDays() {}

    /**
     * By day from a start on, the places in a record of those days of any year that are no further from it in the calendar
     * than {@link #REACH}, or than it takes to have {@link #FEWEST} of them.
     */
    static int[][] like(LocalDate start, int days, List<LocalDate> record) {
        List<List<Integer>> byDay = new ArrayList<>();
        for (int i = 0; i < YEAR; i++) {
            byDay.add(new ArrayList<>());
        }
        for (int i = 0; i < record.size(); i++) {
            byDay.get(dayOfYear(record.get(i))).add(i);
        }
        int[][] ofYear = new int[YEAR][];
        for (int d = 0; d < YEAR; d++) {
            ofYear[d] = record.size() < FEWEST ? new int[0] : nearest(byDay, d);
        }
        int[][] like = new int[days][];
        for (int d = 0; d < days; d++) {
            like[d] = ofYear[dayOfYear(start.plusDays(d))];
        }
        return like;
    }

    /** By place in a record, the place of the day after; -1 where that is not recorded. */
    static int[] next(List<LocalDate> record) {
        Map<LocalDate, Integer> places = new HashMap<>();
        for (int i = 0; i < record.size(); i++) {
            places.put(record.get(i), i);
        }
        return record.stream()
                .mapToInt(date -> places.getOrDefault(date.plusDays(1), -1))
                .toArray();
    }

    private static int[] nearest(List<List<Integer>> byDay, int day) {
        List<Integer> found = new ArrayList<>(byDay.get(day));
        for (int reach = 1; reach <= YEAR / 2 && (reach <= REACH || found.size() < FEWEST); reach++) {
            found.addAll(byDay.get((day + reach) % YEAR));
            if (2 * reach < YEAR) {
                found.addAll(byDay.get((day - reach + YEAR) % YEAR));
            }
        }
        return found.stream().mapToInt(i -> i).toArray();
    }

    /** From 0; 29 February has its own in every year. */
    private static int dayOfYear(LocalDate date) {
        return date.getDayOfYear() - 1 + (!date.isLeapYear() && date.getMonthValue() > 2 ? 1 : 0);
    }
}
