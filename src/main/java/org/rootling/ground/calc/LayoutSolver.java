package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/**
 * Fits straight, parallel rows to a field.
 *
 * <p>Lengths in metres, bearings in degrees clockwise from north (+y). On each line, at the row spacing, every longest
 * stretch that keeps the side margin to the boundary and to the exclusions, and the headland as free run along the row
 * to the boundary at both ends, takes {@code floor((length - 2 endGap) / vineSpacing + 1e-9) + 1} vines. Margins are
 * exact: about a corner that juts into the field the ground within the margin is a disc.
 *
 * <p><b>Bearing and offset given:</b> exact up to rounding (1e-9 m).
 *
 * <p><b>Offset null:</b> the true best for the bearing, see {@link OffsetSweep}; ties go to fewer segments, then to the
 * widest range of equal offsets, of which the middle is taken, so that the count survives a first row set out a little
 * off. With {@link Alignment#SQUARE} the best offsets for rows counted one by one are tried from the best down until no
 * other can win, up to {@value #SQUARE_TRIES}; the answer is at most one vine a stretch below the true best. A boundary
 * of more than {@value #EXACT_CORNERS} corners is searched in a simplified outline (within about a thousandth of the
 * field's width), and the best offsets found there are counted exactly in the real field.
 *
 * <p><b>Bearing null:</b> see {@link BearingSearch}.
 */
public final class LayoutSolver {
    /** Most places in a layout. */
    public static final int MOST_PLACES = 2_000_000;

    /** Fields of more corners are searched in a simplified outline, and what is found is counted in the real one. */
    static final int EXACT_CORNERS = 100;

    private static final int SQUARE_TRIES = 200;
    private static final int SIMPLE_TRIES = 8;
    /** 600 ft, the longest row for anchored end posts: Domoto, Iowa State University 2002 (check value T12). */
    private static final double LONG_ROW_M = 182.88;

    private final Field field;
    private final Field searched;
    private final LayoutSpec spec;
    private final Outermost outermost;

    private LayoutSolver(Field field, LayoutSpec spec) {
        this.field = field;
        this.searched = SimpleOutline.of(field, EXACT_CORNERS);
        this.spec = spec;
        this.outermost = new Outermost(field, spec.sideMarginM());
    }

    /**
     * The layout for a field.
     *
     * @throws Refused when the field would hold more than {@value #MOST_PLACES} places
     */
    public static Layout solve(Field field, LayoutSpec spec) {
        if (field.areaM2() / (spec.rowSpacingM() * spec.vineSpacingM()) > MOST_PLACES) {
            throw new Refused("ground.layout.too-many-places", MOST_PLACES).at("vineSpacingM");
        }
        LayoutSolver solver = new LayoutSolver(field, spec);
        if (solver.outermost.isEmpty()) {
            Double bearing = spec.rowBearingDeg();
            return solver.finish(
                    new Lines(List.of(), 0, 0, 0), bearing == null ? 0 : bearing, 0, bearing == null ? 0 : null);
        }
        Double bearing = spec.rowBearingDeg();
        if (bearing != null) {
            return solver.at(bearing, null);
        }
        BearingSearch.Found found = new BearingSearch(field, spec, solver::lines).run();
        Layout layout = solver.at(found.bearingDeg(), found.mostVines());
        return found.mostVines() == null
                ? layout.with(new Layout.Warning("ground.layout.warn.rough-search", List.of()))
                : layout;
    }

    private Layout at(double bearingDeg, @Nullable Integer most) {
        Turned turned = new Turned(field, bearingDeg, spec.sideMarginM());
        double first = outermost.across(turned, bearingDeg);
        Double offset = spec.firstRowOffsetM();
        Lines lines = offset != null ? lines(turned, first, offset) : best(turned, bearingDeg, first);
        // The sweep counts at the very offsets where a count changes, where rounding can hide one vine; the rows
        // decide.
        return finish(lines, bearingDeg, lines.offset(), most == null ? null : Math.max(most, lines.vines()));
    }

    /** The rows at one bearing, offset given or best. */
    private Lines lines(double bearingDeg) {
        Turned turned = new Turned(field, bearingDeg, spec.sideMarginM());
        double first = outermost.across(turned, bearingDeg);
        Double offset = spec.firstRowOffsetM();
        return offset != null ? lines(turned, first, offset) : best(turned, bearingDeg, first);
    }

    /** Rows on lines, not yet back in the field's own metres. */
    record Lines(List<LayoutRow> rows, int vines, double offset, int tooShort) {}

    private Lines best(Turned turned, double bearingDeg, double first) {
        boolean simple = !searched.equals(field);
        OffsetSweep sweep = new OffsetSweep(
                simple ? new Turned(searched, bearingDeg, spec.sideMarginM(), turned.middle) : turned, spec);
        boolean square = spec.alignment() == Alignment.SQUARE;
        Lines best = null;
        for (Fold.Choice choice : sweep.best(simple ? SIMPLE_TRIES : square ? SQUARE_TRIES : 16)) {
            if (best != null && !simple && choice.vines() <= best.vines()) {
                break;
            }
            Lines tried = lines(turned, first, offset(sweep.reference() + choice.phase() - first, choice.width()));
            if (best == null || tried.vines() > best.vines()) {
                best = tried;
            }
        }
        return best == null ? new Lines(List.of(), 0, 0, 0) : best;
    }

    private double offset(double beyond, double width) {
        double s = spec.rowSpacingM();
        double t = beyond - Math.floor(beyond / s) * s;
        if (s - t < 1e-9) {
            t = 0;
        }
        // where it makes no difference, whole millimetres are easier on the tape
        double neat = Math.rint(t * 1000) / 1000;
        return width > 0.004 && neat < s ? neat : t;
    }

    private Lines lines(Turned turned, double first, double offset) {
        RowLine line = new RowLine(turned, spec.headlandM());
        double last = turned.greatest();
        List<double[]> across = new ArrayList<>();
        List<double[]> along = new ArrayList<>();
        for (int k = 0; ; k++) {
            double c = first + offset + k * spec.rowSpacingM();
            if (c > last + Turned.EPS) {
                break;
            }
            for (double[] s : line.stretches(c)) {
                across.add(new double[] {c, k});
                along.add(s);
            }
        }
        return spec.alignment() == Alignment.SQUARE
                ? square(turned, across, along, offset)
                : own(turned, across, along, offset);
    }

    private Lines own(Turned turned, List<double[]> across, List<double[]> along, double offset) {
        Rows rows = new Rows(turned, offset);
        for (int i = 0; i < along.size(); i++) {
            double[] s = along.get(i);
            rows.add(across.get(i), s[0], spec.vines(s[1] - s[0]));
        }
        return rows.done();
    }

    private Lines square(Turned turned, List<double[]> across, List<double[]> along, double offset) {
        Rows rows = new Rows(turned, offset);
        double phase = SquarePhase.best(along, spec);
        for (int i = 0; i < along.size(); i++) {
            double[] fit = SquarePhase.fit(along.get(i), phase, spec);
            rows.add(across.get(i), fit[0], (int) fit[1]);
        }
        return rows.done();
    }

    private final class Rows {
        private final Turned turned;
        private final double offset;
        private final List<LayoutRow> rows = new ArrayList<>();
        private int vines;
        private int number;
        private int segment;
        private double line = -1;
        private int tooShort;

        Rows(Turned turned, double offset) {
            this.turned = turned;
            this.offset = offset;
        }

        void add(double[] across, double from, int count) {
            if (count == 0) {
                tooShort++;
                return;
            }
            if (across[1] != line) {
                line = across[1];
                number++;
                segment = 0;
            }
            segment++;
            double length = spec.length(count);
            rows.add(new LayoutRow(
                    number,
                    segment,
                    turned.point(across[0], from),
                    turned.point(across[0], from + length),
                    length,
                    count));
            vines += count;
        }

        Lines done() {
            return new Lines(rows, vines, offset, tooShort);
        }
    }

    private Layout finish(Lines lines, double bearingDeg, double offset, @Nullable Integer most) {
        List<LayoutRow> rows = lines.rows();
        List<Layout.Warning> warnings = new ArrayList<>();
        if (rows.isEmpty()) {
            warnings.add(new Layout.Warning("ground.layout.warn.none", List.of()));
        }
        if (lines.tooShort() > 0) {
            warnings.add(
                    new Layout.Warning("ground.layout.warn.short", List.of(lines.tooShort(), spec.minVinesPerRow())));
        }
        double longest = rows.stream().mapToDouble(LayoutRow::lengthM).max().orElse(0);
        if (longest > LONG_ROW_M) {
            warnings.add(new Layout.Warning("ground.layout.warn.long", List.of(Math.round(longest), 183)));
        }
        int count = rows.isEmpty() ? 0 : rows.get(rows.size() - 1).number();
        return new Layout(
                spec.bearing(bearingDeg).offset(offset), rows, count, lines.vines(), field.areaM2(), most, warnings);
    }
}
