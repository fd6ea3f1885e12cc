package org.rootling.ground.domain;

import java.util.ArrayList;
import java.util.List;
import org.rootling.ground.Point;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A ring of corners as it is stored: a GeoJSON polygon (RFC 7946) whose coordinates are metres. */
final class Shapes {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private Shapes() {}

    static String write(List<Point> corners) {
        StringBuilder text = new StringBuilder("{\"type\":\"Polygon\",\"coordinates\":[[");
        for (int i = 0; i <= corners.size(); i++) {
            Point p = corners.get(i % corners.size());
            text.append(i == 0 ? "[" : ",[")
                    .append(p.x())
                    .append(',')
                    .append(p.y())
                    .append(']');
        }
        return text.append("]]}").toString();
    }

    static List<Point> read(String text) {
        JsonNode ring = JSON.readTree(text).path("coordinates").path(0);
        List<Point> corners = new ArrayList<>();
        for (int i = 0; i + 1 < ring.size(); i++) {
            corners.add(new Point(
                    ring.get(i).get(0).doubleValue(), ring.get(i).get(1).doubleValue()));
        }
        return corners;
    }
}
