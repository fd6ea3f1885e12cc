package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.List;

/** Everything a schedule has to respect, from its first possible day on. */
public record WorkOrder(LocalDate start, List<Helper> helpers, List<Tool> tools, List<Job> jobs, List<Pin> pins) {
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
    }
}
