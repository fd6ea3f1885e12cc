package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleConsumer;

/**
 * The best offset of the rows for one bearing, found by the events at which a count changes.
 *
 * <p>As a row line moves across the field, the ends of its stretches run along straight pieces and arcs; between the
 * places where they change over, the length of a stretch is a convex function of the distance across, so that all
 * distances at which one vine more or less fits follow from solving for it. Rows repeat at the row spacing, so the
 * events of the whole field are folded onto one spacing and added up in one pass over them ({@link Fold}). The greatest
 * sum is the true best; nothing is sampled.
 *
 * <p>Time grows with the number of events, which is about the change of length along the boundary divided by the vine
 * spacing, and not with the number of offsets one might try.
 */
final class OffsetSweep {
    /** Events nearer than this, in metres, fall together. */
    static final double SAME = 1e-10;

    private final Turned turned;
    private final LayoutSpec spec;
    private final double headland;
    private final RowLine line;
    private final Fold fold;
    private int vinesNow;
    private int segmentsNow;
    private int @org.jspecify.annotations.Nullable [] onLine;
    private long work;

    OffsetSweep(Turned turned, LayoutSpec spec) {
        this.turned = turned;
        this.spec = spec;
        this.headland = spec.headlandM();
        this.line = new RowLine(turned, headland);
        this.fold = new Fold(spec.rowSpacingM(), turned.least());
        run();
    }

    /** The best choices of offset, as phases from {@link #reference()}. */
    List<Fold.Choice> best(int most) {
        return fold.best(most);
    }

    /** Distance across from which phases are measured. */
    double reference() {
        return turned.least();
    }

    /** Steps taken, a measure of time that is the same on every machine. */
    long work() {
        return work + fold.size();
    }

    private void run() {
        double[] levels = levels();
        int i = 0;
        while (i < levels.length) {
            int j = i + 1;
            while (j < levels.length && levels[j] - levels[i] <= Turned.EPS) {
                j++;
            }
            if (j - i > 1) {
                // a side lies along the rows here, and the line itself may offer more than either side of it
                onLine = countOn(levels[i]);
            }
            if (j < levels.length) {
                slab(levels[i], levels[j]);
            } else {
                change(levels[i], 0, 0);
            }
            i = j;
        }
    }

    private double[] levels() {
        Doubles all = new Doubles();
        for (double[][] ring : turned.rings) {
            all.addAll(ring[0]);
        }
        for (double[][] strip : turned.strips) {
            all.addAll(strip[0]);
        }
        for (double[] disc : turned.discs) {
            all.accept(disc[0] - turned.margin);
            all.accept(disc[0]);
            all.accept(disc[0] + turned.margin);
        }
        return all.sortedWithin(turned.least(), turned.greatest());
    }

    private int[] countOn(double across) {
        int[] count = {0, 0};
        for (double[] s : line.stretches(across)) {
            int n = spec.vines(s[1] - s[0]);
            count[0] += n;
            count[1] += n > 0 ? 1 : 0;
        }
        work += turned.strips.size() + 4L;
        return count;
    }

    private void slab(double lo, double hi) {
        double mid = (lo + hi) / 2;
        List<Edge> sides = spanning(turned.rings.get(0), mid);
        List<Edge[]> taken = new ArrayList<>();
        for (int i = 0; i + 1 < sides.size() && headland > 0; i += 2) {
            taken.add(new Edge[] {sides.get(i), sides.get(i).shifted(headland)});
            taken.add(new Edge[] {sides.get(i + 1).shifted(-headland), sides.get(i + 1)});
        }
        for (double[][] strip : turned.strips) {
            pairs(strip, mid, taken);
        }
        for (double[] disc : turned.discs) {
            if (Math.abs(mid - disc[0]) < turned.margin) {
                taken.add(new Edge[] {Edge.round(disc, turned.margin, -1), Edge.round(disc, turned.margin, 1)});
            }
        }
        for (int i = 1; i < turned.rings.size(); i++) {
            pairs(turned.rings.get(i), mid, taken);
        }
        double[] cuts = cuts(sides, taken, lo, hi);
        for (int i = 0; i + 1 < cuts.length; i++) {
            if (cuts[i + 1] - cuts[i] > SAME) {
                piece(sides, taken, cuts[i], cuts[i + 1]);
            }
        }
    }

    private static void pairs(double[][] ring, double mid, List<Edge[]> into) {
        List<Edge> edges = spanning(ring, mid);
        for (int i = 0; i + 1 < edges.size(); i += 2) {
            into.add(new Edge[] {edges.get(i), edges.get(i + 1)});
        }
    }

    private static List<Edge> spanning(double[][] ring, double mid) {
        double[] c = ring[0];
        double[] s = ring[1];
        List<Edge> edges = new ArrayList<>(4);
        for (int i = 0, j = c.length - 1; i < c.length; j = i++) {
            if ((c[j] < mid) != (c[i] < mid)) {
                edges.add(Edge.straight(c[j], s[j], c[i], s[i]));
            }
        }
        if (edges.size() > 1) {
            edges.sort((a, b) -> Double.compare(a.at(mid), b.at(mid)));
        }
        return edges;
    }

    private double[] cuts(List<Edge> sides, List<Edge[]> taken, double lo, double hi) {
        Doubles cuts = new Doubles();
        cuts.accept(lo);
        cuts.accept(hi);
        List<Edge> all = new ArrayList<>(sides);
        for (Edge[] t : taken) {
            all.add(t[0]);
            all.add(t[1]);
        }
        int n = all.size();
        double[] low = new double[n];
        double[] high = new double[n];
        for (int i = 0; i < n; i++) {
            double a = all.get(i).at(lo);
            double b = all.get(i).at(hi);
            low[i] = Math.min(a, b);
            high[i] = Math.max(a, b);
        }
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                if (low[i] <= high[j] && low[j] <= high[i]) {
                    Edge.meetings(all.get(i), all.get(j), lo, hi, cuts);
                }
            }
        }
        work += (long) n * n / 8 + n;
        return cuts.sortedWithin(lo, hi);
    }

    /** A piece in which every stretch keeps its two ends. */
    private void piece(List<Edge> sides, List<Edge[]> taken, double lo, double hi) {
        double mid = (lo + hi) / 2;
        taken.sort((a, b) -> Double.compare(a[0].at(mid), b[0].at(mid)));
        List<Span> spans = new ArrayList<>(2);
        for (int i = 0; i + 1 < sides.size(); i += 2) {
            Edge from = sides.get(i);
            double start = from.at(mid);
            double stop = sides.get(i + 1).at(mid);
            for (Edge[] t : taken) {
                double end = t[1].at(mid);
                if (end <= start) {
                    continue;
                }
                double begin = t[0].at(mid);
                if (begin >= stop) {
                    break;
                }
                if (begin > start) {
                    add(spans, from, t[0], lo, hi);
                }
                from = t[1];
                start = end;
            }
            if (start < stop) {
                add(spans, from, sides.get(i + 1), lo, hi);
            }
        }
        int vines = 0;
        int segments = 0;
        for (Span span : spans) {
            vines += span.first;
            segments += span.first > 0 ? 1 : 0;
        }
        change(lo, vines, segments);
        fold.pass(hi, vinesNow, segmentsNow);
        for (Span span : spans) {
            int last = span.emit(fold, hi);
            vinesNow += last - span.first;
            segmentsNow += (last > 0 ? 1 : 0) - (span.first > 0 ? 1 : 0);
        }
    }

    private void add(List<Span> spans, Edge from, Edge to, double lo, double hi) {
        double shortest = spec.length(spec.minVinesPerRow()) - 1e-6;
        // the length is convex, so it is nowhere greater than at the ends of the piece
        if (Math.max(to.at(lo) - from.at(lo), to.at(hi) - from.at(hi)) >= shortest) {
            Span span = new Span(from, to, lo, hi, spec);
            spans.add(span);
            work += span.work();
        }
    }

    /** The count changes at this distance across; on the line itself it is the greater of the two, or more. */
    private void change(double across, int vines, int segments) {
        fold.pass(across, vinesNow, segmentsNow);
        int[] at = better(vines, segments, vinesNow, segmentsNow);
        if (onLine != null) {
            at = better(onLine[0], onLine[1], at[0], at[1]);
            onLine = null;
        }
        fold.event(across, at[0] - vinesNow, at[1] - segmentsNow, vines - vinesNow, segments - segmentsNow);
        vinesNow = vines;
        segmentsNow = segments;
    }

    private static int[] better(int vines, int segments, int otherVines, int otherSegments) {
        boolean first = vines > otherVines || (vines == otherVines && segments <= otherSegments);
        return first ? new int[] {vines, segments} : new int[] {otherVines, otherSegments};
    }

    /** A growing list of numbers. */
    private static final class Doubles implements DoubleConsumer {
        private double[] values = new double[16];
        private int size;

        @Override
        public void accept(double value) {
            if (size == values.length) {
                values = Arrays.copyOf(values, size * 2);
            }
            values[size++] = value;
        }

        void addAll(double[] more) {
            for (double v : more) {
                accept(v);
            }
        }

        double[] sortedWithin(double least, double greatest) {
            int kept = 0;
            for (int i = 0; i < size; i++) {
                if (values[i] >= least && values[i] <= greatest) {
                    values[kept++] = values[i];
                }
            }
            double[] all = Arrays.copyOf(values, kept);
            Arrays.sort(all);
            return all;
        }
    }
}
