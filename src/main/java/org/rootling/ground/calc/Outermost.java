package org.rootling.ground.calc;

import java.util.List;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.buffer.BufferParameters;

/**
 * Finds the outermost line of a bearing that still touches the boundary shrunk by the side margin. A buffer of the
 * boundary tells roughly where; halving between a line with and a line without allowed ground gives it to the last
 * digit.
 */
final class Outermost {
    private final Field bare;
    private final double margin;
    private final Coordinate[] shrunk;

    Outermost(Field field, double margin) {
        this.bare = new Field(field.boundary(), List.of());
        this.margin = margin;
        BufferParameters round = new BufferParameters(16);
        round.setSimplifyFactor(1e-4);
        Geometry hint = margin > 0 ? BufferOp.bufferOp(field.outline(), -margin, round) : field.outline();
        this.shrunk = hint.getCoordinates();
    }

    /** No ground is left at all. */
    boolean isEmpty() {
        return shrunk.length == 0;
    }

    /** Distance across of that line in the frame of the given view. */
    double across(Turned turned, double bearingDeg) {
        double hint = Double.MAX_VALUE;
        for (Coordinate p : shrunk) {
            hint = Math.min(hint, (p.x - turned.middle.x()) * turned.cos - (p.y - turned.middle.y()) * turned.sin);
        }
        if (margin == 0) {
            return turned.least();
        }
        Turned alone = new Turned(bare, bearingDeg, margin);
        RowLine line = new RowLine(alone, 0);
        double step = Math.max(1e-3, margin * 0.02);
        double without = hint - step;
        for (int i = 0; i < 60 && !line.stretches(without).isEmpty(); i++) {
            without -= step;
        }
        double with = hint + 1e-6;
        for (int i = 0; i < 60 && line.stretches(with).isEmpty(); i++) {
            with += step / 16;
        }
        for (int i = 0; i < 70; i++) {
            double half = (without + with) / 2;
            if (line.stretches(half).isEmpty()) {
                without = half;
            } else {
                with = half;
            }
        }
        // a side along the rows is allowed a hair early; take its exact place
        for (double[][] strip : alone.strips) {
            for (double c : strip[0]) {
                if (Math.abs(c - with) <= 2 * Turned.EPS) {
                    return c;
                }
            }
        }
        return with;
    }
}
