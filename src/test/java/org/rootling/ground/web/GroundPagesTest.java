package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.util.stream.Stream;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.Drawn;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** From typed corners to rows and places, on the pages. */
@AppTest
class GroundPagesTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    TestVineyard vineyard;
    TestBrowser lead;

    @BeforeEach
    void aLead() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
    }

    private Answer block(String corners) {
        return lead.send("/blocks", "code", "b1", "name", "Long Piece", "boundary", corners);
    }

    @Test
    void fromCornersToRowsAndPlaces() {
        assertThat(lead.open("/blocks").page().text()).contains("No block yet");
        Answer made = lead.sendAndFollow("/blocks", "code", "b1", "name", "Long Piece", "boundary", GroundForms.OBLONG);
        assertThat(made.page().select("h1").text()).isEqualTo("B1 · Long Piece");
        assertThat(made.page().select("svg.plan polygon.boundary")).hasSize(1);

        Answer form = lead.open("/blocks/B1/layout");
        assertThat(form.status()).isEqualTo(200);
        Answer shown = lead.open("/blocks/B1/layout?show=1&rowSpacingM=2.2&vineSpacingM=1.2&headlandM=6&sideMarginM=2"
                + "&minVinesPerRow=3&alignment=ROW&version=0");
        assertThat(shown.page().select(".figure").text()).isEqualTo("680 vines in 17 rows");
        assertThat(shown.page().text()).contains("No other bearing or offset takes more vines.");

        Answer accepted = lead.sendAndFollow("/blocks/B1/layout", hidden(shown));
        assertThat(Drawn.marks(accepted.page(), "svg.plan path.place")).isEqualTo(680);
        assertThat(Drawn.marks(accepted.page(), "svg.plan path.post[stroke-linecap]"))
                .isEqualTo(34);
        assertThat(accepted.page().select("table a[href*=/rows/]")).hasSize(17);
        assertThat(vineyard.as(Role.HELPER).open("/blocks/B1").status()).isEqualTo(200);
    }

    /** What the form under a preview sends. */
    private static String[] hidden(Answer shown) {
        return shown.page().select("form[method=post] input[type=hidden]").stream()
                .filter(i -> !i.attr("name").startsWith("_"))
                .flatMap(i -> Stream.of(i.attr("name"), i.attr("value")))
                .toArray(String[]::new);
    }

    /** The same field by someone who reads feet: 7.2178 ft are 2.2 m, 3.937 ft 1.2 m (NIST SP 811: 1 ft = 0.3048 m). */
    @Test
    void whoReadsFeetTapesComparesAndAcceptsInFeet() throws Exception {
        mvc.perform(post("/account")
                .param("name", "Lew Lead")
                .param("locale", "en")
                .param("units", "us")
                .param("_contrast", "on")
                .with(csrf())
                .with(TestRequests.as(vineyard, Role.LEAD)));
        Answer taped = lead.open("/blocks/tape?show=1&corners=4&measures="
                + "1-2%20196.85%0A2-3%20131.23%0A3-4%2060.00%20m%0A4-1%20131.23%20ft%0A1-3%20236.59%0A2-4%20236.59");
        // 60 m by 40 m are 25,833 square feet
        assertThat(taped.page().select(".figure").text()).startsWith("25,8").contains(" ft² ± ");
        assertThat(taped.page().select("tbody").text()).contains("196.85 ft", " in");
        Answer wrong = lead.open("/blocks/tape?show=1&corners=4&measures="
                + "1-2%20196.85%0A2-3%20131.23%0A3-4%20196.85%0A4-1%20131.23%0A1-3%20236.59%0A2-4%20259.5");
        assertThat(wrong.page().select(".field.wrong .error").text()).containsPattern("would be \\d+\\.\\d\\d ft too");

        block("0 0\n196.8504 0\n60m 40m\n0 131.2336ft");
        assertThat(lead.open("/blocks/B1/boundary").page().select("#boundary").text())
                .contains("196.85 131.23");
        Answer shown = lead.open("/blocks/B1/layout?show=1&rowSpacingM=7.2178&vineSpacingM=3.937&headlandM=19.685"
                + "&sideMarginM=6.5617&rowBearingDeg=90&minVinesPerRow=3&alignment=ROW&version=0");
        assertThat(shown.page().select(".figure").text()).isEqualTo("680 vines in 17 rows");
        Element way = lead.open("/blocks/B1/choices").page().selectFirst("main tbody tr");
        assertThat(way).isNotNull();
        String there = way.select("a").attr("href");
        Answer chosen = lead.open(there.substring(there.indexOf("/blocks")));
        assertThat(chosen.page().select(".figure").text())
                .startsWith(way.select("td").get(2).text() + " vines");
        Answer accepted = lead.sendAndFollow("/blocks/B1/layout", hidden(shown));
        assertThat(Drawn.marks(accepted.page(), "svg.plan path.place")).isEqualTo(680);
        assertThat(accepted.page().text()).contains("7.22 ft between rows");
        Answer judged = lead.open("/blocks/B1/stake-out?widthM=98.4252&lengthM=131.2336&diagonalM=164.042");
        assertThat(judged.page().select(".alert.good").text()).contains("out by 0.0 in", "within 2 in");
        assertThat(judged.page().text()).contains("Each 1 in on a diagonal");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "0 0;40 40;40 0;0 40|crosses or touches itself near x 20",
                "0 0;40 0|at least three different corners",
                "0 0;9 nine;4 4|Line 2 is not two numbers",
                "0 0;0 1e9;4 4|Line 2 is not two numbers",
                "0 0;0.01 0;0 0.01|too little for a field",
                "0 0;0 99999;99999 0|Are the coordinates in metres?"
            })
    void wrongCornersAreSaidAtTheFieldAndKept(String corners, String said) {
        Answer answer = block(corners.replace(';', '\n'));
        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.page().select(".field.wrong .error").text()).contains(said);
        assertThat(answer.page().select("#boundary").text()).contains("0 0");
        assertThat(lead.open("/blocks").page().select(".card")).isEmpty();
    }

    @Test
    void absurdSpacingsAreSaidAtTheField() {
        block(GroundForms.OBLONG);
        for (String spacing : new String[] {"0", "1000000000", "abc", "-1", ""}) {
            Answer answer = lead.open("/blocks/B1/layout?show=1&vineSpacingM=1.2&rowSpacingM=" + spacing);
            assertThat(answer.status()).isEqualTo(200);
            assertThat(answer.page().select(".field.wrong #rowSpacingM"))
                    .as(spacing)
                    .hasSize(1);
            assertThat(answer.page().select("svg.plan")).isEmpty();
        }
    }

    @Test
    void textInFieldsStaysText() {
        Answer made = lead.sendAndFollow(
                "/blocks",
                "code",
                "X1",
                "name",
                "<script>alert(1)</script>'; drop table block; --",
                "boundary",
                GroundForms.OBLONG);
        assertThat(made.page().select("main script:not([src])")).isEmpty();
        assertThat(made.page().select("h1").text()).contains("<script>alert(1)</script>'; drop table block; --");
        assertThat(block("0 0 ".repeat(300_000)).page().select(".field.wrong")).isNotEmpty();
    }

    @Test
    void exclusionsAreKeptFreeAndOnesOutsideRefused() {
        block(GroundForms.OBLONG);
        Answer outside = lead.send("/blocks/B1/exclusions", "name", "Well", "exclusions", "200 200 3");
        assertThat(outside.page().select(".field.wrong .error").text()).contains("outside the boundary");
        Answer kept = lead.sendAndFollow("/blocks/B1/exclusions", "name", "Old oak", "exclusions", "30 20 3");
        assertThat(kept.page().select("polygon.exclusion")).hasSize(1);
        assertThat(kept.page().text()).contains("Old oak");
    }

    @Test
    void aStaleAcceptanceIsRefusedAndAnotherVineyardFindsNothing() {
        block(GroundForms.OBLONG);
        String[] fields = {
            "rowSpacingM", "2.2", "vineSpacingM", "1.2", "rowBearingDeg", "0", "firstRowOffsetM", "0", "version", "0"
        };
        lead.sendAndFollow("/blocks/B1/layout", fields);
        assertThat(lead.send("/blocks/B1/layout", fields).status()).isEqualTo(409);
        TestBrowser other = vineyards.fresh().as(Role.OWNER);
        assertThat(other.open("/blocks/B1").status()).isEqualTo(404);
        assertThat(other.send("/blocks/B1/layout", fields).status()).isEqualTo(404);
        assertThat(vineyard.as(Role.READER).send("/blocks/B1/layout", fields).status())
                .isEqualTo(403);
    }

    @Test
    void theSameFormSentTwiceIsTakenOnce() {
        String once = java.util.UUID.randomUUID().toString();
        String[] fields = {"once", once, "code", "D1", "name", "Twice", "boundary", GroundForms.OBLONG};
        assertThat(lead.send("/blocks", fields).status()).isEqualTo(302);
        lead.send("/blocks", fields);
        assertThat(lead.open("/blocks").page().select(".card")).hasSize(1);
    }
}
