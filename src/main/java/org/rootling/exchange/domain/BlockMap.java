package org.rootling.exchange.domain;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import net.sf.geographiclib.Geodesic;
import net.sf.geographiclib.GeodesicData;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The blocks as a map (GeoJSON, RFC 7946: longitude and latitude on WGS84). A block whose place on the earth is not known
 * has no geometry; its shape in metres is in {@code tables/block.csv}.
 */
final class BlockMap {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private BlockMap() {}

    static void write(JdbcTemplate jdbc, OutputStream out) throws IOException {
        List<String> features = jdbc.query(
                "select id, code, name, area_m2, boundary, origin_latitude, origin_longitude from block"
                        + " where withdrawn_at is null order by code",
                (row, n) -> feature(
                        row.getString("id"),
                        row.getString("code"),
                        row.getString("name"),
                        row.getDouble("area_m2"),
                        row.getString("boundary"),
                        row.getObject("origin_latitude", Double.class),
                        row.getObject("origin_longitude", Double.class)));
        Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
        writer.write("{\"type\":\"FeatureCollection\",\"features\":[\n" + String.join(",\n", features) + "\n]}\n");
        writer.flush();
    }

    private static String feature(
            String id,
            String code,
            String name,
            double areaM2,
            String boundary,
            @Nullable Double latitude,
            @Nullable Double longitude) {
        Map<String, @Nullable Object> feature = new LinkedHashMap<>();
        feature.put("type", "Feature");
        feature.put("id", id);
        Map<String, @Nullable Object> geometry = null;
        if (latitude != null && longitude != null) {
            JsonNode shape = JSON.readTree(boundary);
            geometry = new LinkedHashMap<>();
            geometry.put("type", shape.get("type").stringValue());
            geometry.put("coordinates", onEarth(shape.get("coordinates"), latitude, longitude));
        }
        feature.put("geometry", geometry);
        feature.put("properties", Map.of("code", code, "name", name, "area_m2", areaM2));
        return JSON.writeValueAsString(feature);
    }

    /** To about a centimetre, by the azimuthal equidistant plane that blocks are kept in. */
    private static List<Object> onEarth(JsonNode coordinates, double latitude, double longitude) {
        List<Object> turned = new ArrayList<>();
        if (coordinates.size() > 0 && coordinates.get(0).isNumber()) {
            double east = coordinates.get(0).doubleValue();
            double north = coordinates.get(1).doubleValue();
            GeodesicData there = Geodesic.WGS84.Direct(
                    latitude, longitude, Math.toDegrees(Math.atan2(east, north)), Math.hypot(east, north));
            turned.add(Math.round(there.lon2 * 1e7) / 1e7);
            turned.add(Math.round(there.lat2 * 1e7) / 1e7);
        } else {
            coordinates.forEach(part -> turned.add(onEarth(part, latitude, longitude)));
        }
        return turned;
    }
}
