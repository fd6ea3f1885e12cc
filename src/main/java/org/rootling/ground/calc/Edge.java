package org.rootling.ground.calc;

import java.util.function.DoubleConsumer;

/**
 * One end of a stretch as a function of how far across its row line lies: a straight piece, {@code s0 + slope (c - c0)},
 * or half a circle, {@code s0 + side sqrt(r^2 - (c - c0)^2)}. Anchored at a point of its own so that nearly parallel
 * sides lose no digits.
 */
record Edge(double c0, double s0, double slope, double r, int side) {

    static Edge straight(double c1, double s1, double c2, double s2) {
        return new Edge(c1, s1, (s2 - s1) / (c2 - c1), 0, 0);
    }

    static Edge round(double[] middle, double radius, int side) {
        return new Edge(middle[0], middle[1], 0, radius, side);
    }

    Edge shifted(double along) {
        return new Edge(c0, s0 + along, slope, r, side);
    }

    boolean isStraight() {
        return side == 0;
    }

    double at(double c) {
        double d = c - c0;
        return side == 0 ? s0 + slope * d : s0 + side * Math.sqrt(Math.max(0, r * r - d * d));
    }

    double slope(double c) {
        if (side == 0) {
            return slope;
        }
        double d = c - c0;
        return -side * d / Math.sqrt(Math.max(1e-300, r * r - d * d));
    }

    /** Tells where two ends meet, strictly between lo and hi. */
    static void meetings(Edge a, Edge b, double lo, double hi, DoubleConsumer found) {
        if (a.side == 0 && b.side == 0) {
            double dlo = a.at(lo) - b.at(lo);
            double dhi = a.at(hi) - b.at(hi);
            if ((dlo < 0) != (dhi < 0)) {
                within(lo + (hi - lo) * (dlo / (dlo - dhi)), lo, hi, found);
            }
        } else if (a.side != 0 && b.side != 0) {
            arcs(a, b, lo, hi, found);
        } else {
            lineAndArc(a.side == 0 ? a : b, a.side == 0 ? b : a, lo, hi, found);
        }
    }

    private static void lineAndArc(Edge line, Edge arc, double lo, double hi, DoubleConsumer found) {
        // with x = c - c0 of the arc: (k + slope x)^2 + x^2 = r^2
        double k = line.at(arc.c0) - arc.s0;
        double a = 1 + line.slope * line.slope;
        double b = line.slope * k;
        double d = b * b - a * (k * k - arc.r * arc.r);
        if (d >= 0) {
            double root = Math.sqrt(d);
            within(arc.c0 + (-b - root) / a, lo, hi, found);
            within(arc.c0 + (-b + root) / a, lo, hi, found);
        }
    }

    private static void arcs(Edge a, Edge b, double lo, double hi, DoubleConsumer found) {
        double dc = b.c0 - a.c0;
        double ds = b.s0 - a.s0;
        double d = Math.hypot(dc, ds);
        if (d > 0 && d <= 2 * a.r) {
            double h = Math.sqrt(a.r * a.r - d * d / 4) / d;
            within((a.c0 + b.c0) / 2 + ds * h, lo, hi, found);
            within((a.c0 + b.c0) / 2 - ds * h, lo, hi, found);
        }
    }

    private static void within(double c, double lo, double hi, DoubleConsumer found) {
        if (c > lo && c < hi) {
            found.accept(c);
        }
    }
}
