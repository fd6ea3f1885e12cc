package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.zip.ZipFile;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.nursery.Lot;
import org.rootling.people.Role;
import org.rootling.review.calc.FisherExact;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@AppTest
@Import(ReviewField.class)
class ReviewPagesTest {

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
    void nothing_planted_is_nothing_to_judge_on_every_page() {
        assertThat(page("/review").text()).contains("Nothing is planted yet");
        assertThat(page("/review/replacing").select(".alert.good")).hasSize(1);
        assertThat(page("/review/register").text()).contains("No vine is planted yet");
        assertThat(open("/review/report.pdf").status()).isEqualTo(200);
        assertThat(open("/review/clusters?block=B1").status()).isEqualTo(404);
        field.block(vineyard, "B1", 3, 5);
        assertThat(page("/review/clusters?block=B1").text()).contains("fewer than two losses");
        assertThat(page("/review/sample?block=B1").text()).contains("No vine is planted yet");
    }

    /** Planted 60 days ago and never ticked: watering in is due on the day itself. */
    @Test
    void late_care_is_in_danger_on_the_first_page() {
        field.planted(vineyard);

        assertThat(page("/").select("section[aria-labelledby=danger]").text())
                .contains("Late care in block B1", "Water in");
    }

    /** 39 of 40 seen against 30 of 40 seen; Fisher's p by the calculator, one comparison, so uncorrected. */
    @Test
    void shares_are_of_the_vines_seen_and_the_worse_lot_is_named() {
        ReviewField.Planted planted = field.planted(vineyard);

        Document page = page("/review?by=lot");

        var first = page.select("section[aria-labelledby=shares] tbody tr")
                .get(0)
                .select("td")
                .eachText();
        assertThat(first).startsWith("60", "40", "39", "1", "98%");
        assertThat(FisherExact.twoSided(39, 1, 30, 10)).isLessThan(0.05);
        assertThat(page.select("section[aria-labelledby=differ] li").text())
                .contains(planted.good().code() + " (98% alive) does better than "
                        + planted.bad().code());
        assertThat(page.select("section[aria-labelledby=time] svg path")).hasSize(2);
        assertThat(page.select("section[aria-labelledby=behind] tbody tr th").eachText())
                .contains("B1 r4");
    }

    @Test
    void every_grouping_is_shown_and_an_unknown_one_is_by_lot() {
        field.planted(vineyard);

        for (String by : List.of("block", "row", "lot", "variety", "rootstock", "bed", "planter", "day", "nonsense")) {
            assertThat(page("/review?by=" + by).select("section[aria-labelledby=shares] tbody tr"))
                    .as(by)
                    .isNotEmpty();
        }
        assertThat(page("/review?by=planter").text()).contains("Hana Helper", "Lew Lead");
    }

    @Test
    void one_vine_all_dead_and_all_alive_are_answered_with_a_plot() {
        List<java.util.UUID> rows = field.block(vineyard, "B1", 3, 5);
        Lot one = field.lot(vineyard, "Bacchus", "SO4", 25);
        Lot dead = field.lot(vineyard, "Riesling", "SO4", 25);
        Lot alive = field.lot(vineyard, "Chardonnay", "SO4", 25);
        field.plant(vineyard, rows.get(0), 1, one, Role.HELPER);
        field.plant(vineyard, rows.get(1), 5, dead, Role.HELPER);
        field.plant(vineyard, rows.get(2), 5, alive, Role.HELPER);
        field.walk(vineyard, rows.get(0), 1, List.of(), List.of());
        field.walk(vineyard, rows.get(1), 5, List.of(1, 2, 3, 4, 5), List.of());
        field.walk(vineyard, rows.get(2), 5, List.of(), List.of());

        Document page = page("/review?by=variety");

        var lines = page.select("section[aria-labelledby=shares] tbody tr");
        // Wilson, 95 %: 1 of 1 is 20.7 to 100 %, 0 of 5 is 0 to 43.4 %, 5 of 5 is 56.6 to 100 %
        assertThat(lines.get(0).text()).contains("Bacchus", "100%", "21% – 100%", "small numbers");
        assertThat(lines.get(1).text()).contains("Chardonnay", "100%", "57% – 100%");
        assertThat(lines.get(2).text()).contains("Riesling", "0%", "0% – 43%");
        assertThat(page.select("section[aria-labelledby=time] svg path")).hasSize(3);
        assertThat(page("/review/clusters?block=B1").text()).contains("5 of 11");
        assertThat(page("/review?by=variety&block=B1").select("svg path")).hasSize(3);
    }

    @Test
    void a_dead_stretch_beside_another_is_a_cluster_with_questions() {
        field.planted(vineyard);

        Document page = page("/review/clusters?block=B1");

        assertThat(page.text()).contains("11 of 120", "Along the rows: yes", "Across the rows: yes");
        assertThat(page.select("section[aria-labelledby=stretches] li").first().text())
                .contains("B1 r4 5-9", "5 in a row");
        assertThat(page.select("section[aria-labelledby=questions] li").text()).contains("wet corner");
    }

    @Test
    void places_to_replant_are_listed_as_runs() {
        ReviewField.Planted planted = field.planted(vineyard);

        Document page = page("/review/replacing?block=B1");

        assertThat(page.select("tbody tr th").eachText()).containsExactly("B1 r2 7", "B1 r4 5-9, 20", "B1 r5 5-8");
        assertThat(page.select("tbody tr").get(1).text())
                .contains("Pinot noir on 3309 C", planted.bad().code());
        List<java.util.UUID> second = field.block(vineyard, "A2", 1, 5);
        field.plant(vineyard, second.get(0), 5, planted.good(), Role.HELPER);
        field.walk(vineyard, second.get(0), 5, List.of(2), List.of());
        assertThat(page("/review/replacing?block=").select("tbody tr th").eachText())
                .containsExactly("A2 r1 2", "B1 r2 7", "B1 r4 5-9, 20", "B1 r5 5-8");
    }

    @Test
    void a_sample_names_as_many_vines_as_it_says_and_the_same_again() {
        field.planted(vineyard);

        Document page = page("/review/sample?block=B1&confidence=95&margin=10&expected=50&seed=7");

        // Cochran with 120 vines: 96.04 / (1 + 95.04 / 120) = 53.6
        assertThat(page.select(".sheet").text()).contains("Look at 54 of 120 vines");
        int named = page.select("tbody tr td.num").eachText().stream()
                .mapToInt(Integer::parseInt)
                .sum();
        assertThat(named).isEqualTo(54);
        assertThat(page("/review/sample?block=B1&confidence=95&margin=10&expected=50&seed=7")
                        .select("tbody")
                        .text())
                .isEqualTo(page.select("tbody").text());
        assertThat(open("/review/sample?block=B1&confidence=NaN&margin=-4&expected=1e9")
                        .status())
                .isEqualTo(200);
        assertThat(open("/review/sample?block=B1&margin=x").status()).isBetween(400, 499);
    }

    /** Rows 1, 2, 4 and 5 of six were walked 20 days ago, so a sample of today is known only where a vine is lost. */
    @Test
    void a_kept_sample_is_told_by_the_review_as_its_vines_are_looked_at() throws IOException {
        ReviewField.Planted planted = field.planted(vineyard);
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document kept = lead.sendAndFollow(
                        "/review/sample",
                        "block",
                        "B1",
                        "confidence",
                        "95",
                        "margin",
                        "10",
                        "expected",
                        "50",
                        "seed",
                        "7")
                .page();
        assertThat(kept.select("section[aria-labelledby=kept]").text())
                .contains("Sample of block B1", "54 of 120 vines", "Still to look at: r1 ");

        for (int row = 0; row < 6; row++) {
            lead.sendAndFollow(
                    "/rows/" + planted.rows().get(row) + "/walk",
                    "rest",
                    "GROWING",
                    "on",
                    field.today(vineyard).toString());
        }

        Document review = page("/review");
        String told = review.select("section[aria-labelledby=samples]").text();
        assertThat(told).contains("54 of 54 looked at", "95% sure", "The sample is complete");
        assertThat(page("/review?block=B1").text()).contains("54 of 54 looked at");
        assertThat(pdf("/review/report.pdf?section=shares")).contains("54 of 54 looked at");
        assertThat(page("/review/sample?block=B1").text()).doesNotContain("Still to look at");

        assertThat(lead.send("/review/sample", "block", "B1", "confidence", "abc")
                        .page()
                        .text())
                .contains("Draw it again");
        assertThat(vineyard.as(Role.HELPER)
                        .send("/review/sample", "block", "B1")
                        .status())
                .isEqualTo(403);
        String form = lead.open("/review/sample?block=B1")
                .page()
                .select("form[action$=withdraw]")
                .attr("action");
        lead.sendAndFollow(form.replaceFirst("^/v/[^/]+", ""));
        assertThat(page("/review").select("section[aria-labelledby=samples]")).isEmpty();
    }

    /** 59 living Bacchus at 2.0 x 1.2 m: 141.6 m2 by spacing, 4,167 vines a hectare (10,000 / 2.4). */
    @Test
    void the_register_gives_area_and_density_by_spacing() {
        field.planted(vineyard);

        Document page = page("/review/register");

        assertThat(page.select("tbody tr").get(0).text()).contains("Bacchus", "SO4", "59", "0.014 ha", "4,167");
        assertThat(page.select(".alert.warn").text()).contains("Check with your authority");
    }

    @Test
    void the_report_says_in_text_what_the_pages_say_and_only_what_was_chosen() throws IOException {
        ReviewField.Planted planted = field.planted(vineyard);
        field.measured(vineyard, planted);

        String all = pdf("/review/report.pdf");
        assertThat(all)
                .contains("Young vines of Test " + vineyard.slug())
                .contains("does better than " + planted.bad().code())
                .contains("Kaplan-Meier", "11 of 120 vines here are dead or missing", "Check with your authority")
                .contains("39 of 109 living vines were measured", "Planting season", "120 places planted on 0.029 ha")
                .doesNotContain("Hana Helper");

        String some = pdf("/review/report.pdf?section=reorder&section=nonsense");
        assertThat(some).contains("Reorder", "3309 C").doesNotContain("Kaplan-Meier", "authority");
        assertThat(pdf("/review/report.pdf?section=planters")).contains("Hana Helper");
    }

    @Test
    void files_hold_every_vine_row_and_gap(@TempDir Path folder) throws IOException {
        ReviewField.Planted planted = field.planted(vineyard);

        List<CSVRecord> vines = csv("/review/vines.csv");
        assertThat(vines).hasSize(121);
        assertThat(vines.get(1).get(0)).isEqualTo("B1");
        assertThat(vines.stream().filter(r -> r.get(9).equals("DEAD"))).hasSize(10);
        assertThat(csv("/review/rows.csv")).hasSize(7);
        field.measured(vineyard, planted);
        assertThat(csv("/review/heights.csv")).hasSizeBetween(1 + 39, 1 + 2 * 39);
        assertThat(csv("/review/replacing.csv")).hasSize(4);
        assertThat(csv("/review/register.csv")).hasSize(3);

        TestBrowser.Answer xlsx = open("/review/review.xlsx");
        Path book = folder.resolve("review.xlsx");
        Files.write(book, xlsx.raw().getResponse().getContentAsByteArray());
        try (ZipFile zip = new ZipFile(book.toFile())) {
            String workbook = new String(
                    zip.getInputStream(zip.getEntry("xl/workbook.xml")).readAllBytes(), StandardCharsets.UTF_8);
            assertThat(workbook)
                    .contains(
                            "by lot",
                            "survival by lot",
                            "by bed",
                            "by planter",
                            "rows",
                            "planted area",
                            "to replant",
                            "hours");
        }
    }

    /** RFC 7946: longitude before latitude. Row 1 place 1 is 2 m east and 6.6 m north of 50.8 N 0.1 E. */
    @Test
    void vines_on_the_map_stand_where_they_stand() {
        field.planted(vineyard);

        JsonNode map = JsonMapper.builder()
                .build()
                .readTree(open("/review/vines.geojson").body());

        assertThat(map.get("type").asString()).isEqualTo("FeatureCollection");
        assertThat(map.get("features").size()).isEqualTo(120);
        JsonNode first = map.get("features").get(0);
        // A degree of latitude is 111,250 m there, one of longitude 70,470 m (WGS84 at 50.8 N, computed).
        assertThat(first.get("geometry").get("coordinates").get(0).asDouble())
                .isCloseTo(0.1 + 2 / 70_470.0, org.assertj.core.api.Assertions.within(1e-6));
        assertThat(first.get("geometry").get("coordinates").get(1).asDouble())
                .isCloseTo(50.8 + 6.6 / 111_250.0, org.assertj.core.api.Assertions.within(1e-6));
        assertThat(first.get("properties").get("state").asString()).isEqualTo("GROWING");
    }

    @Test
    void another_vineyards_block_is_not_found() {
        field.planted(vineyard);
        TestVineyard other = vineyards.fresh();

        assertThat(other.as(Role.OWNER).open("/review/clusters?block=B1").status())
                .isEqualTo(404);
        assertThat(other.as(Role.OWNER).open("/review/vines.csv").body().lines())
                .hasSize(1);
    }

    private Document page(String path) {
        TestBrowser.Answer answer = open(path);
        assertThat(answer.status()).as(path).isEqualTo(200);
        return answer.page();
    }

    private TestBrowser.Answer open(String path) {
        return vineyard.as(Role.READER).open(path);
    }

    private String pdf(String path) throws IOException {
        TestBrowser.Answer answer = open(path);
        assertThat(answer.raw().getResponse().getContentType()).startsWith("application/pdf");
        try (var document = Loader.loadPDF(answer.raw().getResponse().getContentAsByteArray())) {
            return new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
        }
    }

    private List<CSVRecord> csv(String path) throws IOException {
        try (CSVParser parser = CSVParser.parse(open(path).body(), CSVFormat.RFC4180)) {
            return parser.getRecords();
        }
    }
}
