package org.rootling.ground.domain;

import java.util.ArrayList;
import java.util.List;
import org.rootling.ground.calc.Field;
import org.rootling.platform.Refused;
import tools.jackson.databind.JsonNode;

/**
 * One polygon of a GeoJSON text (RFC 7946): the outer ring and its holes, as pairs of numbers. A Feature, and a
 * FeatureCollection or MultiPolygon with exactly one polygon, are taken as that polygon.
 */
public record GeoJsonShape(List<double[]> outer, List<List<double[]>> holes) {

    /**
     * Finds the one polygon.
     *
     * @param field to which a refusal belongs
     */
    public static GeoJsonShape of(JsonNode json, String field) {
        List<JsonNode> polygons = new ArrayList<>();
        collect(json, polygons, field, 0);
        if (polygons.isEmpty()) {
            throw new Refused("ground.import.no-polygon").at(field);
        }
        if (polygons.size() > 1) {
            throw new Refused("ground.import.several", polygons.size()).at(field);
        }
        JsonNode rings = polygons.get(0);
        List<List<double[]>> all = new ArrayList<>();
        for (JsonNode ring : rings) {
            all.add(ring(ring, field));
        }
        if (all.isEmpty()) {
            throw new Refused("ground.import.no-polygon").at(field);
        }
        return new GeoJsonShape(all.get(0), all.subList(1, all.size()));
    }

    private static void collect(JsonNode json, List<JsonNode> found, String field, int depth) {
        if (depth > 8 || found.size() > 1000) {
            throw new Refused("ground.import.too-deep").at(field);
        }
        switch (json.path("type").asString("")) {
            case "Polygon" -> found.add(json.path("coordinates"));
            case "MultiPolygon" -> json.path("coordinates").forEach(found::add);
            case "Feature" -> collect(json.path("geometry"), found, field, depth + 1);
            case "FeatureCollection" -> json.path("features").forEach(f -> collect(f, found, field, depth + 1));
            case "GeometryCollection" -> json.path("geometries").forEach(f -> collect(f, found, field, depth + 1));
            default -> {
                // points and lines beside the polygon are of no use here
            }
        }
    }

    private static List<double[]> ring(JsonNode ring, String field) {
        if (!ring.isArray()) {
            throw new Refused("ground.import.no-polygon").at(field);
        }
        if (ring.size() > Field.MOST_CORNERS + 1) {
            throw new Refused("ground.polygon.too-many-corners", ring.size(), Field.MOST_CORNERS).at(field);
        }
        List<double[]> points = new ArrayList<>();
        for (JsonNode pair : ring) {
            if (!pair.isArray()
                    || pair.size() < 2
                    || !pair.get(0).isNumber()
                    || !pair.get(1).isNumber()) {
                throw new Refused("ground.polygon.not-a-number", points.size() + 1).at(field);
            }
            points.add(new double[] {pair.get(0).doubleValue(), pair.get(1).doubleValue()});
        }
        return points;
    }
}
