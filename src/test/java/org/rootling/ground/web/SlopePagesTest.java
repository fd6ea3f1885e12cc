package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.DoubleSummaryStatistics;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** A block on a slope, on the pages and through the API: 60 by 40 m on the map, falling 75 % to the north. */
@AppTest
class SlopePagesTest {
    private static final String PREVIEW = "?show=1&rowSpacingM=2.2&vineSpacingM=1.2&headlandM=6&sideMarginM=2"
            + "&firstRowOffsetM=0&minVinesPerRow=3&version=1&rowBearingDeg=";

    @Autowired
    TestVineyards vineyards;

    TestVineyard vineyard;
    TestBrowser lead;

    @BeforeEach
    void aBlock() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        GroundForms.oblong(lead, "H1");
    }

    private Answer slope(String steepness, String in, String towards, String measured, String version) {
        return lead.send(
                "/blocks/H1/slope",
                "steepness",
                steepness,
                "steepIn",
                in,
                "downhillDeg",
                towards,
                "measured",
                measured,
                "version",
                version);
    }

    @Test
    void lengthsAreThoseOfTheGroundAndBothAreasAreSaid() {
        assertThat(lead.open("/blocks/H1/slope").status()).isEqualTo(200);
        assertThat(slope("75", "PERCENT", "0", "LEVEL", "0").status()).isEqualTo(302);
        // 3-4-5: 75 % make 4 m of map 5 m of ground
        Answer block = lead.open("/blocks/H1");
        assertThat(block.page().text()).contains("0.240 ha on the map, 0.300 ha along the ground", "75.0 % (36.9°)");
        assertThat(block.page().select("td.num").text()).contains("50.00 m");
        assertThat(size(block.page().select("svg.plan .boundary").attr("points")))
                .as("drawn along the ground, where the rows lie")
                .containsExactly(new double[] {60, 50}, within(1e-6));
        Answer down = lead.open("/blocks/H1/layout" + PREVIEW + "0");
        assertThat(down.page().select(".figure").text()).isEqualTo("806 vines in 26 rows");
        Answer across = lead.open("/blocks/H1/layout" + PREVIEW + "90");
        assertThat(across.page().select(".figure").text()).isEqualTo("840 vines in 21 rows");
        Answer choices = lead.open("/blocks/H1/choices");
        assertThat(choices.page().select("tbody").text())
                .contains("up and down the slope", "across the slope", "75.0 %");
        assertThat(lead.open("/blocks/H1/boundary").page().select("#boundary").text())
                .contains("60 40");
    }

    /** Width and height of these points. */
    private static double[] size(String points) {
        double[] all = Pattern.compile("\\s+")
                .splitAsStream(points)
                .mapToDouble(Double::parseDouble)
                .toArray();
        double[] size = new double[2];
        for (int axis = 0; axis < 2; axis++) {
            int first = axis;
            DoubleSummaryStatistics along = IntStream.range(0, all.length / 2)
                    .mapToDouble(i -> all[2 * i + first])
                    .summaryStatistics();
            size[axis] = along.getMax() - along.getMin();
        }
        return size;
    }

    @Test
    void cornersMeasuredAlongTheGroundAreShorterOnTheMap() {
        slope("36.869897645844", "DEGREES", "180", "GROUND", "0");
        assertThat(lead.open("/blocks/H1").page().text()).contains("0.192 ha on the map, 0.240 ha along the ground");
        assertThat(lead.open("/blocks/H1/layout" + PREVIEW + "0")
                        .page()
                        .select(".figure")
                        .text())
                .isEqualTo("598 vines in 26 rows");
    }

    @Test
    void anotherSlopeTakesTheRowsOutOfUse() {
        GroundForms.layOut(lead, "H1", 0, 0);
        assertThat(lead.open("/blocks/H1/slope").page().text()).contains("rows laid out so far");
        assertThat(slope("10", "PERCENT", "90", "LEVEL", "0").status()).isEqualTo(409);
        assertThat(slope("10", "PERCENT", "90", "LEVEL", "1").status()).isEqualTo(302);
        assertThat(lead.open("/blocks/H1").page().select("table a[href*=/rows/]"))
                .isEmpty();
    }

    @Test
    void whatIsNoSlopeIsSaidAtItsField() {
        for (String wrong : new String[] {"abc", "-1", "101", "1e9", ""}) {
            Answer answer = slope(wrong, "PERCENT", "0", "LEVEL", "0");
            assertThat(answer.status()).as(wrong).isEqualTo(200);
            assertThat(answer.page().select(".field.wrong #steepness"))
                    .as(wrong)
                    .hasSize(1);
        }
        assertThat(slope("46", "DEGREES", "0", "LEVEL", "0")
                        .page()
                        .select(".field.wrong .error")
                        .text())
                .contains("100", "45");
        assertThat(slope("5", "PERCENT", "400", "LEVEL", "0").page().select(".field.wrong #downhillDeg"))
                .hasSize(1);
        assertThat(slope("5", "FURLONGS", "0", "LEVEL", "0").page().select(".field.wrong #steepIn"))
                .hasSize(1);
        assertThat(vineyard.as(Role.HELPER).open("/blocks/H1/slope").status()).isEqualTo(403);
    }

    @Test
    void pointsOnEarthLieInsideTheFieldOfTheMap() {
        GroundForms.imported(lead, "I1");
        lead.sendAndFollow(
                "/blocks/I1/slope",
                "steepness",
                "60",
                "steepIn",
                "PERCENT",
                "downhillDeg",
                "200",
                "measured",
                "LEVEL",
                "version",
                "0");
        lead.sendAndFollow(
                "/blocks/I1/layout",
                "rowSpacingM",
                "2.2",
                "vineSpacingM",
                "1.2",
                "headlandM",
                "0",
                "sideMarginM",
                "0.1",
                "rowBearingDeg",
                "20",
                "version",
                "1");
        var waypoints = Pattern.compile("lat=\"([\\d.]+)\" lon=\"([\\d.]+)\"")
                .matcher(lead.open("/blocks/I1/points.gpx").body());
        int seen = 0;
        while (waypoints.find()) {
            assertThat(Double.parseDouble(waypoints.group(1))).isBetween(50.8, 50.8005);
            assertThat(Double.parseDouble(waypoints.group(2))).isBetween(0.1, 0.1009);
            seen++;
        }
        assertThat(seen).isGreaterThan(1000);
    }

    @Test
    void theApiTakesASlopeToo() {
        String body = "{\"boundary\":{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[60,0],[60,40],[0,40],[0,0]]]},"
                + "\"rowSpacingM\":2.2,\"vineSpacingM\":1.2,\"headlandM\":6,\"sideMarginM\":2,\"rowBearingDeg\":0,"
                + "\"firstRowOffsetM\":0,\"slopePercent\":%s,\"downhillDeg\":0}";
        var answer = TestApi.post(vineyard, Role.READER, "/api/v1/layout-previews", body.formatted("75"));
        assertThat(answer.json().path("vines").intValue()).as(answer.body()).isEqualTo(806);
        assertThat(answer.json().path("areaM2").doubleValue()).isEqualTo(3000);
        // 6 m of headland along the ground are 4.8 m of map
        assertThat(answer.json().path("rows").get(0).path("start").get(1).doubleValue())
                .isEqualTo(4.8);
        var steep = TestApi.post(vineyard, Role.READER, "/api/v1/layout-previews", body.formatted("1000"));
        assertThat(steep.status()).isEqualTo(422);
    }
}
