package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * What one straight line along the rows has to offer. Exact: the ground within the side margin of a side or corner is
 * taken as the strip or disc it is, not as a polygon with rounded corners approximated.
 *
 * <p>The allowed ground is a closed set: a line that runs exactly at the margin is allowed.
 */
final class RowLine {
    private final Turned turned;
    private final double headland;

    RowLine(Turned turned, double headland) {
        this.turned = turned;
        this.headland = headland;
    }

    /** The stretches for rows on the line at this distance across, by growing distance along: {from, to}. */
    List<double[]> stretches(double across) {
        List<double[]> inside = inside(0, across, true);
        if (inside.isEmpty()) {
            return inside;
        }
        List<double[]> taken = taken(across);
        List<double[]> found = new ArrayList<>();
        for (double[] run : inside) {
            double from = run[0];
            for (double[] t : taken) {
                if (t[1] <= from) {
                    continue;
                }
                if (t[0] >= run[1]) {
                    break;
                }
                keep(found, run, from, Math.min(t[0], run[1]));
                from = Math.max(from, t[1]);
            }
            keep(found, run, from, run[1]);
        }
        return found;
    }

    private void keep(List<double[]> found, double[] run, double from, double to) {
        if (to <= from) {
            return;
        }
        double start = Math.max(from, run[0] + headland);
        double end = Math.min(to, run[1] - headland);
        // a headland that just fits leaves no length, but one vine with no end gap would stand there
        if (end - start >= -Turned.EPS) {
            found.add(new double[] {start, Math.max(start, end)});
        }
    }

    /** Where the line lies in a ring; closed takes the ring's own edge as inside, open does not. */
    private List<double[]> inside(int ring, double across, boolean closed) {
        double[][] corners = turned.rings.get(ring);
        boolean touches = false;
        for (double c : corners[0]) {
            touches |= Math.abs(c - across) <= Turned.EPS;
        }
        List<double[]> above = crossings(corners, across, true);
        if (!touches) {
            return above;
        }
        List<double[]> below = crossings(corners, across, false);
        return closed ? union(above, below) : common(above, below);
    }

    /** Inside just beyond the line (above) or just before it. */
    private static List<double[]> crossings(double[][] corners, double across, boolean above) {
        double[] c = corners[0];
        double[] s = corners[1];
        int n = c.length;
        double[] hits = new double[n];
        int count = 0;
        double before = snapped(c[n - 1] - across);
        for (int i = 0, j = n - 1; i < n; j = i++) {
            double here = snapped(c[i] - across);
            if (beyond(before, above) != beyond(here, above)) {
                hits[count++] =
                        before == 0 ? s[j] : here == 0 ? s[i] : s[j] + (s[i] - s[j]) * (before / (before - here));
            }
            before = here;
        }
        Arrays.sort(hits, 0, count);
        List<double[]> runs = new ArrayList<>(count / 2);
        for (int i = 0; i + 1 < count; i += 2) {
            runs.add(new double[] {hits[i], hits[i + 1]});
        }
        return runs;
    }

    private static boolean beyond(double distance, boolean above) {
        return above ? distance > 0 : distance >= 0;
    }

    private static double snapped(double distance) {
        return Math.abs(distance) <= Turned.EPS ? 0 : distance;
    }

    private List<double[]> taken(double across) {
        List<double[]> taken = new ArrayList<>();
        double m = turned.margin;
        for (double[][] strip : turned.strips) {
            if (!clear(strip, across)) {
                double[] run = throughStrip(strip, across);
                if (run[1] > run[0]) {
                    taken.add(run);
                }
            }
        }
        for (double[] disc : turned.discs) {
            double d = Math.abs(across - disc[0]);
            if (d < m - Turned.EPS) {
                double half = Math.sqrt(m * m - d * d);
                taken.add(new double[] {disc[1] - half, disc[1] + half});
            }
        }
        for (int i = 1; i < turned.rings.size(); i++) {
            taken.addAll(inside(i, across, false));
        }
        taken.sort((a, b) -> Double.compare(a[0], b[0]));
        return taken;
    }

    /** No nearer to the side in the middle of this strip than the margin. */
    private boolean clear(double[][] strip, double across) {
        double a = (strip[0][0] + strip[0][3]) / 2 - across;
        double b = (strip[0][1] + strip[0][2]) / 2 - across;
        return a * b > 0 && Math.min(Math.abs(a), Math.abs(b)) >= turned.margin - Turned.EPS;
    }

    private static double[] throughStrip(double[][] strip, double across) {
        double from = Double.MAX_VALUE;
        double to = -Double.MAX_VALUE;
        for (int i = 0, j = 3; i < 4; j = i++) {
            double a = strip[0][j] - across;
            double b = strip[0][i] - across;
            if (a == 0) {
                from = Math.min(from, strip[1][j]);
                to = Math.max(to, strip[1][j]);
            }
            if ((a < 0) != (b < 0)) {
                double at = strip[1][j] + (strip[1][i] - strip[1][j]) * (a / (a - b));
                from = Math.min(from, at);
                to = Math.max(to, at);
            }
        }
        return new double[] {from, to};
    }

    private static List<double[]> union(List<double[]> a, List<double[]> b) {
        List<double[]> all = new ArrayList<>(a);
        all.addAll(b);
        all.sort((x, y) -> Double.compare(x[0], y[0]));
        List<double[]> merged = new ArrayList<>();
        for (double[] run : all) {
            double[] last = merged.isEmpty() ? null : merged.get(merged.size() - 1);
            if (last != null && run[0] <= last[1] + Turned.EPS) {
                last[1] = Math.max(last[1], run[1]);
            } else {
                merged.add(run.clone());
            }
        }
        return merged;
    }

    private static List<double[]> common(List<double[]> a, List<double[]> b) {
        List<double[]> both = new ArrayList<>();
        for (double[] x : a) {
            for (double[] y : b) {
                double from = Math.max(x[0], y[0]);
                double to = Math.min(x[1], y[1]);
                if (to > from) {
                    both.add(new double[] {from, to});
                }
            }
        }
        return both;
    }
}
