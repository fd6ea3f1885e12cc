package org.rootling.work.calc;

import ai.timefold.solver.core.api.score.buildin.bendablelong.BendableLongScore;
import ai.timefold.solver.core.api.score.calculator.EasyScoreCalculator;

/** Lets the solver score an order of turns by the schedule that comes of it. */
public class TurnCalculator implements EasyScoreCalculator<TurnOrder, BendableLongScore> {
    @Override
    public BendableLongScore calculateScore(TurnOrder order) {
        return order.rater().score(order.turns());
    }
}
