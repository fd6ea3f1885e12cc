package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A piece of work to be scheduled. It may go on over several stretches and days.
 *
 * @param quarters person quarter hours of work, at least 1
 * @param minPeople fewest people on it whenever it is worked on
 * @param maxPeople most people on it at once
 * @param after jobs that must be done before this one starts
 * @param waitDays 0: starts as soon as those are done; n: on the n-th calendar day after, at the
 *     earliest
 * @param due the last day on which its end is not late
 * @param weight what a late day costs, for example the number of vines that wait
 * @param group where it is (a block), to keep walks few
 * @param outdoors whether a day lost to the weather stops it
 * @param hold whether its due day is that of a hold: being late then counts before every other lateness
 * @param kind what is done, for the wishes of people
 */
public record Job(
        String id,
        int quarters,
        int minPeople,
        int maxPeople,
        @Nullable String skill,
        @Nullable String tool,
        List<String> after,
        int waitDays,
        @Nullable LocalDate earliest,
        @Nullable LocalDate due,
        long weight,
        @Nullable String group,
        boolean outdoors,
        boolean hold,
        @Nullable String kind) {
    public Job {
        after = List.copyOf(after);
    }

    /** Work that no weather stops and no hold waits for. */
    public Job(
            String id,
            int quarters,
            int minPeople,
            int maxPeople,
            @Nullable String skill,
            @Nullable String tool,
            List<String> after,
            int waitDays,
            @Nullable LocalDate earliest,
            @Nullable LocalDate due,
            long weight,
            @Nullable String group) {
        this(
                id, quarters, minPeople, maxPeople, skill, tool, after, waitDays, earliest, due, weight, group, false,
                false, null);
    }
}
