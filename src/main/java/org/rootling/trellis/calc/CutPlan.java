package org.rootling.trellis.calc;

import java.util.List;

/**
 * Runs of wire cut from coils one after another; where a coil ends within a run, the next one is joined on.
 *
 * @param metres wire used up: all runs, what joins take, and ends too short to join
 * @param coils coils opened
 * @param joins joins made
 */
public record CutPlan(double metres, int coils, int joins) {
    /** Wire lost in a join, metres (rule of thumb). */
    public static final double JOIN_M = 0.3;
    /** A remainder shorter than this is not worth a join and is left over, metres (rule of thumb). */
    private static final double SCRAP_M = 2;

    /** @param runsM length of each run, tails included, metres */
    public static CutPlan of(List<Double> runsM, double coilM) {
        if (!(coilM > 2 * (SCRAP_M + JOIN_M))) {
            throw new IllegalArgumentException("coil of " + coilM + " m");
        }
        double metres = 0;
        double left = 0;
        int coils = 0;
        int joins = 0;
        for (double run : runsM) {
            double need = run;
            metres += run;
            boolean begun = false;
            while (need > 1e-9) {
                if (left < Math.min(need, SCRAP_M)) {
                    metres += left;
                    coils++;
                    left = coilM;
                }
                if (begun) {
                    joins++;
                    need += JOIN_M;
                    metres += JOIN_M;
                }
                double cut = Math.min(need, left);
                left -= cut;
                need -= cut;
                begun = true;
            }
        }
        return new CutPlan(metres, coils, joins);
    }
}
