package org.rootling.ground.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.LocalPlane;
import org.rootling.platform.Refused;

/** End posts and places of a block for other tools: GPX 1.1 waypoints, GeoJSON (RFC 7946) and CSV (RFC 4180). */
public final class PointsExport {
    /** Most points in a file. */
    public static final int MOST_POINTS = 500_000;

    /** One point: {@code kind} is {@code post} or {@code place}. */
    private record Mark(String name, String kind, int row, int number, Point point) {}

    private PointsExport() {}

    /** CSV with metres along the ground, and degrees where they are known. */
    public static String csv(GroundService.Sheet sheet, List<Row> rows) {
        LocalPlane plane = planeOrNull(sheet);
        StringBuilder out = new StringBuilder(
                "block,row,kind,number,x_m,y_m" + (plane == null ? "" : ",longitude,latitude") + "\r\n");
        each(sheet, rows, m -> {
            out.append(sheet.block().code())
                    .append(',')
                    .append(m.row())
                    .append(',')
                    .append(m.kind());
            out.append(',').append(m.number());
            out.append(',')
                    .append(fixed(m.point().x(), 3))
                    .append(',')
                    .append(fixed(m.point().y(), 3));
            if (plane != null) {
                LocalPlane.Spot s = plane.spot(sheet.slope().onMap(m.point()));
                out.append(',').append(degrees(s.longitude())).append(',').append(degrees(s.latitude()));
            }
            out.append("\r\n");
        });
        return out.toString();
    }

    /** GPX waypoints. */
    public static String gpx(GroundService.Sheet sheet, List<Row> rows) {
        LocalPlane plane = plane(sheet);
        StringBuilder out = new StringBuilder("""
                <?xml version="1.0" encoding="UTF-8"?>
                <gpx version="1.1" creator="Rootling" xmlns="http://www.topografix.com/GPX/1/1">
                """);
        each(sheet, rows, m -> {
            LocalPlane.Spot s = plane.spot(sheet.slope().onMap(m.point()));
            // codes hold letters, digits, dots and dashes only, so nothing needs escaping
            out.append("<wpt lat=\"").append(degrees(s.latitude()));
            out.append("\" lon=\"").append(degrees(s.longitude()));
            out.append("\"><name>").append(m.name()).append("</name><type>").append(m.kind());
            out.append("</type></wpt>\n");
        });
        return out.append("</gpx>\n").toString();
    }

    /** GeoJSON points. */
    public static String geoJson(GroundService.Sheet sheet, List<Row> rows) {
        LocalPlane plane = plane(sheet);
        List<String> features = new ArrayList<>();
        each(sheet, rows, m -> {
            LocalPlane.Spot s = plane.spot(sheet.slope().onMap(m.point()));
            features.add("{\"type\":\"Feature\",\"geometry\":{\"type\":\"Point\",\"coordinates\":["
                    + degrees(s.longitude()) + "," + degrees(s.latitude()) + "]},\"properties\":{\"name\":\"" + m.name()
                    + "\",\"kind\":\"" + m.kind() + "\",\"row\":" + m.row() + ",\"number\":" + m.number() + "}}");
        });
        return "{\"type\":\"FeatureCollection\",\"features\":[" + String.join(",\n", features) + "]}";
    }

    private static String degrees(double degrees) {
        return fixed(degrees, 9);
    }

    /** As {@code %.9f} writes it, in a fraction of the time: a field has many thousand points. */
    private static String fixed(double value, int decimals) {
        return BigDecimal.valueOf(value)
                .setScale(decimals, RoundingMode.HALF_UP)
                .toPlainString();
    }

    private static void each(GroundService.Sheet sheet, List<Row> rows, Consumer<Mark> to) {
        int total = rows.stream().mapToInt(Row::places).sum();
        if (total > MOST_POINTS) {
            throw new Refused("ground.export.too-many", MOST_POINTS);
        }
        for (Row row : rows) {
            int post = 0;
            for (Stretch s : row.stretches()) {
                String code = sheet.block().code() + " r" + row.number();
                to.accept(new Mark(
                        code + " post " + ++post, "post", row.number(), post, new Point(s.startX(), s.startY())));
                for (int place = s.firstPlace(); place <= s.lastPlace(); place++) {
                    to.accept(new Mark(code + " " + place, "place", row.number(), place, s.position(place)));
                }
                to.accept(
                        new Mark(code + " post " + ++post, "post", row.number(), post, new Point(s.endX(), s.endY())));
            }
        }
    }

    private static LocalPlane plane(GroundService.Sheet sheet) {
        LocalPlane plane = planeOrNull(sheet);
        if (plane == null) {
            throw new Refused("ground.export.no-place");
        }
        return plane;
    }

    private static @org.jspecify.annotations.Nullable LocalPlane planeOrNull(GroundService.Sheet sheet) {
        Double latitude = sheet.latitude();
        Double longitude = sheet.longitude();
        return latitude == null || longitude == null ? null : new LocalPlane(latitude, longitude);
    }
}
