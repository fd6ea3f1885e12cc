package org.rootling.ground.domain;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import org.locationtech.jts.simplify.TopologyPreservingSimplifier;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.LocalPlane;
import org.rootling.ground.calc.LocalPlane.Spot;
import org.rootling.platform.Refused;
import tools.jackson.core.JacksonException;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.json.JsonFactory;
import tools.jackson.databind.json.JsonMapper;

/**
 * Boundaries out of files: GeoJSON (RFC 7946), KML 2.2 (also zipped as KMZ) and GPX 1.1 (a track, a route or waypoints
 * walked round the field). Degrees are projected about the field's middle ({@link LocalPlane}); the area stays within
 * 1e-6 of the geodesic area. Files are bounded, entities and document types are not read, nothing is fetched.
 */
public final class BoundaryImport {
    /** Largest file, bytes, also after unzipping. */
    public static final int MOST_BYTES = 4_000_000;

    private static final int MOST_POINTS = 20_000;
    private static final String FIELD = "file";
    private static final double SIMPLER_M = 0.1;
    private static final JsonMapper JSON = JsonMapper.builder(JsonFactory.builder()
                    .streamReadConstraints(StreamReadConstraints.builder()
                            .maxNestingDepth(60)
                            .maxNumberLength(60)
                            .build())
                    .build())
            .build();

    private BoundaryImport() {}

    /**
     * Reads one field.
     *
     * @throws Refused at field {@code file}, saying what is wrong
     */
    public static Boundary read(byte[] file) {
        if (file.length == 0) {
            throw new Refused("ground.import.empty").at(FIELD);
        }
        if (file.length > MOST_BYTES) {
            throw new Refused("ground.import.too-large", MOST_BYTES / 1_000_000).at(FIELD);
        }
        byte[] plain = file[0] == 'P' && file.length > 1 && file[1] == 'K' ? unzipped(file) : file;
        String start = new String(plain, 0, Math.min(plain.length, 2000), StandardCharsets.UTF_8)
                .replace("\ufeff", "")
                .stripLeading();
        if (start.startsWith("{")) {
            return geoJson(plain);
        }
        if (start.startsWith("<")) {
            return xml(plain);
        }
        throw new Refused("ground.import.unknown").at(FIELD);
    }

    private static byte[] unzipped(byte[] file) {
        try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(file))) {
            ZipEntry entry;
            for (int i = 0; i < 50 && (entry = zip.getNextEntry()) != null; i++) {
                byte[] content = zip.readNBytes(MOST_BYTES + 1);
                if (content.length > MOST_BYTES) {
                    throw new Refused("ground.import.too-large", MOST_BYTES / 1_000_000).at(FIELD);
                }
                if (entry.getName().toLowerCase(Locale.ROOT).endsWith(".kml")) {
                    return content;
                }
            }
        } catch (IOException notAZip) {
            throw new Refused("ground.import.unknown").at(FIELD);
        }
        throw new Refused("ground.import.no-polygon").at(FIELD);
    }

    private static Boundary geoJson(byte[] file) {
        GeoJsonShape shape;
        try {
            shape = GeoJsonShape.of(JSON.readTree(file), FIELD);
        } catch (JacksonException | StackOverflowError broken) {
            throw new Refused("ground.import.broken", "GeoJSON").at(FIELD);
        }
        List<List<Spot>> holes =
                shape.holes().stream().map(BoundaryImport::spots).toList();
        return boundary(spots(shape.outer()), holes, "GeoJSON");
    }

    private static List<Spot> spots(List<double[]> pairs) {
        return pairs.stream().map(p -> new Spot(p[0], p[1])).toList();
    }

    // --- XML --------------------------------------------------------------------------------------------------

    private static Boundary xml(byte[] file) {
        XMLInputFactory factory = XMLInputFactory.newDefaultFactory();
        factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
        factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
        factory.setProperty(XMLInputFactory.IS_REPLACING_ENTITY_REFERENCES, false);
        factory.setXMLResolver((publicId, systemId, base, namespace) -> {
            throw new XMLStreamException("no entities");
        });
        try {
            XMLStreamReader reader = factory.createXMLStreamReader(new ByteArrayInputStream(file));
            while (reader.hasNext()) {
                int event = reader.next();
                if (event == XMLStreamConstants.DTD) {
                    throw new Refused("ground.import.entities").at(FIELD);
                }
                if (event == XMLStreamConstants.START_ELEMENT) {
                    return switch (reader.getLocalName()) {
                        case "kml" -> kml(reader);
                        case "gpx" -> gpx(reader);
                        default -> throw new Refused("ground.import.unknown").at(FIELD);
                    };
                }
            }
        } catch (XMLStreamException broken) {
            throw new Refused("ground.import.broken", "XML").at(FIELD);
        }
        throw new Refused("ground.import.unknown").at(FIELD);
    }

    private static Boundary kml(XMLStreamReader reader) throws XMLStreamException {
        List<List<Spot>> outer = new ArrayList<>();
        List<List<Spot>> inner = new ArrayList<>();
        boolean polygon = false;
        boolean hole = false;
        while (reader.hasNext()) {
            int event = reader.next();
            if (event == XMLStreamConstants.START_ELEMENT) {
                switch (reader.getLocalName()) {
                    case "Polygon" -> polygon = true;
                    case "innerBoundaryIs" -> hole = true;
                    case "coordinates" -> {
                        if (polygon) {
                            (hole ? inner : outer).add(tuples(text(reader)));
                        }
                    }
                    default -> {
                        // names, styles and views are of no use here
                    }
                }
            } else if (event == XMLStreamConstants.END_ELEMENT) {
                polygon &= !reader.getLocalName().equals("Polygon");
                hole &= !reader.getLocalName().equals("innerBoundaryIs");
            } else if (event == XMLStreamConstants.ENTITY_REFERENCE) {
                throw new Refused("ground.import.entities").at(FIELD);
            }
            if (outer.size() > 1) {
                throw new Refused("ground.import.several", outer.size()).at(FIELD);
            }
        }
        if (outer.isEmpty()) {
            throw new Refused("ground.import.no-polygon").at(FIELD);
        }
        return boundary(outer.get(0), inner, "KML");
    }

    private static String text(XMLStreamReader reader) throws XMLStreamException {
        StringBuilder text = new StringBuilder();
        while (reader.next() != XMLStreamConstants.END_ELEMENT) {
            if (reader.getEventType() == XMLStreamConstants.ENTITY_REFERENCE || !reader.hasText()) {
                throw new Refused("ground.import.entities").at(FIELD);
            }
            text.append(reader.getText());
        }
        return text.toString();
    }

    private static List<Spot> tuples(String text) {
        List<Spot> spots = new ArrayList<>();
        for (String tuple : text.strip().split("\\s+", MOST_POINTS + 2)) {
            if (spots.size() >= MOST_POINTS) {
                throw new Refused("ground.polygon.too-many-corners", spots.size(), Field.MOST_CORNERS).at(FIELD);
            }
            String[] parts = tuple.split(",");
            if (parts.length < 2) {
                throw new Refused("ground.polygon.not-a-number", spots.size() + 1).at(FIELD);
            }
            spots.add(new Spot(number(parts[0], spots.size()), number(parts[1], spots.size())));
        }
        return spots;
    }

    private static double number(String text, int before) {
        String plain = text.strip();
        if (plain.length() > 40 || !plain.matches("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d{1,2})?")) {
            throw new Refused("ground.polygon.not-a-number", before + 1).at(FIELD);
        }
        return Double.parseDouble(plain);
    }

    private static Boundary gpx(XMLStreamReader reader) throws XMLStreamException {
        List<Spot> track = new ArrayList<>();
        List<Spot> route = new ArrayList<>();
        List<Spot> marks = new ArrayList<>();
        int tracks = 0;
        while (reader.hasNext()) {
            int event = reader.next();
            if (event == XMLStreamConstants.ENTITY_REFERENCE) {
                throw new Refused("ground.import.entities").at(FIELD);
            }
            if (event != XMLStreamConstants.START_ELEMENT) {
                continue;
            }
            String name = reader.getLocalName();
            tracks += name.equals("trk") || name.equals("rte") ? 1 : 0;
            List<Spot> into = switch (name) {
                case "trkpt" -> track;
                case "rtept" -> route;
                case "wpt" -> marks;
                default -> null;
            };
            if (into != null) {
                into.add(spot(reader, into.size()));
                if (into.size() > MOST_POINTS) {
                    throw new Refused("ground.polygon.too-many-corners", into.size(), Field.MOST_CORNERS).at(FIELD);
                }
            }
        }
        if (tracks > 1) {
            throw new Refused("ground.import.several", tracks).at(FIELD);
        }
        List<Spot> ring = !track.isEmpty() ? track : !route.isEmpty() ? route : marks;
        if (ring.isEmpty()) {
            throw new Refused("ground.import.no-polygon").at(FIELD);
        }
        return boundary(ring, List.of(), "GPX");
    }

    private static Spot spot(XMLStreamReader reader, int before) {
        String lat = reader.getAttributeValue(null, "lat");
        String lon = reader.getAttributeValue(null, "lon");
        if (lat == null || lon == null) {
            throw new Refused("ground.polygon.not-a-number", before + 1).at(FIELD);
        }
        return new Spot(number(lon, before), number(lat, before));
    }

    // --- to metres --------------------------------------------------------------------------------------------

    private static Boundary boundary(List<Spot> outer, List<List<Spot>> inner, String kind) {
        if (outer.isEmpty()) {
            throw new Refused("ground.import.no-polygon").at(FIELD);
        }
        LocalPlane.check(outer, FIELD);
        LocalPlane plane = LocalPlane.about(outer);
        List<List<Point>> patches = new ArrayList<>();
        for (List<Spot> hole : inner) {
            LocalPlane.check(hole, FIELD);
            patches.add(plane.points(hole));
        }
        List<Point> ring = plane.points(outer);
        try {
            Field field = Field.of(ring.size() > 400 ? simpler(ring) : ring, patches);
            return new Boundary(field, BoundarySource.IMPORTED, kind, plane.latitude(), plane.longitude());
        } catch (Refused refused) {
            throw refused.at(FIELD);
        }
    }

    /** A walked track has a point every second; what lies within 10 cm of a line is left out. */
    private static List<Point> simpler(List<Point> ring) {
        if (!Field.polygon(ring).isValid()) {
            return ring;
        }
        var less = TopologyPreservingSimplifier.simplify(Field.polygon(ring), SIMPLER_M)
                .getCoordinates();
        List<Point> corners = new ArrayList<>();
        for (int i = 0; i + 1 < less.length; i++) {
            corners.add(new Point(less[i].x, less[i].y));
        }
        return corners;
    }
}
