package org.rootling.trellis.calc;

/**
 * A post at the end of a row, leaning away from the row. Right-angled triangles along the post; exact to rounding.
 *
 * @param lengthM whole length of the post, metres
 * @param leanDeg lean from the vertical, away from the row, degrees, 0 to 45
 * @param buriedM buried length, measured along the post, metres
 */
public record EndPost(double lengthM, double leanDeg, double buriedM) {
    /** Steepest lean accepted; beyond it a post works as a tie rather than as a post (common practice, no source). */
    public static final double MAX_LEAN_DEG = 45;

    public EndPost {
        if (!(lengthM > 0) || !(buriedM > 0) || !(buriedM < lengthM)) {
            throw new IllegalArgumentException("a post is partly buried: length " + lengthM + ", buried " + buriedM);
        }
        if (!(leanDeg >= 0 && leanDeg <= MAX_LEAN_DEG)) {
            throw new IllegalArgumentException("lean from 0 to 45 degrees: " + leanDeg);
        }
    }

    /** Length above the ground, along the post, metres. */
    public double aboveM() {
        return lengthM - buriedM;
    }

    /** Height of the top above the ground, metres. */
    public double topHeightM() {
        return aboveM() * Math.cos(leanRad());
    }

    /** How far the top stands outwards of the point where the post meets the ground, metres. */
    public double setBackM() {
        return aboveM() * Math.sin(leanRad());
    }

    /** Depth of the lower end below the ground, metres. */
    public double depthM() {
        return buriedM * Math.cos(leanRad());
    }

    /** How far the lower end lies inwards, under the row, of the point where the post meets the ground, metres. */
    public double buttInM() {
        return buriedM * Math.sin(leanRad());
    }

    /** How far outwards the post stands at a height above the ground, metres. */
    public double outAtM(double heightM) {
        return heightM * Math.tan(leanRad());
    }

    /** Distance along the post from the ground line to a height above the ground, metres. */
    public double alongM(double heightM) {
        return heightM / Math.cos(leanRad());
    }

    double leanRad() {
        return Math.toRadians(leanDeg);
    }
}
