package org.rootling.ground.calc;

/** One stretch between two ends that stay the same from lo to hi: how many vines it holds, and where that changes. */
final class Span {
    private final Edge from;
    private final Edge to;
    private final double lo;
    private final double hi;
    private final double low;
    private final LayoutSpec spec;
    /** Vines just after lo. */
    final int first;

    private int[] steps = new int[8];
    private double[] places = new double[8];
    private int size;

    Span(Edge from, Edge to, double lo, double hi, LayoutSpec spec) {
        this.from = from;
        this.to = to;
        this.lo = lo;
        this.hi = hi;
        this.spec = spec;
        this.low = lowest();
        descend();
        ascend();
        this.first = size == 0 ? spec.vines(length((lo + hi) / 2)) : before(steps[0]);
    }

    /** Tells the fold each change; gives the vines just before hi. */
    int emit(Fold fold, double end) {
        int now = first;
        for (int i = 0; i < size; i++) {
            int before = before(steps[i]);
            int after = after(steps[i]);
            int at = Math.max(before, after);
            int sb = before > 0 ? 1 : 0;
            int sa = after > 0 ? 1 : 0;
            fold.event(places[i], at - before, Math.max(sb, sa) - sb, after - before, sa - sb);
            // the lines of phase 0 further on in this piece see the new count
            fold.from(places[i], end, after - before, sa - sb);
            now = after;
        }
        return now;
    }

    int work() {
        return from.isStraight() && to.isStraight() ? 2 : 30 + 30 * size;
    }

    // a step is k + 1 for a rise through k slots and -(k + 1) for a fall through them
    private int before(int step) {
        return step > 0 ? enough(step - 1) : enough(-step);
    }

    private int after(int step) {
        return step > 0 ? enough(step) : enough(-step - 1);
    }

    private int enough(int vines) {
        return vines >= spec.minVinesPerRow() ? vines : 0;
    }

    private double length(double c) {
        return to.at(c) - from.at(c);
    }

    private double slots(double c) {
        return (length(c) - 2 * spec.endGapM()) / spec.vineSpacingM() + 1e-9;
    }

    private double growth(double c) {
        return to.slope(c) - from.slope(c);
    }

    /** Where the stretch is shortest; its length falls before and grows after. */
    private double lowest() {
        if (growth(lo) >= 0) {
            return lo;
        }
        if (growth(hi) <= 0) {
            return hi;
        }
        double a = lo;
        double b = hi;
        for (int i = 0; i < 60; i++) {
            double m = (a + b) / 2;
            if (growth(m) < 0) {
                a = m;
            } else {
                b = m;
            }
        }
        return (a + b) / 2;
    }

    private void descend() {
        if (low > lo) {
            int bottom = (int) Math.max(Math.floor(slots(low)), spec.minVinesPerRow() - 2);
            for (int k = (int) Math.ceil(slots(lo)); k > bottom; k--) {
                solve(k, lo, low, false);
            }
        }
    }

    private void ascend() {
        if (low < hi) {
            int bottom = (int) Math.max(Math.floor(slots(low)), spec.minVinesPerRow() - 2);
            int top = (int) Math.ceil(slots(hi));
            for (int k = bottom + 1; k <= top; k++) {
                solve(k, low, hi, true);
            }
        }
    }

    private void solve(int k, double a, double b, boolean up) {
        double fa = slots(a) - k;
        double fb = slots(b) - k;
        if ((fa < 0) == (fb < 0)) {
            return;
        }
        double root;
        if (from.isStraight() && to.isStraight()) {
            root = a + (b - a) * (fa / (fa - fb));
        } else {
            double l = a;
            double h = b;
            for (int i = 0; i < 55; i++) {
                double m = (l + h) / 2;
                if ((slots(m) - k < 0) == (fa < 0)) {
                    l = m;
                } else {
                    h = m;
                }
            }
            root = (l + h) / 2;
        }
        if (root > lo && root < hi) {
            if (size == steps.length) {
                steps = java.util.Arrays.copyOf(steps, size * 2);
                places = java.util.Arrays.copyOf(places, size * 2);
            }
            steps[size] = up ? k + 1 : -(k + 1);
            places[size++] = root;
        }
    }
}
