package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.DoubleFunction;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.buffer.BufferParameters;
import org.rootling.ground.Point;

/**
 * The best bearing of the rows.
 *
 * <p>With the bearing the ends of all rows move along curves of their own, and the count is a step function of bearing
 * and offset whose steps are too many and too crooked to solve for one by one. So bearings are tried (every half degree,
 * along and across every long side), each with its true best offset, and the ground between two tried bearings is
 * covered by a proof instead of by more tries:
 *
 * <p>Turn a whole layout by an angle d about the middle of the field. No point of it moves more than R d, R being the
 * farthest corner, and no point of its headland runs more than (R + headland) d. So the turned layout fits a field with
 * its boundary moved out, and its exclusions moved in, by e = (R + headland) d, with the same spacings and margins; and
 * the best offset in that wider field at one bearing is a bound for every layout within d of that bearing. Ranges of
 * bearings whose bound does not exceed the best count found are done with; the most promising of the others are halved
 * and tried, until none is left, or e falls to {@value #FINEST_M} m, or the work allowed is used up.
 *
 * <p>What follows for the answer: {@link Layout#mostVines()} is the greatest bound left; the true best over all bearings
 * lies between the count found and that number, always. When they are equal nothing better exists. When they differ, it
 * depends on how far the halving came. Where it came to its end, a better layout could only be one that stops fitting if
 * the boundary moved in by {@value #FINEST_M} m, which is nearer than a field is taped. Where the work allowed ran out
 * first, a range may still be as wide as at the start, a quarter of a degree to either side, and e as large as 0.0044
 * (R + headland): a third of a metre on 1 ha, 3 m on 100 ha. The strip of that width along the boundary is what the bound
 * may count too much: at most about its area over (row spacing times vine spacing). Measured by the bench
 * {@code layout}, the bound stood 0.2 % above the count found on 1 ha, 0.3 % on 5 ha, 0.6 % on 20 ha, 0.8 % on 50 ha and
 * 1.0 % on 100 ha; so on 100 ha the answer is bounded, not proved, and the pages say by how many vines. Equal counts go
 * to fewer segments, then to the smaller of the bearings tried.
 *
 * <p>Fields of more than {@value #MOST_SIDES} corners are searched in a simplified outline, and only the best bearings
 * are counted in the real one; the bound then only says what the outline tells and is not given. With
 * {@link Alignment#SQUARE} the search counts each row from its own start, which is at most one vine a stretch too many.
 */
final class BearingSearch {
    /** Boundary movement, metres, below which ranges are no longer halved. */
    static final double FINEST_M = 0.02;

    static final int MOST_SIDES = 60;
    /** Steps after which the search ends with what it has, half of them for trying and half for proving: a few seconds. */
    private static final long MOST_WORK = 4_000_000;

    private static final double STEP = 0.5;
    private static final int RECOUNTED = 6;
    private static final int LONG_SIDES = 12;

    /**
     * The bearing found.
     *
     * @param mostVines bound over all bearings, or null when the work allowed did not reach so far
     */
    record Found(double bearingDeg, @Nullable Integer mostVines) {}

    private record Tried(double bearing, int vines, int segments) {}

    private record Range(double middle, double half, int level, int bound) {}

    private static final Comparator<Tried> BEST_FIRST = Comparator.comparingInt(Tried::vines)
            .reversed()
            .thenComparingInt(Tried::segments)
            .thenComparingDouble(Tried::bearing);

    private final Field field;
    private final Field real;
    private final LayoutSpec spec;
    private final DoubleFunction<LayoutSolver.Lines> count;
    private final double reach;
    private final Map<Integer, Field> wider = new HashMap<>();
    private final List<Tried> tried = new ArrayList<>();
    private int best = -1;
    private long work;

    BearingSearch(Field field, LayoutSpec spec, DoubleFunction<LayoutSolver.Lines> count) {
        this.real = field;
        this.field = SimpleOutline.of(field, MOST_SIDES);
        this.spec = spec;
        this.count = count;
        double[] box = Field.box(field.boundary());
        Point middle = new Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
        this.reach = spec.headlandM()
                + field.boundary().stream().mapToDouble(middle::distance).max().orElse(0);
    }

    Found run() {
        for (double bearing : coarse()) {
            if (work > MOST_WORK && best >= 0) {
                break;
            }
            attempt(bearing);
        }
        boolean exact = real.equals(field) && spec.alignment() == Alignment.ROW && spec.firstRowOffsetM() == null;
        Integer bound = halve();
        tried.sort(BEST_FIRST);
        Tried winner = tried.get(0);
        if (exact) {
            return new Found(winner.bearing(), bound);
        }
        return new Found(recount(), null);
    }

    /** The best few bearings counted as they will be planted. */
    private double recount() {
        List<Tried> again = new ArrayList<>();
        for (Tried t : tried.subList(0, Math.min(tried.size(), RECOUNTED))) {
            LayoutSolver.Lines lines = count.apply(t.bearing());
            again.add(new Tried(t.bearing(), lines.vines(), lines.rows().size()));
        }
        again.sort(BEST_FIRST);
        return again.get(0).bearing();
    }

    private Set<Double> sides() {
        TreeSet<Double> bearings = new TreeSet<>();
        List<Point> corners = field.boundary();
        List<Integer> longest = new ArrayList<>();
        for (int i = 0; i < corners.size(); i++) {
            longest.add(i);
        }
        longest.sort(Comparator.comparingDouble(i -> -corners.get(i).distance(corners.get((i + 1) % corners.size()))));
        for (int i : longest.subList(0, Math.min(LONG_SIDES, longest.size()))) {
            Point a = corners.get(i);
            Point b = corners.get((i + 1) % corners.size());
            double along = Math.toDegrees(Math.atan2(b.x() - a.x(), b.y() - a.y()));
            bearings.add(half(along));
            bearings.add(half(along + 90));
        }
        return bearings;
    }

    /** Coarse bearings first, so that a search cut short has still looked everywhere. */
    private List<Double> coarse() {
        List<Double> bearings = new ArrayList<>(sides());
        for (double step : new double[] {10, 2, STEP}) {
            for (double b = 0; b < 180; b += step) {
                if (!bearings.contains(b)) {
                    bearings.add(b);
                }
            }
        }
        return bearings;
    }

    private static double half(double degrees) {
        double b = degrees % 180;
        b = b < 0 ? b + 180 : b;
        // a side typed along an axis should give the axis, not the axis and a rounding
        double neat = Math.rint(b * 1e9) / 1e9;
        return neat >= 180 ? 0 : neat;
    }

    private void attempt(double bearing) {
        Tried t;
        if (spec.firstRowOffsetM() != null) {
            LayoutSolver.Lines lines = count.apply(bearing);
            t = new Tried(bearing, lines.vines(), lines.rows().size());
            work += lines.rows().size() * 20L + 2000;
        } else {
            Fold.Choice c = sweep(field, bearing);
            t = new Tried(bearing, c.vines(), c.segments());
        }
        tried.add(t);
        best = Math.max(best, t.vines());
    }

    private Fold.Choice sweep(Field in, double bearing) {
        OffsetSweep sweep = new OffsetSweep(new Turned(in, bearing, spec.sideMarginM()), spec);
        Fold.Choice choice = sweep.best(1).get(0);
        work += sweep.work() + 50L * in.boundary().size();
        return choice;
    }

    /** Halves the promising ranges; gives the greatest bound that is left. */
    private @Nullable Integer halve() {
        PriorityQueue<Range> open = new PriorityQueue<>(
                Comparator.comparingInt(Range::bound).reversed().thenComparingDouble(Range::middle));
        for (double b = STEP / 2; b < 180; b += STEP) {
            if (work > 2 * MOST_WORK) {
                return null;
            }
            open.add(range(b, STEP / 2, 0));
        }
        int left = best;
        while (!open.isEmpty()) {
            Range range = open.remove();
            if (range.bound() <= best) {
                break;
            }
            if (work > 2 * MOST_WORK || Math.toRadians(range.half()) * reach <= FINEST_M) {
                left = Math.max(left, range.bound());
                if (work > 2 * MOST_WORK) {
                    break;
                }
                continue;
            }
            attempt(range.middle());
            double half = range.half() / 2;
            open.add(range(range.middle() - half, half, range.level() + 1));
            open.add(range(range.middle() + half, half, range.level() + 1));
        }
        return left;
    }

    private Range range(double middle, double half, int level) {
        Field wide = wider.computeIfAbsent(level, l -> widened(Math.toRadians(half) * reach));
        return new Range(middle, half, level, sweep(wide, middle).vines());
    }

    private Field widened(double by) {
        // mitred corners lie outside the round ones; the hundredth covers the buffer's own simplifying
        BufferParameters mitred = new BufferParameters(4, BufferParameters.CAP_FLAT, BufferParameters.JOIN_MITRE, 5);
        mitred.setSimplifyFactor(1e-4);
        Geometry outline = BufferOp.bufferOp(field.outline(), by * 1.01, mitred);
        List<List<Point>> patches = new ArrayList<>();
        for (List<Point> patch : field.exclusions()) {
            for (Polygon part : Field.parts(BufferOp.bufferOp(Field.polygon(patch), -by * 1.01, mitred))) {
                patches.add(Field.corners(part.getExteriorRing()));
            }
        }
        return new Field(Field.corners(Field.parts(outline).get(0).getExteriorRing()), patches);
    }
}
