package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Survival of one group over time by the product-limit method (E. L. Kaplan and P. Meier, 1958, J. Am. Stat. Assoc.
 * 53:457-481). A vine last seen alive on a day still counts as at risk on that day.
 *
 * @param steps one for each day on which a vine died; none if none did (the curve then stays at 1)
 * @param median the first day on which survival is at or below one half; null while more than half are alive
 * @param lastDay the longest life known, in days: the curve says nothing beyond it
 */
public record SurvivalCurve(
        String group,
        long lives,
        long deaths,
        List<Step> steps,
        @Nullable Integer median,
        int lastDay) {

    /** Products of many factors may miss one half by rounding alone. */
    private static final double HALF = 0.5 + 1e-12;

    public SurvivalCurve {
        steps = List.copyOf(steps);
    }

    /**
     * A step of the curve.
     *
     * @param days whole days since planting
     * @param atRisk vines known alive just before
     * @param events vines that died on that day
     * @param survival share alive from that day on, 0 to 1
     * @param standardError of the survival, by M. Greenwood's formula (1926); null where the last vine at risk died,
     *     since the formula has no value there
     */
    public record Step(
            int days,
            long atRisk,
            long events,
            double survival,
            @Nullable Double standardError) {}

    /** The curve of the lives in the table. */
    public static SurvivalCurve of(String group, LifeTable table) {
        List<Step> steps = new ArrayList<>();
        long atRisk = table.lives();
        double survival = 1;
        double sum = 0;
        Integer median = null;
        for (var day : table.byDay().entrySet()) {
            long died = day.getValue()[0];
            long censored = day.getValue()[1];
            if (died > 0) {
                survival *= (double) (atRisk - died) / atRisk;
                Double error = null;
                if (died < atRisk) {
                    sum += (double) died / ((double) atRisk * (atRisk - died));
                    error = survival * Math.sqrt(sum);
                }
                steps.add(new Step(day.getKey(), atRisk, died, survival, error));
                if (median == null && survival <= HALF) {
                    median = day.getKey();
                }
            }
            atRisk -= died + censored;
        }
        return new SurvivalCurve(group, table.lives(), table.deaths(), steps, median, table.lastDay());
    }

    /** Share alive at the end of the given day, 1 before the first death. */
    public double at(int days) {
        double survival = 1;
        for (Step step : steps) {
            if (step.days() > days) {
                break;
            }
            survival = step.survival();
        }
        return survival;
    }
}
