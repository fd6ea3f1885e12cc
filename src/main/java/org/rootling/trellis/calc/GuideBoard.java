package org.rootling.trellis.calc;

/**
 * A right-angled board that shows the lean: held with the base level, its long side stands along the post or auger.
 *
 * @param baseCm level side, whole centimetres
 * @param riseCm upright side, whole centimetres
 */
public record GuideBoard(int baseCm, int riseCm) {
    private static final int MIN_RISE_CM = 50;
    private static final int MAX_RISE_CM = 120;
    /** Near enough: a hand-held auger is not guided more closely (common practice, no source). */
    private static final double NEAR_DEG = 0.1;

    /**
     * The smallest board between 50 and 120 cm high, in whole centimetres, that is within 0.1 degree of the lean, or
     * the nearest there is.
     */
    public static GuideBoard forLean(double leanDeg) {
        GuideBoard best = nearest(leanDeg, MIN_RISE_CM);
        for (int rise = MIN_RISE_CM; rise <= MAX_RISE_CM && best.errorDeg(leanDeg) > NEAR_DEG; rise++) {
            GuideBoard board = nearest(leanDeg, rise);
            if (board.errorDeg(leanDeg) < best.errorDeg(leanDeg)) {
                best = board;
            }
        }
        return best;
    }

    private static GuideBoard nearest(double leanDeg, int riseCm) {
        return new GuideBoard((int) Math.round(riseCm * Math.tan(Math.toRadians(leanDeg))), riseCm);
    }

    /** Lean that the board really shows, degrees from the vertical. */
    public double leanDeg() {
        return Math.toDegrees(Math.atan2(baseCm, riseCm));
    }

    /** Difference between the board and a wanted lean, degrees, never negative. */
    public double errorDeg(double wantedDeg) {
        return Math.abs(leanDeg() - wantedDeg);
    }
}
