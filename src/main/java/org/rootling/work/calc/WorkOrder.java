package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Everything a schedule has to respect, from its first possible day on.
 *
 * @param lostDays days whose weather stops outdoor work that is not pinned to them
 * @param lostByKind in place of these, for kinds of jobs that stand more or less weather than others
 */
public record WorkOrder(
        LocalDate start,
        List<Helper> helpers,
        List<Tool> tools,
        List<Job> jobs,
        List<Pin> pins,
        Set<LocalDate> lostDays,
        Map<String, Set<LocalDate>> lostByKind) {
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
        lostByKind = Map.copyOf(lostByKind);
    }

    /** An order in which all outdoor work stands the same weather. */
    public WorkOrder(
            LocalDate start,
            List<Helper> helpers,
            List<Tool> tools,
            List<Job> jobs,
            List<Pin> pins,
            Set<LocalDate> lostDays) {
        this(start, helpers, tools, jobs, pins, lostDays, Map.of());
    }

    /** An order without lost days. */
    public WorkOrder(LocalDate start, List<Helper> helpers, List<Tool> tools, List<Job> jobs, List<Pin> pins) {
        this(start, helpers, tools, jobs, pins, Set.of(), Map.of());
    }

    /** Days whose weather stops a job that is not pinned to them. */
    Set<LocalDate> lostDays(Job job) {
        Set<LocalDate> own = job.kind() == null ? null : lostByKind.get(job.kind());
        return !job.outdoors() ? Set.of() : own == null ? lostDays : own;
    }
}
