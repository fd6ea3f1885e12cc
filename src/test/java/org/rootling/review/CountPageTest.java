package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.Drawn;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

@AppTest
@Import(ReviewField.class)
class CountPageTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    private TestVineyard vineyard;

    @BeforeEach
    void vineyard() {
        vineyard = vineyards.fresh();
    }

    @Test
    void an_empty_vineyard_says_how_to_begin() {
        Document today = open(Role.OWNER, "/").page();

        assertThat(today.select("ol.steps li")).hasSize(5);
        assertThat(today.select("ol.steps a").eachAttr("href"))
                .contains("/v/" + vineyard.slug() + "/lots", "/v/" + vineyard.slug() + "/blocks");
        assertThat(today.select(".alert.good").text()).contains("Nothing is in danger");
        assertThat(open(Role.READER, "/").page().select("ol.steps")).isEmpty();

        Document count = open(Role.READER, "/progress").page();
        assertThat(count.text()).contains("No vine is waiting", "There is no block yet", "No task is open");
    }

    @Test
    void what_stands_nowhere_is_in_danger() {
        field.lot(vineyard, "Bacchus", "SO4", 40);

        Document today = open(Role.READER, "/").page();

        assertThat(today.select("section[aria-labelledby=danger]").text()).contains("40 vines of Bacchus");
        assertThat(today.select("section[aria-labelledby=far] .figure").first().text())
                .isEqualTo("40");
    }

    @Test
    void states_are_counted_by_block_and_by_kind_and_each_number_leads_to_its_vines() {
        field.planted(vineyard);

        Document count = open(Role.READER, "/progress").page();

        Element block = count.select("section[aria-labelledby=blocks] tbody tr").first();
        assertThat(block.select("td").eachText()).containsExactly("120", "0", "40", "69", "0", "0", "10", "1");
        assertThat(count.select("section[aria-labelledby=kinds] tbody tr")).hasSize(2);
        Element pinot = count.select("section[aria-labelledby=kinds] tbody tr").get(1);
        assertThat(pinot.select("td").eachText()).containsExactly("3309 C", "60", "20", "30", "0", "0", "9", "1");

        String dead = pinot.select("td a[href*=state=dead]").attr("href");
        Document list =
                open(Role.READER, dead.substring(dead.indexOf("/progress"))).page();
        assertThat(list.select("tbody tr")).hasSize(9);
        assertThat(list.select("tbody tr th").first().text()).isEqualTo("B1 r4 5");
        assertThat(list.select("tbody tr").first().text()).contains("dead");
    }

    @Test
    void what_to_reorder_is_in_whole_bundles_after_what_is_in_hand() {
        field.planted(vineyard);

        Document page = open(Role.READER, "/progress?spares=2&bundle=25").page();
        // 15 of each lot are still in hand, so nothing has to be bought for 1 and 10 gaps
        assertThat(page.select("section[aria-labelledby=reorder] tbody tr")
                        .get(1)
                        .select("td")
                        .eachText())
                .containsExactly("3309 C", "10", "15", "0", "0", "0", "0");
    }

    @Test
    void the_block_is_drawn_with_every_vine_a_mark_and_every_row_a_way_to_it() {
        field.planted(vineyard);

        Document page = open(Role.READER, "/progress").page();

        Element drawn = page.select("section[aria-labelledby=drawn]").first();
        assertThat(drawn.select("svg.plan a")).hasSize(6);
        assertThat(Drawn.marks(drawn, "svg.plan a path.mark")).isEqualTo(120);
        assertThat(Drawn.marks(drawn, "svg.plan path.mark.dead")).isEqualTo(10);
        Element row = drawn.select("svg.plan a:has(.mark.dead)").first();
        assertThat(row.select("title").text()).matches("B1 r\\d+: .*\\d+ dead.*");
        assertThat(open(Role.READER, row.attr("href").replaceFirst("^/v/[^/]+", ""))
                        .status())
                .isEqualTo(200);
        assertThat(drawn.select("table tbody tr")).hasSize(6);
    }

    @Test
    void a_great_block_is_drawn_as_bars_so_that_the_page_does_not_grow() {
        field.block(vineyard, "B1", 120, 20);
        TestBrowser.Answer small = open(Role.READER, "/progress");
        TestVineyard other = vineyards.fresh();
        field.block(other, "B1", 3000, 20);
        TestBrowser.Answer great = other.as(Role.READER).open("/progress");

        assertThat(small.page().select("svg.bars > rect")).hasSizeLessThanOrEqualTo(50);
        assertThat(great.page().select("svg.bars > rect")).hasSizeLessThanOrEqualTo(50);
        assertThat(great.body().length()).isLessThan(small.body().length() * 3 / 2);
    }

    @Test
    void absurd_questions_are_answered_plainly() {
        field.planted(vineyard);

        for (String path : new String[] {
            "/progress?spares=-5&bundle=0",
            "/progress?block=NOWHERE",
            "/progress/vines?state=flying",
            "/progress/vines?block=%3Cscript%3E&page=-3",
            "/progress/vines?page=2147483647",
            "/progress/vines?variety=%27%20or%201%3D1"
        }) {
            assertThat(open(Role.READER, path).status()).as(path).isEqualTo(200);
        }
        assertThat(open(Role.READER, "/progress/vines?state=flying").page().select("tbody tr"))
                .isEmpty();
        assertThat(open(Role.READER, "/progress?spares=x").status()).isBetween(400, 499);
    }

    @Test
    void another_vineyard_sees_nothing_of_it() {
        ReviewField.Planted planted = field.planted(vineyard);
        TestVineyard other = vineyards.fresh();

        Document page = other.as(Role.OWNER).open("/progress").page();
        assertThat(page.text()).doesNotContain(planted.good().code());
        assertThat(other.as(Role.OWNER).open("/progress/vines").page().select("tbody tr"))
                .isEmpty();
    }

    @Test
    void the_search_finds_lots_rows_places_and_people() {
        ReviewField.Planted planted = field.planted(vineyard);

        assertThat(hits("bacchus")).contains("/lots/" + planted.good().code());
        assertThat(hits("B1%20r4")).contains("/rows/" + planted.rows().get(3));
        assertThat(hits("b1%204%205")).anyMatch(href -> href.contains("/vines/"));
        assertThat(open(Role.READER, "/find?q=hana").page().text()).contains("Hana Helper");
        assertThat(open(Role.READER, "/find?q=%3Cb%3Exyz").page().select("main b"))
                .isEmpty();
        assertThat(open(Role.READER, "/find?q=" + "x".repeat(5000)).status()).isEqualTo(200);
        assertThat(open(Role.READER, "/find?q=B1%20r99999%20999999").status()).isEqualTo(200);
    }

    private java.util.List<String> hits(String q) {
        return open(Role.READER, "/find?q=" + q).page().select("main table a").eachAttr("href").stream()
                .map(href -> href.substring(("/v/" + vineyard.slug()).length()))
                .toList();
    }

    private TestBrowser.Answer open(Role role, String path) {
        TestBrowser.Answer answer = vineyard.as(role).open(path);
        return answer;
    }
}
