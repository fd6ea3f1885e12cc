package org.rootling.work.calc;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Map;
import java.util.Set;

/**
 * A person who can be given work. Every working day starts at 08:00 and lasts the weekday's hours.
 *
 * @param quarters quarter hours of work by weekday; a missing weekday means none, 64 (16 h) at most
 * @param skills what the person may do beyond work that asks for no skill
 * @param wishes kinds of work the person would rather do, where it makes no other difference
 */
public record Helper(
        String id, Map<DayOfWeek, Integer> quarters, Set<String> skills, Set<LocalDate> daysOff, Set<String> wishes) {
    public Helper {
        quarters = Map.copyOf(quarters);
        skills = Set.copyOf(skills);
        daysOff = Set.copyOf(daysOff);
        wishes = Set.copyOf(wishes);
    }

    /** A person without wishes. */
    public Helper(String id, Map<DayOfWeek, Integer> quarters, Set<String> skills, Set<LocalDate> daysOff) {
        this(id, quarters, skills, daysOff, Set.of());
    }

    /** Quarter hours this person works on a date. */
    public int quartersOn(LocalDate date) {
        return daysOff.contains(date) ? 0 : quarters.getOrDefault(date.getDayOfWeek(), 0);
    }
}
