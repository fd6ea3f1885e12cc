package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.simplify.TopologyPreservingSimplifier;
import org.rootling.ground.Point;

/** A field with few enough corners to be searched in the time a person waits. */
final class SimpleOutline {
    private SimpleOutline() {}

    /** The field itself when boundary and exclusions together have no more corners than that, else one much like it. */
    static Field of(Field field, int most) {
        if (corners(field) <= most) {
            return field;
        }
        Polygon outline = simple(field.outline(), most * 2 / 3);
        List<List<Point>> patches = new ArrayList<>();
        int left = most - outline.getNumPoints() + 1;
        List<List<Point>> largest = new ArrayList<>(field.exclusions());
        largest.sort((a, b) -> Double.compare(Field.signedArea(b), Field.signedArea(a)));
        for (List<Point> patch : largest) {
            if (left < 4) {
                break;
            }
            List<Point> less = patch.size() <= 8
                    ? patch
                    : Field.corners(simple(Field.polygon(patch), 8).getExteriorRing());
            patches.add(less);
            left -= less.size();
        }
        return new Field(Field.corners(outline.getExteriorRing()), patches);
    }

    private static Polygon simple(Polygon shape, int most) {
        Polygon less = shape;
        double tolerance = Math.sqrt(shape.getArea()) / 2000;
        for (int i = 0; i < 14 && less.getNumPoints() > most; i++, tolerance *= 1.7) {
            Geometry tried = TopologyPreservingSimplifier.simplify(shape, tolerance);
            if (tried instanceof Polygon p && p.getArea() > 0.5 * shape.getArea()) {
                less = p;
            }
        }
        return less.getNumPoints() <= most + 1
                ? less
                : (Polygon) shape.convexHull().getEnvelope();
    }

    private static int corners(Field field) {
        return field.boundary().size()
                + field.exclusions().stream().mapToInt(List::size).sum();
    }
}
