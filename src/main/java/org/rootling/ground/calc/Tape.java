package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/**
 * A field of 3 to 12 corners from taped sides and diagonals, by least squares (observation equations of distances,
 * Gauss-Newton; any textbook of surveying adjustment, for instance Ghilani, Adjustment Computations, chapter on
 * trilateration; from memory).
 *
 * <p>Corner 1 is the origin, corner 2 lies on the +x axis, the others follow counter-clockwise. Lengths in metres. A
 * measure is taken to be good to {@code 0.02 m + 0.0005 x length} (one standard deviation of a careful fibreglass tape
 * on uneven ground; common practice, no source). The adjustment is exact to 1e-9 m; how well the field is known is told
 * by {@link Result#areaErrorM2}.
 */
public final class Tape {
    /** Corners a taped field can have. */
    public static final int FEWEST = 3;

    public static final int MOST = 12;
    private static final double FIXED = 0.02;
    private static final double GROWING = 0.0005;
    /** Above so many times the expected misfit the measures are said not to close. */
    private static final double BLUNDER = 3.5;

    /**
     * One taped length.
     *
     * @param from corner, from 1
     * @param to corner, from 1
     */
    public record Measure(int from, int to, double lengthM) {
        double sigma() {
            return FIXED + GROWING * lengthM;
        }
    }

    /**
     * A measure after the adjustment.
     *
     * @param misfitM adjusted less measured, metres: positive when the tape read too little for the others
     * @param times the misfit in terms of what it should be (standardised residual); 0 when nothing checks the measure
     */
    public record Checked(Measure measure, double misfitM, double times) {}

    /**
     * The field found.
     *
     * @param corners counter-clockwise from corner 1
     * @param areaErrorM2 one standard deviation of the area
     * @param spare measures more than needed; 0 means that nothing was checked
     * @param scale how large the misfits are in terms of what was expected; about 1 is right
     * @param suspect the measure that fits worst, or null when none stands out
     */
    public record Result(
            List<Point> corners,
            double areaM2,
            double areaErrorM2,
            int spare,
            double scale,
            List<Checked> measures,
            @Nullable Checked suspect) {}

    private final int n;
    private final List<Measure> measures;
    private final Set<Integer> inward;

    private Tape(int corners, List<Measure> measures, Set<Integer> inward) {
        this.n = corners;
        this.measures = List.copyOf(measures);
        this.inward = Set.copyOf(inward);
    }

    /**
     * Solves for the corners.
     *
     * @param inward corners that point into the field
     * @throws Refused at field {@code measures} when the measures do not fix the shape (it names a diagonal that would
     *     help) or cannot all be right (it names the worst)
     */
    public static Result solve(int corners, List<Measure> measures, Set<Integer> inward) {
        if (corners < FEWEST || corners > MOST) {
            throw new Refused("ground.tape.corners", FEWEST, MOST).at("corners");
        }
        for (int i = 0; i < measures.size(); i++) {
            Measure m = measures.get(i);
            boolean named = m.from() >= 1 && m.from() <= corners && m.to() >= 1 && m.to() <= corners;
            if (!named || m.from() == m.to() || !(m.lengthM() > 0.1 && m.lengthM() < 5000)) {
                throw new Refused("ground.tape.measure", i + 1, corners).at("measures");
            }
        }
        return new Tape(corners, measures, inward).solve();
    }

    private Result solve() {
        double[][] best = adjusted(measures);
        if (best == null) {
            throw unfixed(measures);
        }
        double misfit = misfit(best, measures);
        int spare = measures.size() - (2 * n - 3);
        double scale = spare > 0 ? Math.sqrt(misfit / spare) : 0;
        if (scale > BLUNDER) {
            throw blunder(spare);
        }
        return result(best, spare, scale);
    }

    // --- first places -----------------------------------------------------------------------------------------

    /** Every way to put the corners together from the measures, the best adjusted; null when they do not fix it. */
    private double @Nullable [] @Nullable [] adjusted(List<Measure> given) {
        if (length(given, 1, 2) == null) {
            return null;
        }
        List<double[][]> starts = new ArrayList<>();
        double[][] places = new double[n + 1][];
        places[1] = new double[] {0, 0};
        places[2] = new double[] {required(given, 1, 2), 0};
        place(given, places, 2, starts);
        double[][] best = null;
        double least = Double.MAX_VALUE;
        for (double[][] start : starts) {
            double[][] tried = adjust(start, given);
            double misfit = tried == null ? Double.MAX_VALUE : misfit(tried, given);
            if (tried != null && misfit < least && shaped(tried)) {
                least = misfit;
                best = tried;
            }
        }
        return best;
    }

    private void place(List<Measure> given, double[][] places, int placed, List<double[][]> found) {
        if (placed == n) {
            double[][] copy = new double[n + 1][];
            for (int i = 1; i <= n; i++) {
                copy[i] = places[i].clone();
            }
            found.add(copy);
            return;
        }
        int next = nextFixed(given, places);
        if (next == 0 || found.size() > 2000) {
            return;
        }
        List<Measure> to = toPlaced(given, places, next);
        for (double[] spot : crossings(places, to.get(0), to.get(1), next)) {
            places[next] = spot;
            if (fits(places, to, next)) {
                place(given, places, placed + 1, found);
            }
            places[next] = null;
        }
    }

    /** A third measure to a placed corner tells the two crossings apart, unless all of them are poor. */
    private static boolean fits(double[][] places, List<Measure> to, int corner) {
        for (Measure m : to) {
            double[] other = places[m.from() == corner ? m.to() : m.from()];
            double d = Math.hypot(places[corner][0] - other[0], places[corner][1] - other[1]);
            if (Math.abs(d - m.lengthM()) > 0.25 * m.lengthM() + 2) {
                return false;
            }
        }
        return true;
    }

    private int nextFixed(List<Measure> given, double[][] places) {
        int best = 0;
        int most = 1;
        for (int c = 1; c <= n; c++) {
            int known = places[c] == null ? toPlaced(given, places, c).size() : 0;
            if (known > most) {
                most = known;
                best = c;
            }
        }
        return best;
    }

    private static List<Measure> toPlaced(List<Measure> given, double[][] places, int corner) {
        List<Measure> to = new ArrayList<>();
        Set<Integer> seen = new HashSet<>();
        for (Measure m : given) {
            int other = m.from() == corner ? m.to() : m.to() == corner ? m.from() : 0;
            if (other > 0 && places[other] != null && seen.add(other)) {
                to.add(m);
            }
        }
        return to;
    }

    private static List<double[]> crossings(double[][] places, Measure a, Measure b, int corner) {
        double[] p = places[a.from() == corner ? a.to() : a.from()];
        double[] q = places[b.from() == corner ? b.to() : b.from()];
        double d = Math.hypot(q[0] - p[0], q[1] - p[1]);
        double along = (a.lengthM() * a.lengthM() - b.lengthM() * b.lengthM() + d * d) / (2 * d);
        // circles that just miss each other meet half way: the adjustment then shows by how much
        double across = Math.sqrt(Math.max(1e-4, a.lengthM() * a.lengthM() - along * along));
        double ex = (q[0] - p[0]) / d;
        double ey = (q[1] - p[1]) / d;
        return List.of(
                new double[] {p[0] + along * ex - across * ey, p[1] + along * ey + across * ex},
                new double[] {p[0] + along * ex + across * ey, p[1] + along * ey - across * ex});
    }

    /** Counter-clockwise, simple, and pointing inward where it is said to. */
    private boolean shaped(double[][] places) {
        List<Point> corners = points(places);
        if (!Field.polygon(corners).isValid() || Field.signedArea(corners) <= 0) {
            return false;
        }
        for (int i = 0; i < n; i++) {
            Point a = corners.get((i + n - 1) % n);
            Point b = corners.get(i);
            Point c = corners.get((i + 1) % n);
            double bend = (b.x() - a.x()) * (c.y() - b.y()) - (b.y() - a.y()) * (c.x() - b.x());
            double flat = 0.02 * a.distance(b) * b.distance(c);
            if (Math.abs(bend) > flat && (bend < 0) != inward.contains(i + 1)) {
                return false;
            }
        }
        return true;
    }

    private List<Point> points(double[][] places) {
        List<Point> corners = new ArrayList<>();
        for (int i = 1; i <= n; i++) {
            corners.add(new Point(places[i][0], places[i][1]));
        }
        return corners;
    }

    // --- least squares ----------------------------------------------------------------------------------------

    /** Index of an unknown: x of corner 2 is 0, then x and y of each further corner. */
    private static int unknown(int corner, boolean y) {
        return corner == 2 ? 0 : 1 + 2 * (corner - 3) + (y ? 1 : 0);
    }

    private double @Nullable [] @Nullable [] adjust(double[][] start, List<Measure> given) {
        double[][] at = new double[n + 1][];
        for (int i = 1; i <= n; i++) {
            at[i] = start[i].clone();
        }
        int size = 2 * n - 3;
        double damping = 1e-9;
        double before = misfit(at, given);
        for (int round = 0; round < 200; round++) {
            double[][] normal = new double[size][size];
            double[] right = new double[size];
            normal(at, given, normal, right);
            for (int i = 0; i < size; i++) {
                normal[i][i] *= 1 + damping;
            }
            double[] step = Matrices.solve(normal, right);
            if (step == null) {
                return null;
            }
            double[][] moved = moved(at, step);
            double after = misfit(moved, given);
            if (after <= before + 1e-15) {
                at = moved;
                double largest = 0;
                for (double s : step) {
                    largest = Math.max(largest, Math.abs(s));
                }
                damping = Math.max(1e-12, damping / 10);
                before = after;
                if (largest < 1e-11) {
                    break;
                }
            } else {
                damping *= 10;
                if (damping > 1e9) {
                    break;
                }
            }
        }
        return at;
    }

    private double[][] moved(double[][] at, double[] step) {
        double[][] moved = new double[n + 1][];
        moved[1] = at[1].clone();
        for (int c = 2; c <= n; c++) {
            moved[c] =
                    new double[] {at[c][0] + step[unknown(c, false)], c == 2 ? 0 : at[c][1] + step[unknown(c, true)]};
        }
        return moved;
    }

    private void normal(double[][] at, List<Measure> given, double[][] normal, double[] right) {
        for (Measure m : given) {
            double[] row = row(at, m, normal.length);
            double weight = 1 / (m.sigma() * m.sigma());
            double missing = m.lengthM() - length(at, m);
            for (int i = 0; i < row.length; i++) {
                for (int j = 0; row[i] != 0 && j < row.length; j++) {
                    normal[i][j] += weight * row[i] * row[j];
                }
                right[i] += weight * row[i] * missing;
            }
        }
    }

    private static double[] row(double[][] at, Measure m, int size) {
        double[] row = new double[size];
        double d = length(at, m);
        double ex = (at[m.to()][0] - at[m.from()][0]) / d;
        double ey = (at[m.to()][1] - at[m.from()][1]) / d;
        put(row, m.to(), ex, ey);
        put(row, m.from(), -ex, -ey);
        return row;
    }

    private static void put(double[] row, int corner, double dx, double dy) {
        if (corner >= 2) {
            row[unknown(corner, false)] += dx;
        }
        if (corner >= 3) {
            row[unknown(corner, true)] += dy;
        }
    }

    private static double length(double[][] at, Measure m) {
        return Math.hypot(at[m.to()][0] - at[m.from()][0], at[m.to()][1] - at[m.from()][1]);
    }

    private static double misfit(double[][] at, List<Measure> given) {
        double sum = 0;
        for (Measure m : given) {
            double v = (length(at, m) - m.lengthM()) / m.sigma();
            sum += v * v;
        }
        return sum;
    }

    // --- what is said about it --------------------------------------------------------------------------------

    private Result result(double[][] at, int spare, double scale) {
        int size = 2 * n - 3;
        double[][] normal = new double[size][size];
        normal(at, measures, normal, new double[size]);
        double[][] cofactors = Matrices.inverse(normal);
        List<Checked> checked = new ArrayList<>();
        Checked suspect = null;
        for (Measure m : measures) {
            double[] row = row(at, m, size);
            double left = m.sigma() * m.sigma() - Matrices.quadratic(row, cofactors);
            double misfit = length(at, m) - m.lengthM();
            double times = left > 1e-9 * m.sigma() ? misfit / Math.sqrt(left) : 0;
            Checked c = new Checked(m, misfit, times);
            checked.add(c);
            if (Math.abs(times) > 2.5 && (suspect == null || Math.abs(times) > Math.abs(suspect.times()))) {
                suspect = c;
            }
        }
        List<Point> corners = points(at);
        double[] slope = new double[size];
        for (int i = 0; i < n; i++) {
            Point before = corners.get((i + n - 1) % n);
            Point after = corners.get((i + 1) % n);
            put(slope, i + 1, (after.y() - before.y()) / 2, (before.x() - after.x()) / 2);
        }
        double error = Math.sqrt(Matrices.quadratic(slope, cofactors)) * Math.max(1, scale);
        return new Result(corners, Field.signedArea(corners), error, spare, scale, checked, suspect);
    }

    /** Says which diagonal would fix the shape. */
    private Refused unfixed(List<Measure> given) {
        for (int side = 1; side <= n; side++) {
            int next = side % n + 1;
            if (length(given, side, next) == null) {
                return new Refused("ground.tape.side-missing", side, next).at("measures");
            }
        }
        double[][] places = new double[n + 1][];
        places[1] = new double[2];
        places[2] = new double[2];
        int next;
        while ((next = nextFixed(given, places)) > 0) {
            places[next] = new double[2];
        }
        for (int c = 3; c <= n; c++) {
            if (places[c] == null) {
                for (int other = 1; other <= n; other++) {
                    if (places[other] != null && length(given, c, other) == null) {
                        return new Refused("ground.tape.not-fixed", other, c).at("measures");
                    }
                }
            }
        }
        return new Refused("ground.tape.no-shape").at("measures");
    }

    /** Leaves out each measure in turn; the one without which the others agree best is the one to doubt. */
    private Refused blunder(int spare) {
        Measure worst = measures.get(0);
        double least = Double.MAX_VALUE;
        double apart = 0;
        for (Measure m : measures) {
            List<Measure> others = new ArrayList<>(measures);
            others.remove(m);
            double[][] without = adjusted(others);
            if (without != null) {
                double left = misfit(without, others);
                double off = m.lengthM() - length(without, m);
                if (left < least - 1e-6 || (left < least + 1e-6 && Math.abs(off) < Math.abs(apart))) {
                    least = left;
                    worst = m;
                    apart = off;
                }
            }
        }
        int[] more = spareDiagonal();
        String key = spare > 1 ? "ground.tape.blunder" : "ground.tape.blunder-one-of";
        return new Refused(
                        key + (apart > 0 ? "-long" : "-short"),
                        worst.from(),
                        worst.to(),
                        Math.rint(Math.abs(apart) * 100) / 100,
                        more[0],
                        more[1])
                .at("measures");
    }

    private int[] spareDiagonal() {
        for (int i = 1; i <= n; i++) {
            for (int j = i + 2; j <= n; j++) {
                if (length(measures, i, j) == null && !(i == 1 && j == n)) {
                    return new int[] {i, j};
                }
            }
        }
        return new int[] {1, Math.min(3, n)};
    }

    private static @Nullable Double length(List<Measure> given, int a, int b) {
        for (Measure m : given) {
            if ((m.from() == a && m.to() == b) || (m.from() == b && m.to() == a)) {
                return m.lengthM();
            }
        }
        return null;
    }

    private static double required(List<Measure> given, int a, int b) {
        Double length = length(given, a, b);
        if (length == null) {
            throw new IllegalStateException("no measure from " + a + " to " + b);
        }
        return length;
    }
}
