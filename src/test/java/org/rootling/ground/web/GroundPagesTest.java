package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** From typed corners to rows and places, on the pages. */
@AppTest
class GroundPagesTest {
    @Autowired
    TestVineyards vineyards;

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
        Answer made =
                lead.sendAndFollow("/blocks", "code", "b1", "name", "Long Piece", "boundary", "0 0\n60 0\n60 40\n0 40");
        assertThat(made.page().select("h1").text()).isEqualTo("B1 · Long Piece");
        assertThat(made.page().select("svg.plan polygon.boundary")).hasSize(1);

        Answer form = lead.open("/blocks/B1/layout");
        assertThat(form.status()).isEqualTo(200);
        Answer shown = lead.open("/blocks/B1/layout?show=1&rowSpacingM=2.2&vineSpacingM=1.2&headlandM=6&sideMarginM=2"
                + "&minVinesPerRow=3&alignment=ROW&version=0");
        assertThat(shown.page().select(".figure").text()).isEqualTo("680 vines in 17 rows");
        assertThat(shown.page().text()).contains("No other bearing or offset takes more vines.");

        var accept = shown.page().select("form[method=post] input[type=hidden]");
        String[] fields = accept.stream()
                .filter(i -> !i.attr("name").startsWith("_"))
                .flatMap(i -> java.util.stream.Stream.of(i.attr("name"), i.attr("value")))
                .toArray(String[]::new);
        Answer accepted = lead.sendAndFollow("/blocks/B1/layout", fields);
        assertThat(accepted.page().select("svg.plan circle.place")).hasSize(680);
        assertThat(accepted.page().select("svg.plan rect.post")).hasSize(34);
        assertThat(accepted.page().select("table a[href*=/rows/]")).hasSize(17);
        assertThat(vineyard.as(Role.HELPER).open("/blocks/B1").status()).isEqualTo(200);
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
        block("0 0\n60 0\n60 40\n0 40");
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
                "0 0\n60 0\n60 40\n0 40");
        assertThat(made.page().select("main script:not([src])")).isEmpty();
        assertThat(made.page().select("h1").text()).contains("<script>alert(1)</script>'; drop table block; --");
        assertThat(block("0 0 ".repeat(300_000)).page().select(".field.wrong")).isNotEmpty();
    }

    @Test
    void exclusionsAreKeptFreeAndOnesOutsideRefused() {
        block("0 0\n60 0\n60 40\n0 40");
        Answer outside = lead.send("/blocks/B1/exclusions", "name", "Well", "exclusions", "200 200 3");
        assertThat(outside.page().select(".field.wrong .error").text()).contains("outside the boundary");
        Answer kept = lead.sendAndFollow("/blocks/B1/exclusions", "name", "Old oak", "exclusions", "30 20 3");
        assertThat(kept.page().select("polygon.exclusion")).hasSize(1);
        assertThat(kept.page().text()).contains("Old oak");
    }

    @Test
    void aStaleAcceptanceIsRefusedAndAnotherVineyardFindsNothing() {
        block("0 0\n60 0\n60 40\n0 40");
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
        String[] fields = {"once", once, "code", "D1", "name", "Twice", "boundary", "0 0\n60 0\n60 40\n0 40"};
        assertThat(lead.send("/blocks", fields).status()).isEqualTo(302);
        lead.send("/blocks", fields);
        assertThat(lead.open("/blocks").page().select(".card")).hasSize(1);
    }
}
