package org.rootling.ground.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.rootling.ground.calc.LocalPlane;
import org.rootling.ground.calc.LocalPlane.Spot;
import org.rootling.platform.Refused;

/** Fields out of files, good ones and hostile ones. */
@Timeout(60)
class BoundaryImportTest {
    private static final List<Spot> RING = List.of(
            new Spot(0.1, 50.8), new Spot(0.1012, 50.8001), new Spot(0.101, 50.8009), new Spot(0.1001, 50.8007));

    private static Boundary read(String text) {
        return BoundaryImport.read(text.getBytes(StandardCharsets.UTF_8));
    }

    private static Refused refusal(byte[] file) {
        try {
            BoundaryImport.read(file);
        } catch (Refused e) {
            assertThat(e.field()).isEqualTo("file");
            return e;
        }
        throw new AssertionError("not refused");
    }

    private static Refused refusal(String text) {
        return refusal(text.getBytes(StandardCharsets.UTF_8));
    }

    private static String geoJson() {
        StringBuilder ring = new StringBuilder();
        for (Spot s : RING) {
            ring.append('[')
                    .append(s.longitude())
                    .append(',')
                    .append(s.latitude())
                    .append("],");
        }
        return "{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[" + ring
                + "[0.1,50.8]]]}}";
    }

    private static String kml(String body) {
        return "<?xml version=\"1.0\"?><kml xmlns=\"http://www.opengis.net/kml/2.2\"><Document><Placemark>" + body
                + "</Placemark></Document></kml>";
    }

    private static String polygon() {
        StringBuilder ring = new StringBuilder();
        for (Spot s : RING) {
            ring.append(s.longitude()).append(',').append(s.latitude()).append(",0\n");
        }
        return "<Polygon><outerBoundaryIs><LinearRing><coordinates>" + ring
                + "0.1,50.8,0</coordinates></LinearRing></outerBoundaryIs></Polygon>";
    }

    private static String gpx() {
        StringBuilder points = new StringBuilder();
        for (Spot s : RING) {
            points.append("<trkpt lat=\"" + s.latitude() + "\" lon=\"" + s.longitude() + "\"/>");
        }
        return "<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>" + points
                + "</trkseg></trk></gpx>";
    }

    private static byte[] zipped(String name, byte[] content) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(out)) {
            zip.putNextEntry(new ZipEntry(name));
            zip.write(content);
        }
        return out.toByteArray();
    }

    @Test
    void allThreeFormatsGiveTheSameFieldWithTheGeodesicArea() throws IOException {
        double area = LocalPlane.geodesicArea(RING);
        for (Boundary b : List.of(
                read(geoJson()),
                read(kml(polygon())),
                read(gpx()),
                BoundaryImport.read(zipped("doc.kml", kml(polygon()).getBytes(StandardCharsets.UTF_8))))) {
            assertThat(b.field().areaM2() / area).isCloseTo(1, within(1e-6));
            assertThat(b.field().boundary()).hasSize(4);
            assertThat(b.latitude()).isCloseTo(50.80045, within(1e-6));
            assertThat(b.source()).isEqualTo(BoundarySource.IMPORTED);
        }
    }

    @Test
    void holesAreKeptFree() {
        String inner = "<innerBoundaryIs><LinearRing><coordinates>0.1004,50.8003 0.1006,50.8003 0.1006,50.8005"
                + "</coordinates></LinearRing></innerBoundaryIs></Polygon>";
        assertThat(read(kml(polygon().replace("</Polygon>", inner))).field().exclusions())
                .hasSize(1);
    }

    @Test
    void aHoleOutsideTheFieldIsRefused() {
        String inner = "<innerBoundaryIs><LinearRing><coordinates>0.2004,50.8003 0.2006,50.8003 0.2006,50.8005"
                + "</coordinates></LinearRing></innerBoundaryIs></Polygon>";
        Refused refused = refusal(kml(polygon().replace("</Polygon>", inner)));
        assertThat(refused.key()).isEqualTo("ground.polygon.exclusion-outside");
        assertThat(refused.args()).containsExactly(1);
        assertThat(refusal(geoJson().replace("]]]", "]],[[0.3,50.8],[0.301,50.8],[0.301,50.801],[0.3,50.8]]]"))
                        .key())
                .isEqualTo("ground.polygon.exclusion-outside");
    }

    @Test
    void clockwiseAndUnclosedRingsAreTheSameField() {
        double area = read(geoJson()).field().areaM2();
        String unclosed = geoJson().replace(",[0.1,50.8]]]", "]]");
        assertThat(unclosed).isNotEqualTo(geoJson());
        assertThat(read(unclosed).field().areaM2()).isCloseTo(area, within(1e-9));
        String clockwise =
                "{\"type\":\"Polygon\",\"coordinates\":[[[0.1001,50.8007],[0.101,50.8009],[0.1012,50.8001],[0.1,50.8]]]}";
        assertThat(read(clockwise).field().areaM2()).isCloseTo(area, within(1e-6));
    }

    @Test
    void crossingSidesAndMillimetreSliversAreSaidAtTheFile() {
        assertThat(refusal(
                                "{\"type\":\"Polygon\",\"coordinates\":[[[0.1,50.8],[0.101,50.801],[0.101,50.8],[0.1,50.801]]]}")
                        .key())
                .isEqualTo("ground.polygon.crosses-itself");
        // a hundred millionth of a degree is about a millimetre
        assertThat(refusal(
                                "{\"type\":\"Polygon\",\"coordinates\":[[[0.1,50.8],[0.102,50.8],[0.102,50.80000002],[0.1,50.80000002]]]}")
                        .key())
                .isEqualTo("ground.polygon.no-area");
    }

    @Test
    void archivesOfManyEntriesAndEndlessTracksAreRefused() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(out)) {
            for (int i = 0; i < 20_000; i++) {
                zip.putNextEntry(new ZipEntry("a" + i));
            }
        }
        assertThat(refusal(out.toByteArray()).key()).isEqualTo("ground.import.no-polygon");
        byte[] inner = zipped("doc.kml", kml(polygon()).getBytes(StandardCharsets.UTF_8));
        assertThat(refusal(zipped("again.kmz", inner)).key()).isEqualTo("ground.import.no-polygon");
        assertThat(refusal("<gpx><trk><trkseg>" + "<trkpt lat=\"50.8\" lon=\"0.1\"/>".repeat(120_000)
                                + "</trkseg></trk></gpx>")
                        .key())
                .isEqualTo("ground.polygon.too-many-corners");
        assertThat(refusal("<kml>" + "<Folder>".repeat(200_000)).key()).isEqualTo("ground.import.broken");
        assertThat(refusal(kml(polygon().replace("0.1,50.8", "1e999,50.8"))).key())
                .isEqualTo("ground.polygon.not-a-number");
    }

    @Test
    void twoFieldsAtOnceAreRefused() {
        assertThat(refusal(kml(polygon() + polygon())).key()).isEqualTo("ground.import.several");
        assertThat(refusal("{\"type\":\"FeatureCollection\",\"features\":[" + geoJson() + "," + geoJson() + "]}")
                        .key())
                .isEqualTo("ground.import.several");
    }

    @Test
    void swappedCoordinatesAndTheDateLineAreNamed() {
        assertThat(refusal("{\"type\":\"Polygon\",\"coordinates\":[[[-36.8,174.7],[-36.8,174.8],[-36.9,174.8]]]}")
                        .key())
                .isEqualTo("ground.polygon.swapped");
        assertThat(refusal("{\"type\":\"Polygon\",\"coordinates\":[[[179.999,10],[-179.999,10],[-179.999,10.001]]]}")
                        .key())
                .isEqualTo("ground.polygon.date-line");
        assertThat(refusal("{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1]]]}")
                        .key())
                .isEqualTo("ground.polygon.too-wide");
    }

    @Test
    void entitiesAndDocumentTypesAreNotRead() {
        String bomb =
                "<?xml version=\"1.0\"?><!DOCTYPE kml [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;\">]>"
                        + "<kml><Polygon><outerBoundaryIs><LinearRing><coordinates>&b;</coordinates></LinearRing></outerBoundaryIs></Polygon></kml>";
        assertThat(refusal(bomb).key()).isIn("ground.import.entities", "ground.import.broken");
        String outside =
                "<!DOCTYPE gpx [<!ENTITY x SYSTEM \"file:///etc/hostname\">]><gpx><wpt lat=\"&x;\" lon=\"1\"/></gpx>";
        assertThat(refusal(outside).key()).isIn("ground.import.entities", "ground.import.broken");
    }

    @Test
    void endlessPointsDeepNestingAndZipBombsAreRefused() throws IOException {
        String many = kml("<Polygon><outerBoundaryIs><LinearRing><coordinates>" + "0.1,50.8,0 ".repeat(200_000)
                + "</coordinates></LinearRing></outerBoundaryIs></Polygon>");
        assertThat(refusal(many).key()).isEqualTo("ground.polygon.too-many-corners");
        assertThat(refusal("{\"type\":\"GeometryCollection\",\"geometries\":[".repeat(5000))
                        .key())
                .isIn("ground.import.broken", "ground.import.too-deep");
        assertThat(refusal("[".repeat(100_000)).key()).isEqualTo("ground.import.unknown");
        assertThat(refusal(zipped("doc.kml", new byte[200_000_000])).key()).isEqualTo("ground.import.too-large");
        assertThat(refusal(new byte[BoundaryImport.MOST_BYTES + 1]).key()).isEqualTo("ground.import.too-large");
    }

    @Test
    void whatIsNoFieldFileIsSaidSo() {
        assertThat(refusal("").key()).isEqualTo("ground.import.empty");
        assertThat(refusal("hello").key()).isEqualTo("ground.import.unknown");
        assertThat(refusal("PK hello").key()).isIn("ground.import.unknown", "ground.import.no-polygon");
        assertThat(refusal("{\"type\":\"Poly").key()).isEqualTo("ground.import.broken");
        assertThat(refusal("<kml><Polygon>").key()).isEqualTo("ground.import.broken");
        assertThat(refusal("<html><body/></html>").key()).isEqualTo("ground.import.unknown");
        assertThat(refusal(kml("<Point><coordinates>1,2</coordinates></Point>")).key())
                .isEqualTo("ground.import.no-polygon");
        assertThat(refusal(
                                kml(
                                        "<Polygon><outerBoundaryIs><LinearRing><coordinates>1,x 2,3</coordinates></LinearRing></outerBoundaryIs></Polygon>"))
                        .key())
                .isEqualTo("ground.polygon.not-a-number");
    }
}
