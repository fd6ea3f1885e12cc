package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The vines of a block as neighbours: along a row to the next place, across to the place beside it in the next row.
 * Places without a vine, alive or dead, are left out and join nothing.
 */
public final class Stand {

    /** What stands in a place. */
    public enum Cell {
        NONE,
        ALIVE,
        DEAD
    }

    /**
     * One row.
     *
     * @param offset places by which the row starts later than a line square to all rows; rows of an odd-shaped block do
     *     not start side by side
     * @param cells what stands in places 1, 2, 3 ...
     */
    public record Line(int offset, List<Cell> cells) {
        public Line {
            cells = List.copyOf(cells);
        }
    }

    static final int NOBODY = -1;

    private final boolean[] dead;
    private final int[] next;
    private final int[] beside;

    private Stand(boolean[] dead, int[] next, int[] beside) {
        this.dead = dead;
        this.next = next;
        this.beside = beside;
    }

    /** The stand of rows given in their order across the block. */
    public static Stand of(List<Line> rows) {
        List<int[]> numbers = new ArrayList<>();
        int count = 0;
        for (Line row : rows) {
            int[] of = new int[row.cells().size()];
            for (int i = 0; i < of.length; i++) {
                of[i] = row.cells().get(i) == Cell.NONE ? NOBODY : count++;
            }
            numbers.add(of);
        }
        boolean[] dead = new boolean[count];
        int[] next = new int[count];
        int[] beside = new int[count];
        Arrays.fill(next, NOBODY);
        Arrays.fill(beside, NOBODY);
        for (int r = 0; r < rows.size(); r++) {
            int[] here = numbers.get(r);
            for (int i = 0; i < here.length; i++) {
                if (here[i] == NOBODY) {
                    continue;
                }
                dead[here[i]] = rows.get(r).cells().get(i) == Cell.DEAD;
                if (i + 1 < here.length) {
                    next[here[i]] = here[i + 1];
                }
                if (r + 1 < rows.size()) {
                    int[] there = numbers.get(r + 1);
                    int j = i + rows.get(r).offset() - rows.get(r + 1).offset();
                    if (j >= 0 && j < there.length) {
                        beside[here[i]] = there[j];
                    }
                }
            }
        }
        return new Stand(dead, next, beside);
    }

    int size() {
        return dead.length;
    }

    boolean[] dead() {
        return dead;
    }

    int[] next() {
        return next;
    }

    int[] beside() {
        return beside;
    }
}
