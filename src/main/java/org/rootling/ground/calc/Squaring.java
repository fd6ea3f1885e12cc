package org.rootling.ground.calc;

/**
 * The right angle by tape: 3-4-5 triangles and the diagonal of a corner. Lengths in metres, angles in degrees; the
 * cosine rule, exact.
 */
public final class Squaring {
    private Squaring() {}

    /**
     * A 3-4-5 triangle.
     *
     * @param shortM leg of three parts
     * @param longM leg of four parts
     * @param diagonalM five parts
     */
    public record Triangle(double shortM, double longM, double diagonalM) {}

    /** The largest triangle of whole metres a part whose legs fit these lengths and whose sides fit the tape. */
    public static Triangle largest(double shorterM, double longerM, double tapeM) {
        double part = Math.min(Math.min(Math.min(shorterM, longerM) / 3, Math.max(shorterM, longerM) / 4), tapeM / 5);
        double whole = part >= 1 ? Math.floor(part + 1e-9) : Math.floor(part * 10 + 1e-9) / 10;
        return new Triangle(3 * whole, 4 * whole, 5 * whole);
    }

    /** Diagonal of a square corner with these legs. */
    public static double diagonal(double a, double b) {
        return Math.hypot(a, b);
    }

    /** The corner's angle from its two legs and the measured diagonal. */
    public static double angle(double a, double b, double diagonal) {
        double cos = (a * a + b * b - diagonal * diagonal) / (2 * a * b);
        return Math.toDegrees(Math.acos(Math.max(-1, Math.min(1, cos))));
    }

    /** How far the angle turns, degrees, for each centimetre that the diagonal is out. */
    public static double degreesPerCentimetre(double a, double b) {
        return Math.toDegrees(0.01 * diagonal(a, b) / (a * b));
    }

    /** How far the end of a line of that length swings, metres, when its corner is out by that many degrees. */
    public static double swing(double lengthM, double degrees) {
        return 2 * lengthM * Math.sin(Math.toRadians(Math.abs(degrees)) / 2);
    }

    /** How far a diagonal may be out, metres, if the end of a line of that length may swing by so much. */
    public static double allowed(double a, double b, double lengthM, double mostSwingM) {
        return mostSwingM / lengthM * a * b / diagonal(a, b);
    }
}
