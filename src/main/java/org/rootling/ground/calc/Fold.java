package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Adds up what all row lines together hold, for every offset at once: the changes along the field are folded onto one
 * row spacing and passed through in order.
 */
final class Fold {
    /** Bits for the number of an event; the rest of a word, but for the sign, tells its place on one spacing. */
    private static final int NUMBER_BITS = 24;

    private static final long PLACES = 1L << (63 - NUMBER_BITS);

    private final double spacing;
    private final double reference;
    private double passed;
    private long baseVines;
    private long baseSegments;
    private double[] phase = new double[256];
    private int[] atVines = new int[256];
    private int[] atSegments = new int[256];
    private int[] vines = new int[256];
    private int[] segments = new int[256];
    private int size;

    /**
     * Offsets that give the same count.
     *
     * @param phase middle of them, metres from the reference
     * @param width how far they reach in metres; 0 for a single one
     */
    record Choice(int vines, int segments, double phase, double width) {
        /** More vines, then fewer segments, then the choice that forgives more when the first row is set out. */
        boolean betterThan(Choice other) {
            if (vines != other.vines) {
                return vines > other.vines;
            }
            return segments != other.segments ? segments < other.segments : width > other.width + 1e-9;
        }
    }

    Fold(double spacing, double reference) {
        this.spacing = spacing;
        this.reference = reference;
        this.passed = reference;
    }

    int size() {
        return size;
    }

    /** The sweep goes on to this distance across with that many vines on a line. */
    void pass(double across, int vinesNow, int segmentsNow) {
        long lines = lines(across) - lines(passed);
        baseVines += lines * vinesNow;
        baseSegments += lines * segmentsNow;
        passed = across;
    }

    /** The lines of phase 0 after from and up to end hold that many more. */
    void from(double from, double end, int moreVines, int moreSegments) {
        long lines = lines(end) - lines(from);
        baseVines += lines * moreVines;
        baseSegments += lines * moreSegments;
    }

    /** The count changes: first what is added on the line itself, then what is added beyond it. */
    void event(double across, int onVines, int onSegments, int beyondVines, int beyondSegments) {
        if (onVines == 0 && onSegments == 0 && beyondVines == 0 && beyondSegments == 0) {
            return;
        }
        if (size == phase.length) {
            int more = size * 2;
            phase = Arrays.copyOf(phase, more);
            atVines = Arrays.copyOf(atVines, more);
            atSegments = Arrays.copyOf(atSegments, more);
            vines = Arrays.copyOf(vines, more);
            segments = Arrays.copyOf(segments, more);
        }
        double t = across - reference;
        phase[size] = t - Math.floor(t / spacing) * spacing;
        atVines[size] = onVines;
        atSegments[size] = onSegments;
        vines[size] = beyondVines;
        segments[size] = beyondSegments;
        size++;
    }

    private long lines(double across) {
        return (long) Math.floor((across - reference) / spacing);
    }

    /** The best choices, best first. */
    List<Choice> best(int most) {
        List<Choice> kept = new ArrayList<>();
        long v = baseVines;
        long s = baseSegments;
        if (size == 0) {
            kept.add(new Choice((int) v, (int) s, spacing / 2, spacing));
            return kept;
        }
        int[] order = order();
        int start = afterWidestGap(order);
        for (int i = 0; i < start; i++) {
            v += vines[order[i]];
            s += segments[order[i]];
        }
        int i = 0;
        while (i < size) {
            double here = unwound(order, start, i);
            long onVines = v;
            long onSegments = s;
            int j = i;
            while (j < size && unwound(order, start, j) - here <= OffsetSweep.SAME) {
                int e = order[(start + j) % size];
                onVines += atVines[e];
                onSegments += atSegments[e];
                v += vines[e];
                s += segments[e];
                j++;
            }
            keep(kept, new Choice((int) onVines, (int) onSegments, here, 0), most);
            double next = j < size ? unwound(order, start, j) : unwound(order, start, 0) + spacing;
            if (next - here > OffsetSweep.SAME) {
                keep(kept, new Choice((int) v, (int) s, (here + next) / 2, next - here), most);
            }
            i = j;
        }
        return kept;
    }

    private double unwound(int[] order, int start, int i) {
        int at = start + i;
        return at < size ? phase[order[at]] : phase[order[at - size]] + spacing;
    }

    /** Beginning where nothing happens, events that fall together on both sides of phase 0 are not torn apart. */
    private int afterWidestGap(int[] order) {
        int best = 0;
        double widest = phase[order[0]] + spacing - phase[order[size - 1]];
        for (int i = 1; i < size; i++) {
            double gap = phase[order[i]] - phase[order[i - 1]];
            if (gap > widest) {
                widest = gap;
                best = i;
            }
        }
        return best;
    }

    private static void keep(List<Choice> kept, Choice choice, int most) {
        if (kept.size() == most && !choice.betterThan(kept.get(most - 1))) {
            return;
        }
        int at = kept.size();
        while (at > 0 && choice.betterThan(kept.get(at - 1))) {
            at--;
        }
        kept.add(at, choice);
        if (kept.size() > most) {
            kept.remove(most);
        }
    }

    private int[] order() {
        // place and number in one word: one sort of plain numbers, finer than what falls together
        long[] keys = new long[size];
        double scale = PLACES / spacing;
        for (int i = 0; i < size; i++) {
            long place = Math.min(PLACES - 1, Math.max(0, (long) (phase[i] * scale)));
            keys[i] = (place << NUMBER_BITS) | i;
        }
        Arrays.sort(keys);
        int[] order = new int[size];
        for (int i = 0; i < size; i++) {
            order[i] = (int) (keys[i] & ((1 << NUMBER_BITS) - 1));
        }
        return order;
    }
}
