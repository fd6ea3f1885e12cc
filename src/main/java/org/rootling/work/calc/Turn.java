package org.rootling.work.calc;

import ai.timefold.solver.core.api.domain.entity.PlanningEntity;
import ai.timefold.solver.core.api.domain.lookup.PlanningId;
import ai.timefold.solver.core.api.domain.valuerange.CountableValueRange;
import ai.timefold.solver.core.api.domain.valuerange.ValueRangeFactory;
import ai.timefold.solver.core.api.domain.valuerange.ValueRangeProvider;
import ai.timefold.solver.core.api.domain.variable.PlanningVariable;
import org.jspecify.annotations.Nullable;

/** What the search decides about one job: when it has its turn, and the most people to use. */
@PlanningEntity
public class Turn {
    @PlanningId
    private int job;

    private int least;
    private int most;

    @PlanningVariable(valueRangeProviderRefs = "ranks")
    private @Nullable Integer rank;

    @PlanningVariable(valueRangeProviderRefs = "crews")
    private @Nullable Integer crew;

    /** For the solver, which makes copies. */
    public Turn() {}

    Turn(int job, int least, int most, int rank, int crew) {
        this.job = job;
        this.least = least;
        this.most = most;
        this.rank = rank;
        this.crew = crew;
    }

    @ValueRangeProvider(id = "crews")
    public CountableValueRange<Integer> crews() {
        return ValueRangeFactory.createIntValueRange(least, most + 1);
    }

    public int job() {
        return job;
    }

    public int rank() {
        return rank == null ? 0 : rank;
    }

    public int crew() {
        return crew == null ? most : crew;
    }
}
