package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.List;
import java.util.Set;

/**
 * Everything a schedule has to respect, from its first possible day on.
 *
 * @param lostDays days whose weather stops outdoor work that is not pinned to them
 */
public record WorkOrder(
        LocalDate start,
        List<Helper> helpers,
        List<Tool> tools,
        List<Job> jobs,
        List<Pin> pins,
        Set<LocalDate> lostDays) {
    /** Most people one order may hold: crews are bit sets of this width. */
    public static final int MOST_HELPERS = 64;
    /** Days after the start beyond which nothing is scheduled. */
    public static final int HORIZON_DAYS = 3660;
    /** Quarter hours from 08:00 to midnight. */
    public static final int DAY_QUARTERS = 64;

    public WorkOrder {
        helpers = List.copyOf(helpers);
        tools = List.copyOf(tools);
        jobs = List.copyOf(jobs);
        pins = List.copyOf(pins);
        lostDays = Set.copyOf(lostDays);
    }

    /** An order without lost days. */
    public WorkOrder(LocalDate start, List<Helper> helpers, List<Tool> tools, List<Job> jobs, List<Pin> pins) {
        this(start, helpers, tools, jobs, pins, Set.of());
    }
}
