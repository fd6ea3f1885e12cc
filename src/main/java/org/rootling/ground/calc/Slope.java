package org.rootling.ground.calc;

import java.util.List;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/**
 * Ground that falls evenly in one direction, and how lengths along it differ from lengths on a map.
 *
 * <p>Level length = ground length times the cosine of the angle of slope (textbook surveying); so a tilted field is
 * unrolled by stretching it down the slope by {@code 1 / cos}, after which every length, right angle and area in it is
 * that of the ground and rows are fitted to it like to any level field. Nothing changes along the contour.
 *
 * @param percent metres of fall on 100 m of map, 0 to {@value #STEEPEST}
 * @param downhillDeg direction in which it falls, degrees clockwise from north, 0 &le; d &lt; 360
 */
public record Slope(double percent, double downhillDeg) {
    /** Steepest ground that is taken as one slope, percent; beyond it stands on terraces (rule of thumb, no source). */
    public static final double STEEPEST = 100;

    public static final Slope LEVEL = new Slope(0, 0);

    public Slope {
        if (!(percent >= 0 && percent <= STEEPEST)) {
            throw new Refused("ground.slope.steepness", STEEPEST, 45).at("steepness");
        }
        if (!(downhillDeg >= 0 && downhillDeg <= 360)) {
            throw new Refused("ground.slope.direction").at("downhillDeg");
        }
        downhillDeg = downhillDeg == 360 ? 0 : downhillDeg;
    }

    /** The slope of that angle against the level, degrees. */
    public static Slope degrees(double angleDeg, double downhillDeg) {
        // the tangent of 45 degrees is not quite 1
        double percent = Math.rint(100 * Math.tan(Math.toRadians(angleDeg)) * 1e9) / 1e9;
        return new Slope(Math.abs(angleDeg) < 90 ? percent : Double.NaN, downhillDeg);
    }

    public boolean isLevel() {
        return percent == 0;
    }

    /** Against the level, degrees. */
    public double angleDeg() {
        return Math.toDegrees(Math.atan(percent / 100));
    }

    /** Ground length of one metre of map straight down the slope; also the ground area of a square metre of map. */
    public double stretch() {
        return Math.hypot(1, percent / 100);
    }

    /** Fall of a line in percent, by its bearing on the map; negative where it climbs. */
    public double fallPercent(double bearingDeg) {
        return percent * Math.cos(Math.toRadians(bearingDeg - downhillDeg));
    }

    /** Ground length of one metre of map along that bearing. */
    public double groundPerMap(double bearingDeg) {
        return Math.hypot(1, fallPercent(bearingDeg) / 100);
    }

    /** From the map to the unrolled ground; the origin stays. */
    public Point onGround(Point map) {
        return stretched(map, stretch());
    }

    /** From the unrolled ground to the map. */
    public Point onMap(Point ground) {
        return stretched(ground, 1 / stretch());
    }

    /** A field as on the map, unrolled. */
    public Field onGround(Field map) {
        return all(map, stretch());
    }

    /** The field along the ground of one whose corners were measured level, or along the ground as it is. */
    public Field field(Field measured, boolean level) {
        return level ? onGround(measured) : measured;
    }

    /** An unrolled field as on the map. */
    public Field onMap(Field ground) {
        return all(ground, 1 / stretch());
    }

    /** The bearing that a line of that compass bearing has in the unrolled field, 0 &le; b &lt; 180. */
    public double bearingOnGround(double compassDeg) {
        return turned(compassDeg, stretch());
    }

    /** The compass bearing of a line with that bearing in the unrolled field, 0 &le; b &lt; 180. */
    public double bearingOnMap(double groundDeg) {
        return turned(groundDeg, 1 / stretch());
    }

    private double turned(double bearingDeg, double by) {
        if (isLevel()) {
            return bearingDeg;
        }
        double b = Math.toRadians(bearingDeg);
        Point way = stretched(new Point(Math.sin(b), Math.cos(b)), by);
        double turned = Math.toDegrees(Math.atan2(way.x(), way.y()));
        double half = ((turned % 180) + 180) % 180;
        return half > 180 - 1e-9 ? 0 : half;
    }

    private Field all(Field field, double by) {
        return isLevel()
                ? field
                : new Field(
                        ring(field.boundary(), by),
                        field.exclusions().stream().map(r -> ring(r, by)).toList());
    }

    private List<Point> ring(List<Point> corners, double by) {
        return corners.stream().map(p -> stretched(p, by)).toList();
    }

    private Point stretched(Point p, double by) {
        if (isLevel()) {
            return p;
        }
        double sin = Math.sin(Math.toRadians(downhillDeg));
        double cos = Math.cos(Math.toRadians(downhillDeg));
        double more = (by - 1) * (p.x() * sin + p.y() * cos);
        return p.plus(more * sin, more * cos);
    }
}
