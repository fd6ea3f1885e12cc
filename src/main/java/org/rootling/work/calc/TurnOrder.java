package org.rootling.work.calc;

import ai.timefold.solver.core.api.domain.solution.PlanningEntityCollectionProperty;
import ai.timefold.solver.core.api.domain.solution.PlanningScore;
import ai.timefold.solver.core.api.domain.solution.PlanningSolution;
import ai.timefold.solver.core.api.domain.valuerange.CountableValueRange;
import ai.timefold.solver.core.api.domain.valuerange.ValueRangeFactory;
import ai.timefold.solver.core.api.domain.valuerange.ValueRangeProvider;
import ai.timefold.solver.core.api.score.buildin.bendablelong.BendableLongScore;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The turns of all jobs: what the solver changes and scores. */
@PlanningSolution
public class TurnOrder {
    @PlanningEntityCollectionProperty
    private List<Turn> turns = new ArrayList<>();

    @PlanningScore(bendableHardLevelsSize = 1, bendableSoftLevelsSize = 5)
    private @Nullable BendableLongScore score;

    private @Nullable TurnScore rater;

    /** For the solver, which makes copies. */
    public TurnOrder() {}

    TurnOrder(List<Turn> turns, TurnScore rater) {
        this.turns = turns;
        this.rater = rater;
    }

    @ValueRangeProvider(id = "ranks")
    public CountableValueRange<Integer> ranks() {
        return ValueRangeFactory.createIntValueRange(0, Math.max(1, turns.size()));
    }

    List<Turn> turns() {
        return turns;
    }

    @Nullable
    BendableLongScore score() {
        return score;
    }

    TurnScore rater() {
        if (rater == null) {
            throw new IllegalStateException("no rater");
        }
        return rater;
    }
}
