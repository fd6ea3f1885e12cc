package org.rootling.nursery;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

/** Something that puts days into a person's private calendar feed; any module may add one. */
public interface CalendarSource {

    /**
     * A day in the calendar.
     *
     * @param id stays the same while it is the same matter, so that calendar programs move it instead of adding another
     * @param path of the page to open, inside the vineyard, starting with a slash
     */
    record Day(String id, LocalDate on, String title, String text, String path) {}

    /** The days of one person of the current vineyard. */
    List<Day> days(UUID accountId);
}
