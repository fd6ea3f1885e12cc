package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Rows fitted to a field.
 *
 * @param spec what was asked for, with bearing and offset as used
 * @param rows by number, then segment
 * @param rowCount lines with vines
 * @param vines in all rows
 * @param areaM2 inside the boundary, exclusions not taken off
 * @param mostVines when bearing and offset were searched: no layout of this kind at any bearing holds more than this;
 *     null when the bearing was given
 */
public record Layout(
        LayoutSpec spec,
        List<LayoutRow> rows,
        int rowCount,
        int vines,
        double areaM2,
        @Nullable Integer mostVines,
        List<Warning> warnings) {

    public Layout {
        rows = List.copyOf(rows);
        warnings = List.copyOf(warnings);
    }

    /** Something the grower should know about a layout, as a message key with its figures. */
    public record Warning(String key, List<Object> args) {}

    /** The same with one more warning. */
    Layout with(Warning more) {
        List<Warning> all = new ArrayList<>(warnings);
        all.add(more);
        return new Layout(spec, rows, rowCount, vines, areaM2, mostVines, all);
    }

    public double rowBearingDeg() {
        Double b = spec.rowBearingDeg();
        return b == null ? 0 : b;
    }

    public double firstRowOffsetM() {
        Double t = spec.firstRowOffsetM();
        return t == null ? 0 : t;
    }

    /** Vines for each hectare inside the boundary. */
    public double vinesPerHectare() {
        return vines * 10_000 / areaM2;
    }

    /** Metres of row from end post to end post. */
    public double rowMetres() {
        return rows.stream().mapToDouble(LayoutRow::lengthM).sum();
    }

    /** Two for every stretch. */
    public int endPosts() {
        return 2 * rows.size();
    }
}
