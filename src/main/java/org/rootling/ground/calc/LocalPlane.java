package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import net.sf.geographiclib.Geodesic;
import net.sf.geographiclib.GeodesicData;
import net.sf.geographiclib.PolygonArea;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/**
 * Metres about a spot on the Earth: the azimuthal equidistant projection of the WGS 84 ellipsoid, by GeographicLib
 * (Karney 2013). Distances and bearings from the origin are exact to nanometres; areas of a field within 20 km of it are
 * too large by at most about 2e-6, within 1 km by 5e-9.
 *
 * @param latitude of the origin, degrees north
 * @param longitude of the origin, degrees east
 */
public record LocalPlane(double latitude, double longitude) {

    /** A spot in degrees. */
    public record Spot(double longitude, double latitude) {}

    /** The plane about the middle of the box of those spots. */
    public static LocalPlane about(List<Spot> spots) {
        double west = 180;
        double east = -180;
        double south = 90;
        double north = -90;
        for (Spot s : spots) {
            west = Math.min(west, s.longitude());
            east = Math.max(east, s.longitude());
            south = Math.min(south, s.latitude());
            north = Math.max(north, s.latitude());
        }
        return new LocalPlane(neat((south + north) / 2), neat((west + east) / 2));
    }

    // a whole number of tenths of a microdegree (a centimetre), so that it can be stored and read back the same
    private static double neat(double degrees) {
        return Math.rint(degrees * 1e7) / 1e7;
    }

    /**
     * Looks for spots that cannot be a field before they are projected.
     *
     * @throws Refused for numbers that are no degrees, swapped ones as far as can be told, and a field across the date
     *     line
     */
    public static void check(List<Spot> spots, String field) {
        double west = 180;
        double east = -180;
        for (int i = 0; i < spots.size(); i++) {
            Spot s = spots.get(i);
            boolean swapped =
                    Math.abs(s.latitude()) > 90 && Math.abs(s.latitude()) <= 180 && Math.abs(s.longitude()) <= 90;
            if (swapped) {
                throw new Refused("ground.polygon.swapped", i + 1).at(field);
            }
            if (!(Math.abs(s.latitude()) <= 90) || !(Math.abs(s.longitude()) <= 180)) {
                throw new Refused("ground.polygon.no-degrees", i + 1).at(field);
            }
            west = Math.min(west, s.longitude());
            east = Math.max(east, s.longitude());
        }
        if (east - west > 180) {
            throw new Refused("ground.polygon.date-line").at(field);
        }
    }

    /** Metres east and north of the origin. */
    public Point point(Spot spot) {
        GeodesicData g = Geodesic.WGS84.Inverse(latitude, longitude, spot.latitude(), spot.longitude());
        double turn = Math.toRadians(g.azi1);
        return new Point(g.s12 * Math.sin(turn), g.s12 * Math.cos(turn));
    }

    public List<Point> points(List<Spot> spots) {
        List<Point> points = new ArrayList<>(spots.size());
        for (Spot s : spots) {
            points.add(point(s));
        }
        return points;
    }

    /** The spot at those metres. */
    public Spot spot(Point point) {
        double azimuth = Math.toDegrees(Math.atan2(point.x(), point.y()));
        GeodesicData g = Geodesic.WGS84.Direct(latitude, longitude, azimuth, Math.hypot(point.x(), point.y()));
        return new Spot(g.lon2, g.lat2);
    }

    /** Area on the ellipsoid in square metres, by GeographicLib, without any projection. */
    public static double geodesicArea(List<Spot> ring) {
        PolygonArea area = new PolygonArea(Geodesic.WGS84, false);
        for (Spot s : ring) {
            area.AddPoint(s.latitude(), s.longitude());
        }
        return Math.abs(area.Compute(false, true).area);
    }
}
