package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;

/**
 * Where the common lattice of vines along the rows has to lie so that most vines fit, when vines stand square across
 * the block. A stretch of free length L takes floor(L / v) vines, and one more while the lattice falls into the first L
 * mod v of it; the best lattice lies where most of these windows overlap. Exact.
 */
final class SquarePhase {
    private SquarePhase() {}

    /** The best phase, 0 to the vine spacing, for stretches {from, to} between end posts. */
    static double best(List<double[]> stretches, LayoutSpec spec) {
        double v = spec.vineSpacingM();
        List<double[]> marks = new ArrayList<>();
        int now = 0;
        for (double[] s : stretches) {
            double free = s[1] - s[0] - 2 * spec.endGapM();
            if (free < -1e-9 * v) {
                continue;
            }
            int few = (int) Math.floor(free / v + 1e-9);
            int gain = enough(few + 1, spec) - enough(few, spec);
            if (gain == 0) {
                continue;
            }
            double from = s[0] + spec.endGapM();
            double open = from - Math.floor(from / v) * v;
            double shut = open + Math.max(0, free - few * v);
            marks.add(new double[] {open, gain});
            marks.add(new double[] {shut >= v ? shut - v : shut, -gain});
            now += shut >= v ? gain : 0;
        }
        if (marks.isEmpty()) {
            return 0;
        }
        // at one place windows open before others shut
        marks.sort((a, b) -> {
            int byPlace = Math.abs(a[0] - b[0]) <= 1e-9 ? 0 : Double.compare(a[0], b[0]);
            return byPlace != 0 ? byPlace : Double.compare(b[1], a[1]);
        });
        int best = now;
        double bestPhase = 0;
        double bestWidth = marks.get(0)[0];
        for (int i = 0; i < marks.size(); i++) {
            now += (int) marks.get(i)[1];
            double next = i + 1 < marks.size() ? marks.get(i + 1)[0] : v;
            double width = Math.max(0, next - marks.get(i)[0]);
            if (now > best || (now == best && width > bestWidth + 1e-9)) {
                best = now;
                bestWidth = width;
                bestPhase = marks.get(i)[0] + width / 2;
            }
        }
        return bestPhase;
    }

    /** The stretch from end post to end post on the lattice, or null when too few vines fit: {from, vines}. */
    static double[] fit(double[] stretch, double phase, LayoutSpec spec) {
        double v = spec.vineSpacingM();
        double first = Math.ceil((stretch[0] + spec.endGapM() - phase) / v - 1e-9);
        double last = Math.floor((stretch[1] - spec.endGapM() - phase) / v + 1e-9);
        int vines = enough((int) Math.max(0, last - first + 1), spec);
        return new double[] {phase + first * v - spec.endGapM(), vines};
    }

    private static int enough(int vines, LayoutSpec spec) {
        return vines >= spec.minVinesPerRow() ? vines : 0;
    }
}
