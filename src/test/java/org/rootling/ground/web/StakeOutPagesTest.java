package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.Drawn;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** From tape to printed sheet, and the ways round it. */
@AppTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class StakeOutPagesTest {
    private static final String MEASURES = "1-2 60.00%0A2-3 40.02%0A3-4 59.97%0A4-1 40.00%0A1-3 72.12%0A2-4 72.10";

    @Autowired
    TestVineyards vineyards;

    TestVineyard vineyard;
    TestBrowser lead;

    /** One taped block with rows serves all that only read; who changes rows makes a block of their own. */
    @BeforeAll
    void aTapedBlockWithRows() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        lead.sendAndFollow(
                "/blocks/tape",
                "corners",
                "4",
                "measures",
                MEASURES.replace("%0A", "\n"),
                "inward",
                "",
                "code",
                "T1",
                "name",
                "Taped");
        GroundForms.layOut(lead, "T1", 90, 0);
    }

    // The legend under a plan holds one mark of each kind: it is taken off where places are counted.

    @Test
    void tapedSidesAreSolvedWithTheMisfitOfEach() {
        Answer shown = lead.open("/blocks/tape?show=1&corners=4&measures=" + MEASURES.replace(" ", "%20"));
        // Heron's formula (textbook) over the two triangles beside either diagonal gives 2,400.0 square metres.
        String area = shown.page().select(".figure").text();
        assertThat(Double.parseDouble(area.replaceAll(" .*", "").replace(",", "")))
                .isBetween(2399.5, 2400.5);
        assertThat(shown.page().select("tbody tr")).hasSize(6);
        assertThat(shown.page().text()).contains("One measure more than needed");
        assertThat(lead.open("/blocks/T1").page().text()).contains("measured with a tape");
    }

    @Test
    void measuresThatCannotBeAreSaidAtTheField() {
        Answer open = lead.open("/blocks/tape?show=1&corners=4&measures=1-2%2060%0A2-3%2040%0A3-4%2060%0A4-1%2040");
        assertThat(open.page().select(".field.wrong .error").text()).contains("diagonal from corner 1 to corner 3");
        Answer wrong = lead.open("/blocks/tape?show=1&corners=4&measures="
                + MEASURES.replace("72.10", "79.10").replace(" ", "%20"));
        assertThat(wrong.page().select(".field.wrong .error").text()).contains("do not close");
        assertThat(lead.open("/blocks/tape?show=1&corners=abc&measures=1").status())
                .isEqualTo(200);
        assertThat(lead.open("/blocks/tape?show=1&corners=4&measures=hello")
                        .page()
                        .select(".field.wrong .error")
                        .text())
                .contains("Line 1 is not a measure");
    }

    @Test
    void theSheetSaysWhatToMeasureAndJudgesWhatWasMeasured() {
        Answer sheet = lead.open("/blocks/T1/stake-out");
        assertThat(sheet.page().text()).contains("Peg A", "The right angle", "Both diagonals must read");
        assertThat(sheet.page().select(".caution").text()).contains("buried");
        Answer fine = lead.open("/blocks/T1/stake-out?widthM=30&lengthM=40&diagonalM=50");
        assertThat(fine.page().select(".alert.good").text()).contains("Accept");
        // L16: 30 and 40 m with a diagonal of 50.20 m
        Answer out = lead.open("/blocks/T1/stake-out?widthM=30&lengthM=40&diagonalM=50.20");
        assertThat(out.page().select(".alert").text()).contains("90.48");
        assertThat(lead.open("/blocks/T1/stake-out?widthM=abc").status()).isEqualTo(200);
        assertThat(lead.open("/blocks/T1/stake-out/steps?step=5").page().select(".figure"))
                .hasSize(1);
        assertThat(lead.open("/blocks/T1/stake-out/steps?step=999").status()).isEqualTo(200);
    }

    @Test
    void theSheetPrintsAsPdf() {
        var response = lead.open("/blocks/T1/stake-out.pdf").raw().getResponse();
        assertThat(response.getStatus()).isEqualTo(200);
        assertThat(response.getContentType()).isEqualTo("application/pdf");
        assertThat(new String(response.getContentAsByteArray(), 0, 5, StandardCharsets.ISO_8859_1))
                .isEqualTo("%PDF-");
    }

    @Test
    void pointsGoOutAsCsvAndWithAPlaceOnEarthAsGpxAndGeoJson() {
        String csv = lead.open("/blocks/T1/points.csv").body();
        int places = Drawn.marks(lead.open("/blocks/T1").page(), "svg.plan path.place");
        assertThat(csv.lines().filter(l -> l.contains(",place,"))).hasSize(places);
        assertThat(lead.open("/blocks/T1/points.gpx").page().text()).contains("no place on Earth");

        assertThat(GroundForms.imported(lead, "I1").status()).isEqualTo(302);
        GroundForms.layOut(lead, "I1", 0, 0);
        assertThat(lead.open("/blocks/I1/points.gpx").body()).contains("<wpt lat=\"50.800");
        assertThat(lead.open("/blocks/I1/points.geojson").body()).contains("\"coordinates\":[0.100");
    }

    @Test
    void aBrokenFileIsSaidAtItsField() {
        Answer broken = lead.upload(
                "/blocks/import",
                "file",
                "x.kml",
                "<kml><Polygon>".getBytes(StandardCharsets.UTF_8),
                "code",
                "I2",
                "name",
                "Broken");
        assertThat(broken.status()).isEqualTo(200);
        assertThat(broken.page().select("#file-error").text()).contains("not well-formed");
    }

    @Test
    void layoutsStandSideBySideAndVinesInHandFindTheirSpacing() {
        Answer choices = lead.open("/blocks/T1/choices");
        assertThat(choices.page().select("tbody tr")).hasSizeGreaterThanOrEqualTo(3);
        assertThat(choices.page().select("svg.plan")).hasSizeGreaterThanOrEqualTo(3);
        assertThat(lead.open("/blocks/T1/choices?headlandM=abc").status()).isEqualTo(200);
        Answer ways = lead.open("/blocks/T1/vines-in-hand?vines=600");
        assertThat(ways.page().select("tbody tr")).isNotEmpty();
        assertThat(ways.page().select("tbody tr").get(0).text()).contains("vines");
        assertThat(lead.open("/blocks/T1/vines-in-hand?vines=abc").status()).isEqualTo(200);
    }

    @Test
    void aWalkedFieldSaysWhatItsAccuracyMeans() {
        Answer walked = lead.sendAndFollow(
                "/blocks/walk",
                "code",
                "W1",
                "name",
                "Walked",
                "fixes",
                "0.1 50.8 4\n0.1009 50.8 5\n0.1009 50.8005 4\n0.1 50.8005 6");
        assertThat(walked.page().text()).contains("the area is known to ±");
    }

    @Test
    void rowsAreRenumberedTurnedLengthenedAndSplitWithoutMovingAPlace() {
        GroundForms.oblong(lead, "R1");
        GroundForms.layOut(lead, "R1", 90, 0);
        Answer before = lead.open("/blocks/R1");
        int places = Drawn.marks(before.page(), "svg.plan path.place");
        assertThat(lead.open("/blocks/R1/rows/change").status()).isEqualTo(200);
        lead.sendAndFollow("/blocks/R1/rows/renumber", "version", version("R1"));
        lead.sendAndFollow("/blocks/R1/rows/reverse", "version", version("R1"), "row", "2");
        Answer tooLong = lead.send("/blocks/R1/rows/lengthen", "version", version("R1"), "row", "1", "by", "500");
        assertThat(tooLong.page().select(".error").text()).contains("at most");
        lead.sendAndFollow(
                "/blocks/R1/rows/split", "version", version("R1"), "row", "5", "newCode", "R2", "name", "Far");
        assertThat(lead.open("/blocks/R1").page().select("table a[href*=/rows/]"))
                .hasSize(4);
        int together = Drawn.marks(lead.open("/blocks/R1").page(), "svg.plan path.place")
                + Drawn.marks(lead.open("/blocks/R2").page(), "svg.plan path.place");
        assertThat(together).isEqualTo(places);
        assertThat(lead.send("/blocks/R1/rows/reverse", "version", "0", "row", "1")
                        .status())
                .isEqualTo(409);
    }

    private String version(String code) {
        return lead.open("/blocks/" + code + "/rows/change")
                .page()
                .select("input[name=version]")
                .get(0)
                .attr("value");
    }
}
