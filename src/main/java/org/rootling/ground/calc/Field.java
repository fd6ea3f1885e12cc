package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.valid.IsValidOp;
import org.locationtech.jts.operation.valid.TopologyValidationError;
import org.rootling.ground.Point;
import org.rootling.platform.Measure;
import org.rootling.platform.Refused;

/**
 * A field that has been checked: one simple polygon and the patches in it that nothing may touch.
 *
 * <p>Corners are in metres, counter-clockwise, the first not repeated at the end; consecutive corners are at least
 * {@value #SHORTEST_SIDE} m apart. A clockwise or closed ring is put right silently, everything else that is wrong is
 * refused with the place where it is wrong.
 *
 * @param boundary corners of the field
 * @param exclusions corners of trees, wells, wet spots
 */
public record Field(List<Point> boundary, List<List<Point>> exclusions) {
    /** Most corners of the boundary and all exclusions together. */
    public static final int MOST_CORNERS = 2000;
    /** Widest extent of a field in metres; beyond it a flat plan is no longer a fair picture. */
    public static final double WIDEST = 20_000;
    /** Corners nearer than this, in metres, are the same corner. */
    public static final double SHORTEST_SIDE = 0.001;
    /** Smallest field in square metres. */
    public static final double SMALLEST = 1;

    private static final double THINNEST = 0.01;
    private static final GeometryFactory SHAPES = new GeometryFactory();

    public Field {
        boundary = List.copyOf(boundary);
        exclusions = exclusions.stream().map(List::copyOf).toList();
    }

    /**
     * Checks corners and makes a field of them.
     *
     * @throws Refused naming what is wrong, at field {@code boundary} or {@code exclusions}
     */
    public static Field of(List<Point> boundary, List<List<Point>> exclusions) {
        int corners = boundary.size() + exclusions.stream().mapToInt(List::size).sum();
        if (corners > MOST_CORNERS) {
            throw new Refused("ground.polygon.too-many-corners", corners, MOST_CORNERS).at("boundary");
        }
        List<Point> outer = ring(boundary, "boundary", SMALLEST);
        Polygon whole = polygon(outer);
        List<List<Point>> inner = new ArrayList<>();
        for (int i = 0; i < exclusions.size(); i++) {
            List<Point> patch = ring(exclusions.get(i), "exclusions", 1e-4);
            if (!polygon(patch).intersects(whole)) {
                throw new Refused("ground.polygon.exclusion-outside", i + 1).at("exclusions");
            }
            inner.add(patch);
        }
        return new Field(outer, inner);
    }

    private static List<Point> ring(List<Point> given, String field, double smallest) {
        List<Point> corners = distinct(given, field);
        if (corners.size() < 3) {
            throw new Refused("ground.polygon.too-few-corners", corners.size()).at(field);
        }
        double width = extent(corners);
        if (width > WIDEST) {
            throw new Refused(
                            "ground.polygon.too-wide",
                            Measure.METRE.amount(Math.rint(width)),
                            Measure.METRE.amount(WIDEST))
                    .at(field);
        }
        // the bow-tie has no net area either, and the crossing is the better news
        Point crossing = crossing(corners);
        if (crossing != null) {
            throw new Refused(
                            "ground.polygon.crosses-itself",
                            Measure.METRE.amount(round(crossing.x())),
                            Measure.METRE.amount(round(crossing.y())))
                    .at(field);
        }
        double area = signedArea(corners);
        if (Math.abs(area) < smallest || Math.abs(area) < THINNEST * width) {
            throw new Refused("ground.polygon.no-area", Measure.SQUARE_METRE.amount(round(Math.abs(area)))).at(field);
        }
        if (area < 0) {
            List<Point> turned = new ArrayList<>(corners);
            java.util.Collections.reverse(turned);
            return turned;
        }
        return corners;
    }

    private static List<Point> distinct(List<Point> given, String field) {
        List<Point> corners = new ArrayList<>();
        for (Point p : given) {
            if (!Double.isFinite(p.x()) || !Double.isFinite(p.y()) || Math.abs(p.x()) > 1e8 || Math.abs(p.y()) > 1e8) {
                throw new Refused("ground.polygon.not-a-number", corners.size() + 1).at(field);
            }
            if (corners.isEmpty() || corners.get(corners.size() - 1).distance(p) >= SHORTEST_SIDE) {
                corners.add(p);
            }
        }
        while (corners.size() > 1 && corners.get(0).distance(corners.get(corners.size() - 1)) < SHORTEST_SIDE) {
            corners.remove(corners.size() - 1);
        }
        return corners;
    }

    private static @Nullable Point crossing(List<Point> corners) {
        TopologyValidationError error = new IsValidOp(polygon(corners)).getValidationError();
        if (error == null) {
            return null;
        }
        Coordinate at = error.getCoordinate();
        return new Point(at.x, at.y);
    }

    private static double extent(List<Point> corners) {
        double[] box = box(corners);
        return Math.max(box[2] - box[0], box[3] - box[1]);
    }

    /** Least x, least y, greatest x, greatest y. */
    static double[] box(List<Point> corners) {
        double[] box = {Double.MAX_VALUE, Double.MAX_VALUE, -Double.MAX_VALUE, -Double.MAX_VALUE};
        for (Point p : corners) {
            box[0] = Math.min(box[0], p.x());
            box[1] = Math.min(box[1], p.y());
            box[2] = Math.max(box[2], p.x());
            box[3] = Math.max(box[3], p.y());
        }
        return box;
    }

    /** Area in square metres by coordinates (Gauss's shoelace formula), positive counter-clockwise. */
    public static double signedArea(List<Point> corners) {
        Point zero = corners.get(0);
        double twice = 0;
        for (int i = 1; i + 1 < corners.size(); i++) {
            Point a = corners.get(i);
            Point b = corners.get(i + 1);
            twice += (a.x() - zero.x()) * (b.y() - zero.y()) - (b.x() - zero.x()) * (a.y() - zero.y());
        }
        return twice / 2;
    }

    /** Area inside the boundary in square metres; exclusions are not taken off. */
    public double areaM2() {
        return signedArea(boundary);
    }

    /** The boundary as a JTS polygon, exclusions not cut out. */
    public Polygon outline() {
        return polygon(boundary);
    }

    /** A ring of corners as a JTS polygon. */
    public static Polygon polygon(List<Point> corners) {
        Coordinate[] ring = new Coordinate[corners.size() + 1];
        for (int i = 0; i < corners.size(); i++) {
            ring[i] = new Coordinate(corners.get(i).x(), corners.get(i).y());
        }
        ring[corners.size()] = ring[0].copy();
        return SHAPES.createPolygon(ring);
    }

    /** The corners of a JTS ring, without the repeated last, counter-clockwise. */
    static List<Point> corners(LinearRing ring) {
        List<Point> corners = new ArrayList<>();
        Coordinate[] all = ring.getCoordinates();
        for (int i = 0; i + 1 < all.length; i++) {
            corners.add(new Point(all[i].x, all[i].y));
        }
        if (corners.size() > 2 && signedArea(corners) < 0) {
            java.util.Collections.reverse(corners);
        }
        return corners;
    }

    /** The polygons that make up a JTS geometry. */
    static List<Polygon> parts(Geometry shape) {
        List<Polygon> parts = new ArrayList<>();
        for (int i = 0; i < shape.getNumGeometries(); i++) {
            if (shape.getGeometryN(i) instanceof Polygon p && !p.isEmpty()) {
                parts.add(p);
            }
        }
        return parts;
    }

    private static double round(double metres) {
        return Math.rint(metres * 1000) / 1000;
    }
}
