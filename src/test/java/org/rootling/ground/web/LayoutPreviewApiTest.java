package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestApi.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Fitting rows through the API, as a reader's program would. */
@AppTest
class LayoutPreviewApiTest {
    private static final String RECTANGLE = "[[[0,0],[60,0],[60,40],[0,40],[0,0]]]";
    private static final double FOOT = 0.3048;

    @Autowired
    TestVineyards vineyards;

    TestVineyard vineyard;

    @BeforeEach
    void aVineyard() {
        vineyard = vineyards.fresh();
    }

    private Answer preview(String body) {
        return TestApi.post(vineyard, Role.READER, "/api/v1/layout-previews", body);
    }

    private static String body(String coordinates, String more) {
        return "{\"boundary\":{\"type\":\"Polygon\",\"coordinates\":" + coordinates + "}," + more + "}";
    }

    private static String spacing(double row, double vine) {
        return "\"rowSpacingM\":" + row + ",\"vineSpacingM\":" + vine;
    }

    private void refused(Answer answer, String reason, String field) {
        assertThat(answer.status()).as(answer.body()).isEqualTo(422);
        assertThat(answer.contentType()).startsWith("application/problem+json");
        assertThat(answer.json().path("reason").asString()).isEqualTo(reason);
        assertThat(answer.json().path("field").asString()).isEqualTo(field);
        assertThat(answer.json().path("detail").asString()).isNotBlank().doesNotContain(reason);
        assertThat(answer.body()).doesNotContain("Exception", "\tat ");
    }

    @Test
    void rowsComeNumberedAcrossWithPostsLengthsAndVines() {
        Answer answer = preview(body(
                RECTANGLE,
                spacing(2.2, 1.2)
                        + ",\"coordinates\":\"metres\",\"exclusions\":[],\"headlandM\":6,\"sideMarginM\":2,\"endGapM\":0.6,"
                        + "\"rowBearingDeg\":0,\"firstRowOffsetM\":0,\"minVinesPerRow\":3"));
        assertThat(answer.status()).as(answer.body()).isEqualTo(200);
        assertThat(answer.json().path("rowCount").intValue()).isEqualTo(26);
        assertThat(answer.json().path("vines").intValue()).isEqualTo(26 * 23);
        assertThat(answer.json().path("areaM2").doubleValue()).isEqualTo(2400);
        assertThat(answer.json().path("grossVinesPerHectare").doubleValue()).isEqualTo(3787.9);
        var row = answer.json().path("rows").get(0);
        assertThat(row.path("number").intValue()).isEqualTo(1);
        assertThat(row.path("segment").intValue()).isEqualTo(1);
        assertThat(row.path("start").get(0).doubleValue()).isEqualTo(2);
        assertThat(row.path("start").get(1).doubleValue()).isEqualTo(6);
        assertThat(row.path("end").get(1).doubleValue()).isEqualTo(33.6);
        assertThat(row.path("lengthM").doubleValue()).isEqualTo(27.6);
        assertThat(row.path("vines").intValue()).isEqualTo(23);
        assertThat(answer.json().path("warnings").size()).isZero();
    }

    /**
     * L01 Iowa State University, Cost of Establishing a Vineyard in Iowa; L02 Read, University of Nebraska; L03 Carpio
     * and Safley, NC State University; L04, L05 biologyinsights.com; L06 avvwine.com.
     */
    @ParameterizedTest
    @CsvSource({
        "L01, 9, 7, 691, 0.5",
        "L02, 10, 8, 545, 0.51",
        "L03, 10, 7, 622, 0.5",
        "L04, 10, 6, 726, 0.5",
        "L05, 8, 4, 1361, 0.5",
        "L06, 12, 8, 454, 0.5"
    })
    void publishedVinesPerAcre(String id, double row, double vine, double published, double tolerance) {
        Answer answer = preview(
                body(RECTANGLE, spacing(row * FOOT, vine * FOOT) + ",\"rowBearingDeg\":0,\"firstRowOffsetM\":0"));
        double perAcre = answer.json().path("grossVinesPerHectare").doubleValue() / 2.47105;
        assertThat(perAcre).as(id).isCloseTo(published, within(tolerance));
    }

    @Test
    void degreesAreProjectedLocallyAndRowsComeBackInDegrees() {
        String ring = "[[[0.1,50.8],[0.1008,50.8],[0.1008,50.8005],[0.1,50.8005],[0.1,50.8]]]";
        Answer answer = preview(
                body(
                        ring,
                        spacing(2.2, 1.2)
                                + ",\"coordinates\":\"wgs84\",\"headlandM\":6,\"sideMarginM\":2,\"rowBearingDeg\":0,\"firstRowOffsetM\":0"));
        assertThat(answer.status()).as(answer.body()).isEqualTo(200);
        // one degree of longitude at 50.8 north is 70.5 km, of latitude 111.25 km: 56.4 by 55.6 m
        assertThat(answer.json().path("areaM2").doubleValue()).isBetween(3100.0, 3160.0);
        var start = answer.json().path("rows").get(0).path("start");
        assertThat(start.get(0).doubleValue()).isBetween(0.1, 0.1001);
        assertThat(start.get(1).doubleValue()).isBetween(50.8, 50.8001);
    }

    @Test
    void withNothingGivenTheFullestBearingAndOffsetAreFound() {
        Answer answer = preview(
                body(RECTANGLE, spacing(2.2, 1.2) + ",\"headlandM\":6,\"sideMarginM\":2,\"rowBearingDeg\":null"));
        assertThat(answer.json().path("vines").intValue()).isEqualTo(680);
        assertThat(answer.json().path("mostVines").intValue()).isEqualTo(680);
    }

    @Test
    void whatIsNoFieldIsRefusedAtTheBoundary() {
        String fine = spacing(2.2, 1.2);
        refused(
                preview(body("[[[0,0],[40,40],[40,0],[0,40],[0,0]]]", fine)),
                "ground.polygon.crosses-itself",
                "boundary");
        refused(preview(body("[[[0,0],[40,0],[0,0]]]", fine)), "ground.polygon.too-few-corners", "boundary");
        refused(
                preview(body("[[[0,0],[100,0],[100,0.004],[0,0.004],[0,0]]]", fine)),
                "ground.polygon.no-area",
                "boundary");
        refused(preview(body("[]", fine)), "ground.import.no-polygon", "boundary");
        refused(preview(body("[[[0,\"x\"],[1,1],[0,1]]]", fine)), "ground.polygon.not-a-number", "boundary");
        refused(
                preview("{\"boundary\":{\"type\":\"MultiPolygon\",\"coordinates\":[" + RECTANGLE + "," + RECTANGLE
                        + "]}," + fine + "}"),
                "ground.import.several",
                "boundary");
        refused(
                preview(body("[[[0.1,91],[50.8,91],[50.8,92]]]", fine + ",\"coordinates\":\"wgs84\"")),
                "ground.polygon.swapped",
                "boundary");
        refused(
                preview(body(
                        "[[[179.99,10],[-179.99,10],[-179.99,10.01],[179.99,10.01]]]",
                        fine + ",\"coordinates\":\"wgs84\"")),
                "ground.polygon.date-line",
                "boundary");
    }

    @Test
    void tenThousandCornersAreRefused() {
        StringBuilder ring = new StringBuilder("[[");
        for (int i = 0; i < 10_000; i++) {
            double turn = 2 * Math.PI * i / 10_000;
            ring.append(i == 0 ? "[" : ",[")
                    .append(100 * Math.cos(turn))
                    .append(',')
                    .append(100 * Math.sin(turn))
                    .append(']');
        }
        refused(preview(body(ring + "]]", spacing(2.2, 1.2))), "ground.polygon.too-many-corners", "boundary");
    }

    @Test
    void anExclusionOutsideIsRefused() {
        String outside = "{\"type\":\"Polygon\",\"coordinates\":[[[100,0],[110,0],[110,10],[100,0]]]}";
        refused(
                preview(body(RECTANGLE, spacing(2.2, 1.2) + ",\"exclusions\":[" + outside + "]")),
                "ground.polygon.exclusion-outside",
                "exclusions");
    }

    @Test
    void aHoleOutsideIsRefused() {
        String holed = "[[[0,0],[60,0],[60,40],[0,40],[0,0]],[[100,10],[150,10],[150,30],[100,10]]]";
        Answer answer = preview(body(holed, spacing(2.2, 1.2)));
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.json().path("reason").asString()).isEqualTo("ground.polygon.exclusion-outside");
    }

    @Test
    void clockwiseAndUnclosedRingsAreTheSameField() {
        String asked = spacing(2.2, 1.2) + ",\"headlandM\":6,\"rowBearingDeg\":0";
        String body = preview(body(RECTANGLE, asked)).body();
        assertThat(preview(body("[[[0,0],[60,0],[60,40],[0,40]]]", asked)).body())
                .isEqualTo(body);
        assertThat(preview(body("[[[0,0],[0,40],[60,40],[60,0],[0,0]]]", asked))
                        .json()
                        .path("vines"))
                .isEqualTo(preview(body(RECTANGLE, asked)).json().path("vines"));
    }

    @Test
    void spacingsOutOfAllReasonAreRefusedAtTheirField() {
        refused(preview(body(RECTANGLE, spacing(0, 1.2))), "ground.layout.between", "rowSpacingM");
        refused(preview(body(RECTANGLE, spacing(2.2, 1e9))), "ground.layout.between", "vineSpacingM");
        refused(preview(body(RECTANGLE, spacing(2.2, -1))), "ground.layout.between", "vineSpacingM");
        refused(
                preview(body(RECTANGLE, spacing(2.2, 1.2) + ",\"rowBearingDeg\":180")),
                "ground.layout.bearing",
                "rowBearingDeg");
        refused(
                preview(body(RECTANGLE, spacing(2.2, 1.2) + ",\"coordinates\":\"feet\"")),
                "ground.preview.coordinates",
                "coordinates");
    }

    @Test
    void whatCannotBeReadIsABadRequest() {
        assertThat(preview("{").status()).isEqualTo(400);
        assertThat(preview("[]").status()).isEqualTo(400);
        assertThat(preview("{\"rowSpacingM\":2,\"vineSpacingM\":1}").status()).isIn(400, 422);
        assertThat(preview(body(RECTANGLE, "\"vineSpacingM\":1")).status()).isEqualTo(400);
        assertThat(preview(body(RECTANGLE, "\"rowSpacingM\":\"wide\",\"vineSpacingM\":1"))
                        .status())
                .isEqualTo(400);
    }

    @Test
    void holesCountAsExclusions() {
        String holed = "[[[0,0],[60,0],[60,40],[0,40],[0,0]],[[10,10],[50,10],[50,30],[10,30],[10,10]]]";
        Answer whole = preview(body(RECTANGLE, spacing(2.2, 1.2) + ",\"rowBearingDeg\":0,\"firstRowOffsetM\":0.5"));
        Answer less = preview(body(holed, spacing(2.2, 1.2) + ",\"rowBearingDeg\":0,\"firstRowOffsetM\":0.5"));
        assertThat(less.json().path("vines").intValue())
                .isLessThan(whole.json().path("vines").intValue() - 200);
        int second = 0;
        for (var row : less.json().path("rows")) {
            second += row.path("segment").intValue() == 2 ? 1 : 0;
        }
        assertThat(second).isPositive();
    }

    @Test
    void theSameQuestionGetsTheSameAnswer() {
        Random random = new Random(7);
        List<String> corners = new ArrayList<>();
        for (int i = 0; i < 9; i++) {
            double turn = 2 * Math.PI * i / 9;
            double r = 40 + 20 * random.nextDouble();
            corners.add("[" + r * Math.cos(turn) + "," + r * Math.sin(turn) + "]");
        }
        String question = body("[[" + String.join(",", corners) + "]]", spacing(2.2, 1.2) + ",\"headlandM\":5");
        assertThat(preview(question).body()).isEqualTo(preview(question).body());
    }
}
