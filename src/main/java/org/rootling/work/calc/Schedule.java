package org.rootling.work.calc;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An answer to a {@link WorkOrder}.
 *
 * @param stints who does what when, by date, time, helper
 * @param finish day on which the last job is done; null when nothing was to do
 * @param late jobs done after their due day
 * @param unplanned jobs that found no time within the horizon or whose pin could not be kept
 * @param bound no schedule at all can do better than this
 * @param proven whether the bound is reached, so that no search can find an earlier or less late one
 */
public record Schedule(
        List<Stint> stints,
        @Nullable LocalDate finish,
        List<Late> late,
        List<String> unplanned,
        Bound bound,
        boolean proven) {
    public Schedule {
        stints = List.copyOf(stints);
        late = List.copyOf(late);
        unplanned = List.copyOf(unplanned);
    }

    /** Sum of weight times days late. */
    public long weightedLateDays() {
        return late.stream().mapToLong(l -> l.weight() * l.days()).sum();
    }

    /** A job done {@code days} calendar days after its due day. */
    public record Late(String job, long days, long weight) {}

    /** True lower bounds on the finish and, separately, on the weighted late days. */
    public record Bound(@Nullable LocalDate finish, long weightedLateDays) {}
}
