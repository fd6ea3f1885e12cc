package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.time.LocalDate;
import java.util.List;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.training.domain.Shoots;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.test.web.servlet.MockMvc;

@AppTest
@Import(TestField.class)
class YearOnePagesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    Shoots shoots;

    @Autowired
    MockMvc mvc;

    private TestVineyard vineyard;
    private TestField.Field field;
    private UUID row;
    private LocalDate today;
    private TestBrowser helper;

    @BeforeEach
    void aPlantedRow() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 60);
        row = field.row(1).id();
        today = fields.today(vineyard);
        plant(row, 1, 12, today.minusDays(20));
        helper = vineyard.as(Role.HELPER);
    }

    private void plant(UUID into, int first, int last, LocalDate on) {
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                into,
                IntStream.rangeClosed(first, last).boxed().collect(Collectors.toCollection(TreeSet::new)),
                field.lot(),
                on,
                vineyard.account(Role.HELPER))));
    }

    private VineState state(int place) {
        return vineyard.inside(() -> vines.at(row, place)).orElseThrow().state();
    }

    @Test
    void the_overview_names_blocks_with_what_is_late() {
        String text = vineyard.as(Role.READER).open("/year-one").page().text();
        assertThat(text)
                .contains("B2")
                .contains("12 of 12 alive")
                .contains("late")
                .contains("Water in");
    }

    @Test
    void a_block_shows_when_and_why_and_its_rows() {
        TestBrowser.Answer page = helper.open("/year-one/B2");
        assertThat(page.status()).isEqualTo(200);
        assertThat(page.page().text())
                .contains("1 days after planting")
                .contains("about 10 cm")
                .contains("common practice, no source")
                .contains("r1");
    }

    @Test
    void a_row_shows_every_place_with_shape_colour_and_word() {
        TestBrowser.Answer page = vineyard.as(Role.READER).open("/rows/" + row);
        assertThat(page.page().select("ol.vine-row > li")).hasSize(20);
        assertThat(page.page().select("ol.vine-row a svg path.mark.planted")).hasSize(12);
        assertThat(page.page().select("ol.vine-row a").first().attr("aria-label"))
                .isEqualTo("Place 1: planted");
        assertThat(page.page().select("form[action$=/walk]")).isEmpty();
    }

    @Test
    void a_walk_names_the_exceptions_and_all_others_at_once() {
        TestBrowser.Answer page = helper.sendAndFollow(
                "/rows/" + row + "/walk",
                "rest",
                "GROWING",
                "weak",
                "3-4",
                "dead",
                "7",
                "missing",
                "12",
                "on",
                today.toString());
        assertThat(page.page().text()).contains("2 weak: 3-4").contains("1 dead: 7");
        assertThat(state(1)).isEqualTo(VineState.GROWING);
        assertThat(state(4)).isEqualTo(VineState.WEAK);
        assertThat(state(12)).isEqualTo(VineState.MISSING);
        helper.sendAndFollow("/rows/" + row + "/walk", "rest", "GROWING", "on", today.toString());
        assertThat(state(7)).isEqualTo(VineState.DEAD);
    }

    @Test
    void alive_again_without_a_reason_is_refused_at_the_note() {
        helper.sendAndFollow("/rows/" + row + "/walk", "dead", "7", "on", today.toString());
        TestBrowser.Answer again = helper.send("/rows/" + row + "/walk", "growing", "7", "on", today.toString());
        assertThat(again.status()).isEqualTo(200);
        assertThat(again.page().select("#note-error").text()).contains("Say why");
        assertThat(state(7)).isEqualTo(VineState.DEAD);
        helper.sendAndFollow("/rows/" + row + "/walk", "growing", "7", "note", "it shot late", "on", today.toString());
        assertThat(state(7)).isEqualTo(VineState.GROWING);
    }

    @Test
    void ticks_are_taken_by_runs_with_exceptions() {
        String stake =
                helper.open("/year-one/B2").page().select("#item-stake-upright").attr("value");
        TestBrowser.Answer page = helper.sendAndFollow(
                "/year-one/B2/ticks", "items", stake, "runs", "r1 1-10 but 7", "on", today.toString());
        assertThat(page.page().text()).contains("9 of 12 vines");
        TestBrowser.Answer rowPage = helper.sendAndFollow(
                "/rows/" + row + "/ticks", "items", stake, "tickPlaces", "", "tickBut", "", "tickOn", today.toString());
        assertThat(rowPage.page().text()).contains("Stake upright and firm 1-12");
        TestBrowser.Answer refused =
                helper.send("/rows/" + row + "/ticks", "items", stake, "tickPlaces", "99", "tickOn", today.toString());
        assertThat(refused.page().select("#tickPlaces-error")).hasSize(1);
        assertThat(refused.page().select("[name=items][checked]").eachAttr("value"))
                .containsExactly(stake);
        vineyard.reads(Role.HELPER, "metric", "de");
        assertThat(helper.open("/rows/" + row).page().text())
                .contains("Pflanzstab aufrecht und fest 1-12")
                .doesNotContain("Stake upright");
    }

    @Test
    void a_vine_tells_where_it_came_from_and_everything_since() {
        helper.sendAndFollow("/rows/" + row + "/walk", "weak", "2", "note", "pale leaves", "on", today.toString());
        UUID vine = vineyard.inside(() -> vines.at(row, 2)).orElseThrow().id();
        helper.sendAndFollow(
                "/vines/" + vine + "/looks",
                "state",
                "GROWING",
                "shoots",
                "2",
                "height",
                "1 ft 2 in",
                "stage",
                "13",
                "chosen",
                "true",
                "on",
                today.toString(),
                "note",
                "better");
        String text = vineyard.as(Role.READER).open("/vines/" + vine).page().text();
        assertThat(text)
                .contains(field.lotCode())
                .contains("Pinot noir / SO4")
                .contains("Fennimore Vines")
                .contains("FV-77")
                .contains("by Hana Helper")
                .contains("pale leaves")
                .contains("better")
                .contains("36 cm")
                .contains("13 Third leaf unfolded")
                .contains("one shoot chosen");
    }

    /** 1 ft = 30.48 cm and 1 in = 2.54 cm exactly (international yard and pound agreement, 1959). */
    @Test
    void heights_are_typed_and_shown_in_the_units_of_the_person() throws Exception {
        UUID vine = vineyard.inside(() -> vines.at(row, 3)).orElseThrow().id();
        String looks = "/vines/" + vine + "/looks";
        String yesterday = today.minusDays(1).toString();
        assertThat(helper.sendAndFollow(looks, "height", "4 ft", "on", yesterday)
                        .page()
                        .text())
                .contains("– / 122 cm");
        assertThat(helper.send(looks, "height", "1.2", "on", yesterday)
                        .page()
                        .select("#height-error")
                        .text())
                .contains("is not clear", "whole number of cm");
        // 4 once more, this time meant as feet: less than half of what stood there yesterday
        assertThat(helper.send(looks, "height", "4", "on", today.toString())
                        .page()
                        .select("#height-error")
                        .text())
                .contains("4 cm is less than half of the 122 cm");
        assertThat(helper.send(looks, "height", "60 ft", "on", today.toString())
                        .page()
                        .select("#height-error")
                        .text())
                .contains("Taller than 500 cm");

        assertThat(mvc.perform(post("/account")
                                .param("name", "Hana Helper")
                                .param("locale", "en")
                                .param("units", "us")
                                .with(csrf())
                                .with(TestRequests.as(vineyard, Role.HELPER)))
                        .andReturn()
                        .getResponse()
                        .getStatus())
                .isEqualTo(302);
        assertThat(helper.open("/vines/" + vine).page().text()).contains("– / 48 in");
        assertThat(helper.sendAndFollow(looks, "height", "50", "on", today.toString())
                        .page()
                        .text())
                .contains("– / 50 in");
        assertThat(vineyard.inside(() -> shoots.ofVine(vine)).get(0).heightCm()).isEqualTo(127);
        Document taps = helper.open("/rows/" + row + "/shoots").page();
        assertThat(taps.select("fieldset.taps").first().text()).contains("Height, in");
        assertThat(taps.select("input[name='height[1]']").eachAttr("value")).startsWith("5", "10", "20", "30");
    }

    @Test
    void a_replacement_is_planted_from_the_row_page() {
        helper.sendAndFollow("/rows/" + row + "/walk", "dead", "5", "on", today.toString());
        TestBrowser lead = vineyard.as(Role.LEAD);
        assertThat(lead.open("/rows/" + row + "/plant").page().select("#places").attr("value"))
                .isEqualTo("5");
        lead.sendAndFollow(
                "/rows/" + row + "/plant", "lot", field.lot().toString(), "places", "5", "on", today.toString());
        assertThat(state(5)).isEqualTo(VineState.PLANTED);
        TestBrowser.Answer taken = lead.send(
                "/rows/" + row + "/plant", "lot", field.lot().toString(), "places", "5", "on", today.toString());
        assertThat(taken.page().select("#places-error").text()).contains("living vine already stands");
        assertThat(helper.send("/rows/" + row + "/plant").status()).isEqualTo(403);
    }

    @Test
    void every_vine_with_two_taps() {
        String path = "/rows/" + row + "/shoots";
        assertThat(helper.open(path).page().select("fieldset.taps")).hasSize(12);
        TestBrowser.Answer done = helper.sendAndFollow(
                path,
                "shoots[1]",
                "2",
                "height[1]",
                "30",
                "chosen[1]",
                "true",
                "shoots[2]",
                "1",
                "on",
                today.toString());
        assertThat(done.page().text()).contains("2 / 30 cm");
        TestBrowser.Answer absurd = helper.send(path, "shoots[1]", "2000", "on", today.toString());
        assertThat(absurd.page().text()).contains("slip of the finger");
        assertThat(helper.send(path, "shoots[one]", "2", "on", today.toString()).status())
                .isLessThan(500);
    }

    @Test
    void stages_are_recorded_and_nonsense_refused_at_its_field() {
        TestBrowser.Answer page =
                helper.sendAndFollow("/year-one/B2/stages", "stage", "09", "seenOn", today.toString());
        assertThat(page.page().text()).contains("Bud burst: green tips plainly seen");
        assertThat(vineyard.as(Role.LEAD)
                        .open("/history?what=stage_record")
                        .page()
                        .text())
                .contains("Bud burst: green tips plainly seen");
        assertThat(helper.send("/year-one/B2/stages", "stage", "10", "seenOn", today.toString())
                        .page()
                        .select("#stage-error")
                        .text())
                .contains("no stage of the grapevine");
    }

    @Test
    void the_owner_edits_the_list_and_a_circle_is_refused_at_its_field() {
        TestBrowser owner = vineyard.as(Role.OWNER);
        TestBrowser.Answer list = owner.sendAndFollow(
                "/checklist/new",
                "code",
                "twine",
                "position",
                "300",
                "name",
                "Look at the twine",
                "kind",
                "DAYS",
                "value",
                "30",
                "windowDays",
                "5",
                "why",
                "It cuts in.",
                "how",
                "Slide a finger under it.",
                "source",
                "our own habit",
                "version",
                "0");
        assertThat(list.page().text()).contains("Look at the twine").contains("30 days after planting");
        assertThat(list.page()
                        .select("section.card:contains(Look at the twine) img")
                        .attr("src"))
                .matches("/img/care/own(-[0-9a-f]+)?\\.svg");
        assertThat(getClass().getResource("/static/img/care/own.svg")).isNotNull();
        String edit = list.page().select("section.card").stream()
                .filter(s -> s.text().contains("Look at the twine"))
                .findFirst()
                .orElseThrow()
                .select("a")
                .attr("href")
                .replaceFirst("^/v/[^/]+", "");
        String id = edit.substring(edit.lastIndexOf('/') + 1);
        TestBrowser.Answer circle = owner.send(
                edit,
                "code",
                "twine",
                "position",
                "300",
                "name",
                "Look at the twine",
                "kind",
                "DAYS",
                "value",
                "30",
                "windowDays",
                "5",
                "after",
                id,
                "why",
                "It cuts in.",
                "how",
                "Slide.",
                "source",
                "own",
                "version",
                "0");
        assertThat(circle.page().select("#after-error").text()).contains("circle");
        TestBrowser.Answer bad = owner.send(
                edit,
                "code",
                "twine",
                "position",
                "300",
                "name",
                "x",
                "kind",
                "DATE",
                "value",
                "31-31",
                "windowDays",
                "5",
                "why",
                "w",
                "how",
                "h",
                "source",
                "s",
                "version",
                "0");
        assertThat(bad.page().select("#value-error").text()).contains("not a month and day");
        assertThat(vineyard.as(Role.LEAD).open("/checklist/new").status()).isEqualTo(403);
    }

    @Test
    void water_frost_and_treatments_answer() {
        TestBrowser lead = vineyard.as(Role.LEAD);
        assertThat(lead.open("/year-one/B2/water?hot=7").page().text())
                .contains("No weather is on record")
                .doesNotContain("To fill, per vine")
                .contains("Record a growth stage first");
        assertThat(lead.sendAndFollow("/year-one/B2/waterings", "litres", "5", "on", today.toString())
                        .page()
                        .text())
                .contains("5.0 L per vine");
        assertThat(lead.send("/year-one/B2/waterings", "litres", "-5", "on", today.toString())
                        .page()
                        .select("#litres-error")
                        .text())
                .isNotBlank();
        assertThat(lead.sendAndFollow(
                                "/year-one/B2/water-settings",
                                "soil",
                                "SAND",
                                "area",
                                "0.4",
                                "hose",
                                "12",
                                "tank",
                                "600",
                                "version",
                                "0")
                        .status())
                .isEqualTo(200);
        TestBrowser.Answer sprayed = lead.sendAndFollow(
                "/year-one/B2/treatments",
                "kind",
                "SPRAY",
                "on",
                today.toString(),
                "product",
                "Sulphur 80",
                "amount",
                "0.4",
                "unit",
                "KG",
                "area",
                "1600",
                "operator",
                "Lew Lead",
                "reentryHours",
                "24",
                "waitingDays",
                "28");
        assertThat(sprayed.page().text()).contains("Sulphur 80").contains("28 days as the label says");
        assertThat(sprayed.page().select(".caution").text()).contains("Follow the label");
        assertThat(lead.send(
                                "/year-one/B2/treatments",
                                "kind",
                                "SPRAY",
                                "on",
                                today.plusDays(2).toString(),
                                "product",
                                "x",
                                "amount",
                                "1",
                                "unit",
                                "L",
                                "area",
                                "10",
                                "operator",
                                "y")
                        .page()
                        .select("#on-error")
                        .text())
                .contains("lies ahead");
    }

    /** NIST Special Publication 811 (2008), appendix B.8: 1 mi/h = 0.44704 m/s. */
    @Test
    void the_wind_of_a_spray_is_typed_and_shown_in_the_units_of_the_person() {
        TestBrowser lead = vineyard.as(Role.LEAD);
        vineyard.reads(Role.LEAD, "us", "en");
        String treatments = "/year-one/B2/treatments";
        assertThat(lead.open(treatments)
                        .page()
                        .getElementById("windMs")
                        .parent()
                        .text())
                .isEqualTo("mph");
        String[] spray = {
            "kind",
            "SPRAY",
            "on",
            today.toString(),
            "product",
            "Sulphur 80",
            "amount",
            "1",
            "unit",
            "KG",
            "waterLitres",
            "50",
            "area",
            "1600",
            "operator",
            "Lew",
            "windMs",
            "10"
        };
        assertThat(lead.sendAndFollow(treatments, spray).page().text()).contains("10.0 mph", "50.0 gal");
        assertThat(vineyard.as(Role.READER).open(treatments).page().text()).contains("4.5 m/s", "189.3 L");
        spray[17] = "200";
        assertThat(lead.send(treatments, spray)
                        .page()
                        .getElementById("windMs-error")
                        .text())
                .contains("must be 134.21 mph or less");
    }

    /** A degree Fahrenheit is 5/9 of a degree Celsius and an inch 25.4 mm (NIST SP 811, appendix B.8). */
    @Test
    void the_value_of_an_item_is_typed_and_shown_in_the_units_of_the_person() {
        TestBrowser owner = vineyard.as(Role.OWNER);
        vineyard.reads(Role.OWNER, "us", "en");
        assertThat(item(owner, "sum", "HEAT", "400").page().text()).contains("when 400 degree days (base 50 °F)");
        assertThat(item(owner, "shower", "RAIN", "0.35").page().text()).contains("a day with 0.35 in of rain");
        assertThat(item(owner, "flood", "RAIN", "20")
                        .page()
                        .getElementById("value-error")
                        .text())
                .contains("at most 19.68 in");
        assertThat(item(owner, "oven", "HEAT", "9001")
                        .page()
                        .getElementById("value-error")
                        .text())
                .contains("at most 9000");
        assertThat(item(owner, "cup", "RAIN", "a cup")
                        .page()
                        .getElementById("value-error")
                        .text())
                .contains("“a cup” is not a number");
        Document form = editing(owner, "sum");
        assertThat(form.getElementById("value").val()).isEqualTo("400");
        // sent back as it is shown, it is what it was
        assertThat(sentBack(owner, form)).isEqualTo(302);
        assertThat(editing(owner, "shower").getElementById("value").val()).isEqualTo("0.35");
        vineyard.reads(Role.OWNER, "metric", "de");
        assertThat(editing(owner, "sum").getElementById("value").val()).isEqualTo("222,222222");
        Document shower = editing(owner, "shower");
        assertThat(shower.getElementById("value").val()).isEqualTo("8,89");
        assertThat(sentBack(owner, shower)).isEqualTo(302);
        assertThat(vineyard.as(Role.READER).open("/checklist").page().text())
                .contains("when 222.2 degree days (base 10 °C)", "a day with 8.9 mm of rain");
    }

    private static TestBrowser.Answer item(TestBrowser owner, String code, String kind, String value) {
        String[] fields = {
            "code",
            code,
            "position",
            "300",
            "name",
            "Look " + code,
            "kind",
            kind,
            "value",
            value,
            "windowDays",
            "5",
            "why",
            "So.",
            "how",
            "Look.",
            "source",
            "our own habit",
            "version",
            "0"
        };
        TestBrowser.Answer answer = owner.send("/checklist/new", fields);
        return answer.status() == 302 ? owner.open("/checklist") : answer;
    }

    private static Document editing(TestBrowser owner, String code) {
        String link = owner.open("/checklist")
                .page()
                .select("section.card:contains(Look " + code + ") a.button")
                .attr("href");
        return owner.open(link.replaceFirst("^/v/[^/]+", "")).page();
    }

    private static int sentBack(TestBrowser owner, Document page) {
        Element form = page.selectFirst("form.sheet");
        String[] fields = form.select("input[name], select[name], textarea[name]").stream()
                .filter(f -> !f.attr("name").equals("_csrf"))
                .flatMap(f -> Stream.of(
                        f.attr("name"),
                        f.tagName().equals("select")
                                ? f.select("option[selected]").val()
                                : f.val()))
                .toArray(String[]::new);
        return owner.send(form.attr("action").replaceFirst("^/v/[^/]+", ""), fields)
                .status();
    }

    @Test
    void hostile_and_absurd_input_gets_a_plain_answer() {
        String megabyte = "x".repeat(1_000_000);
        for (String text :
                List.of("<script>alert(1)</script>", "'; drop table vine; --", megabyte, "0", "21", "9-3", "-1")) {
            TestBrowser.Answer answer = helper.send("/rows/" + row + "/walk", "dead", text, "on", today.toString());
            assertThat(answer.status())
                    .as(text.substring(0, Math.min(20, text.length())))
                    .isBetween(200, 499);
            assertThat(answer.page().select(".error, .alert").text()).isNotBlank();
            assertThat(answer.body()).doesNotContain("<script>alert").doesNotContain("Exception");
        }
        for (String on : List.of(
                "1066-10-14", "9999-01-01", "tomorrow", today.plusDays(1).toString(), "")) {
            TestBrowser.Answer answer = helper.send("/rows/" + row + "/walk", "dead", "1", "on", on);
            assertThat(answer.status()).as(on).isBetween(200, 499);
            assertThat(answer.page().select("#on-error").text()).as(on).isNotBlank();
        }
        assertThat(helper.send("/rows/" + row + "/walk", "rest", "FLYING", "on", today.toString())
                        .status())
                .isBetween(200, 499);
        assertThat(helper.send("/year-one/B2/ticks", "items", "not-an-id", "runs", "r1", "on", today.toString())
                        .status())
                .isBetween(200, 499);
        assertThat(helper.open("/rows/" + UUID.randomUUID()).status()).isEqualTo(404);
        assertThat(helper.open("/vines/" + UUID.randomUUID()).status()).isEqualTo(404);
        assertThat(helper.open("/year-one/NOPE").status()).isEqualTo(404);
        assertThat(helper.open("/rows/nonsense").status()).isBetween(400, 499);
        assertThat(helper.open("/year-one/B2/water?hot=NaN").status()).isLessThan(500);
        assertThat(state(1)).isEqualTo(VineState.PLANTED);
    }

    @Test
    void ids_of_another_vineyard_do_not_exist_here() {
        TestBrowser stranger = vineyards.fresh().as(Role.OWNER);
        UUID vine = vineyard.inside(() -> vines.at(row, 1)).orElseThrow().id();
        assertThat(stranger.open("/rows/" + row).status()).isEqualTo(404);
        assertThat(stranger.open("/vines/" + vine).status()).isEqualTo(404);
        assertThat(stranger.send("/rows/" + row + "/walk", "dead", "1", "on", today.toString())
                        .status())
                .isEqualTo(404);
        assertThat(stranger.send("/vines/" + vine + "/looks", "state", "DEAD", "on", today.toString())
                        .status())
                .isIn(404, 200);
        assertThat(state(1)).isEqualTo(VineState.PLANTED);
    }

    @Test
    void a_reader_reads_and_writes_nothing() {
        TestBrowser reader = vineyard.as(Role.READER);
        assertThat(reader.open("/rows/" + row).status()).isEqualTo(200);
        assertThat(reader.send("/rows/" + row + "/walk", "dead", "1", "on", today.toString())
                        .status())
                .isEqualTo(403);
        assertThat(reader.send("/year-one/B2/ticks", "runs", "r1", "on", today.toString())
                        .status())
                .isEqualTo(403);
        assertThat(state(1)).isEqualTo(VineState.PLANTED);
    }
}
