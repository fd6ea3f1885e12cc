package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.rootling.ground.Point;

/**
 * A field seen along its rows: every corner as (across, along) for one bearing, about a middle near the field so that no
 * digits are lost. With b the bearing, along is (sin b, cos b) and across is (cos b, -sin b).
 */
final class Turned {
    /** Lines nearer than this to a corner, in metres, go through it; far below any tape, far above rounding. */
    static final double EPS = 1e-9;

    final double sin;
    final double cos;
    final Point middle;
    /** One entry per ring (the boundary first): across of each corner, then along of each corner. */
    final List<double[][]> rings = new ArrayList<>();
    /** Strips of ground within the side margin of a side, as four corners each: across, along. */
    final List<double[][]> strips = new ArrayList<>();
    /** Middles of the discs that the side margin leaves round corners: across, along. */
    final List<double[]> discs = new ArrayList<>();

    final double margin;

    Turned(Field field, double bearingDeg, double margin) {
        this(field, bearingDeg, margin, middle(field));
    }

    Turned(Field field, double bearingDeg, double margin, Point middle) {
        double turn = Math.toRadians(bearingDeg);
        this.sin = bearingDeg == 90 ? 1 : Math.sin(turn);
        this.cos = bearingDeg == 90 ? 0 : Math.cos(turn);
        this.middle = middle;
        this.margin = margin;
        add(field.boundary(), 1);
        for (List<Point> patch : field.exclusions()) {
            add(patch, -1);
        }
    }

    private static Point middle(Field field) {
        double[] box = Field.box(field.boundary());
        return new Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    }

    private void add(List<Point> corners, int inside) {
        int n = corners.size();
        double[] across = new double[n];
        double[] along = new double[n];
        for (int i = 0; i < n; i++) {
            double x = corners.get(i).x() - middle.x();
            double y = corners.get(i).y() - middle.y();
            across[i] = x * cos - y * sin;
            along[i] = x * sin + y * cos;
        }
        rings.add(new double[][] {across, along});
        if (margin > 0) {
            for (int i = 0; i < n; i++) {
                strip(across, along, i, (i + 1) % n);
                if (needsDisc(corners, i, inside)) {
                    discs.add(new double[] {across[i], along[i]});
                }
            }
        }
    }

    private void strip(double[] across, double[] along, int i, int j) {
        double length = Math.hypot(across[j] - across[i], along[j] - along[i]);
        double oc = margin * (along[j] - along[i]) / length;
        double ol = -margin * (across[j] - across[i]) / length;
        strips.add(new double[][] {
            {across[i] - oc, across[j] - oc, across[j] + oc, across[i] + oc},
            {along[i] - ol, along[j] - ol, along[j] + ol, along[i] + ol}
        });
    }

    /**
     * Where the ground bends away at a corner, the nearest point of the boundary is the corner itself. At a corner that
     * bends in, between sides not shorter than the margin, one of the sides is always nearer: no disc is needed.
     */
    private boolean needsDisc(List<Point> corners, int i, int inside) {
        int n = corners.size();
        Point a = corners.get((i + n - 1) % n);
        Point b = corners.get(i);
        Point c = corners.get((i + 1) % n);
        double bend = (b.x() - a.x()) * (c.y() - b.y()) - (b.y() - a.y()) * (c.x() - b.x());
        double ab = a.distance(b);
        double bc = b.distance(c);
        return inside * bend <= 1e-9 * ab * bc || ab < margin || bc < margin;
    }

    /** A point of the field as (across, along). */
    double[] seen(Point p) {
        double x = p.x() - middle.x();
        double y = p.y() - middle.y();
        return new double[] {x * cos - y * sin, x * sin + y * cos};
    }

    /** Back to the field's own metres. */
    Point point(double across, double along) {
        return new Point(middle.x() + across * cos + along * sin, middle.y() - across * sin + along * cos);
    }

    double least() {
        double least = Double.MAX_VALUE;
        for (double c : rings.get(0)[0]) {
            least = Math.min(least, c);
        }
        return least;
    }

    double greatest() {
        double greatest = -Double.MAX_VALUE;
        for (double c : rings.get(0)[0]) {
            greatest = Math.max(greatest, c);
        }
        return greatest;
    }
}
