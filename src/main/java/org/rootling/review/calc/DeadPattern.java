package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * What the dead vines of a block look like, as leads to follow: more at the edge than inside, and long dead stretches.
 *
 * @param edge vines within {@link #EDGE} places of a row's end or in an outermost row
 * @param inner all others
 * @param edgeP two-sided p of Fisher's exact test, edge against inner; 1 where either is empty
 * @param stretches the longest runs of neighbouring dead in a row, longest first, at most {@link #STRETCHES}
 */
public record DeadPattern(Part edge, Part inner, double edgeP, List<Stretch> stretches) {

    /** How deep an edge is taken to be, in places: common practice, no source. */
    public static final int EDGE = 2;

    public static final int STRETCHES = 5;

    /** Shorter runs happen by chance in any row: common practice, no source. */
    private static final int SHORTEST = 3;

    public DeadPattern {
        stretches = List.copyOf(stretches);
    }

    /** Vines, and the dead among them. */
    public record Part(int vines, int dead) {}

    /**
     * Neighbouring dead vines in one row.
     *
     * @param row index of the row in the list given
     * @param from first place, counted from 1
     * @param to last place
     */
    public record Stretch(int row, int from, int to) {
        public int length() {
            return to - from + 1;
        }
    }

    public static DeadPattern of(List<Stand.Line> rows) {
        int edgeVines = 0;
        int edgeDead = 0;
        int innerVines = 0;
        int innerDead = 0;
        List<Stretch> stretches = new ArrayList<>();
        for (int r = 0; r < rows.size(); r++) {
            List<Stand.Cell> cells = rows.get(r).cells();
            boolean outermost = r == 0 || r == rows.size() - 1;
            int run = 0;
            for (int i = 0; i <= cells.size(); i++) {
                Stand.Cell cell = i < cells.size() ? cells.get(i) : Stand.Cell.NONE;
                boolean dead = cell == Stand.Cell.DEAD;
                if (dead) {
                    run++;
                } else {
                    if (run >= SHORTEST) {
                        stretches.add(new Stretch(r, i - run + 1, i));
                    }
                    run = 0;
                }
                if (cell == Stand.Cell.NONE) {
                    continue;
                }
                if (outermost || i < EDGE || i >= cells.size() - EDGE) {
                    edgeVines++;
                    edgeDead += dead ? 1 : 0;
                } else {
                    innerVines++;
                    innerDead += dead ? 1 : 0;
                }
            }
        }
        stretches.sort(Comparator.comparingInt(Stretch::length).reversed());
        return new DeadPattern(
                new Part(edgeVines, edgeDead),
                new Part(innerVines, innerDead),
                FisherExact.twoSided(edgeVines - edgeDead, edgeDead, innerVines - innerDead, innerDead),
                stretches.subList(0, Math.min(STRETCHES, stretches.size())));
    }

    /** Whether the edge has lost more than the inside, beyond chance at the given level. */
    public boolean edgeWorse(double level) {
        return edgeP < level
                && inner.vines() > 0
                && (long) edge.dead() * inner.vines() > (long) inner.dead() * edge.vines();
    }
}
