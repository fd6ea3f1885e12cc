package org.rootling.ground;

/**
 * A spot on the ground in the block's own plane.
 *
 * @param x metres east of the block's origin
 * @param y metres north of the block's origin
 */
public record Point(double x, double y) {

    /** Straight distance in metres. */
    public double distance(Point other) {
        return Math.hypot(x - other.x, y - other.y);
    }

    /** This point moved by the given metres east and north. */
    public Point plus(double east, double north) {
        return new Point(x + east, y + north);
    }
}
