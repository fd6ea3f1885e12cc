package org.rootling.ground.calc;

import org.rootling.ground.Point;

/** How much further a row could go. */
public final class RowRoom {
    private RowRoom() {}

    /**
     * Free metres beyond the end of a stretch, up to the headland, side margin or an exclusion; 0 when the stretch does
     * not lie in allowed ground at all.
     *
     * @param spec margins and bearing; the bearing may be against the stretch
     */
    public static double beyond(Field field, LayoutSpec spec, Point start, Point end) {
        double bearing = spec.rowBearingDeg() == null ? 0 : spec.rowBearingDeg();
        Turned turned = new Turned(field, bearing, spec.sideMarginM());
        double[] from = turned.seen(start);
        double[] to = turned.seen(end);
        boolean with = to[1] >= from[1];
        for (double[] free : new RowLine(turned, spec.headlandM()).stretches(to[0])) {
            double least = Math.min(from[1], to[1]);
            double most = Math.max(from[1], to[1]);
            if (free[0] <= least + 1e-6 && free[1] >= most - 1e-6) {
                return Math.max(0, with ? free[1] - most : least - free[0]);
            }
        }
        return 0;
    }

    /**
     * Parts a field by a line along the rows.
     *
     * @param at a point on the line
     * @return the two parts, the one on the left of the bearing first, or null when they are not one piece each
     */
    public static Field @org.jspecify.annotations.Nullable [] part(Field field, double bearingDeg, Point at) {
        double s = Math.sin(Math.toRadians(bearingDeg));
        double c = Math.cos(Math.toRadians(bearingDeg));
        double far = 10 * Field.WIDEST;
        Field[] parts = new Field[2];
        for (int side = 0; side < 2; side++) {
            double out = side == 0 ? -far : far;
            java.util.List<Point> half = java.util.List.of(
                    at.plus(-far * s, -far * c),
                    at.plus(far * s, far * c),
                    at.plus(far * s + out * c, far * c - out * s),
                    at.plus(-far * s + out * c, -far * c - out * s));
            var shape = field.outline().intersection(Field.polygon(half));
            var pieces = Field.parts(shape);
            if (pieces.size() != 1 || pieces.get(0).getArea() < Field.SMALLEST) {
                return null;
            }
            var piece = pieces.get(0);
            parts[side] = new Field(
                    Field.corners(piece.getExteriorRing()),
                    field.exclusions().stream()
                            .filter(p -> Field.polygon(p).intersects(piece))
                            .toList());
        }
        return parts;
    }
}
