package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.platform.Listing;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The history is searched and paged through to its beginning, however long it is, by the words that it shows. */
@AppTest
class HistoryPageTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;
    private TestBrowser lead;

    @BeforeEach
    void aVineyardThatBeganWithABed() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        vineyard.run(() -> stock.addStore(new Stock.NewStore(
                "Bed by the élan wall", StoreKind.HEELED_IN, null, null, null, null, null, null, null)));
    }

    @Test
    void everyPageFollowsTheOneBeforeUntilTheBeginning() {
        nurseries(2 * Listing.PAGE);
        List<String> seen = new ArrayList<>();
        String at = "/history";
        for (int pages = 0; at != null && pages < 10; pages++) {
            Document page = page(at);
            assertThat(page.select("main table tbody tr")).hasSizeLessThanOrEqualTo(Listing.PAGE);
            seen.addAll(page.select("main table tbody tr").eachText());
            at = next(page);
        }
        assertThat(seen.stream().filter(line -> line.contains("Nursery "))).hasSize(2 * Listing.PAGE);
        assertThat(seen).anyMatch(line -> line.contains("élan wall"));
        List<String> oldestFirst =
                page("/history?history-sort=1").select("main table tbody tr").eachText();
        assertThat(seen.get(seen.size() - 1)).isEqualTo(oldestFirst.get(0));
    }

    @Test
    void whatIsLookedForIsFoundWithoutCaseAndAccentsAndInTheWordsThatAreShown() {
        nurseries(3);
        assertThat(found("ELAN wall")).hasSize(1);
        assertThat(found("bed or store")).hasSize(1);
        assertThat(found("heeled")).hasSize(1).allMatch(line -> line.contains("élan wall"));
        assertThat(found("ada")).hasSizeGreaterThanOrEqualTo(4).allMatch(line -> line.contains("Ada"));
        assertThat(found("nursery 3")).hasSize(1);
        assertThat(found("removed")).isEmpty();
    }

    @Test
    void nothingIsFoundInTheLettersOfAnId() {
        UUID id = UUID.fromString("adaadaad-adad-4ada-8ada-fadedbeefada");
        vineyard.run(() -> {
            jdbc.sql("insert into supplier (id, name, bundle_size) values (?, 'Hollin Vines', 25)")
                    .param(id)
                    .update();
            jdbc.sql("insert into nursery_order (id, supplier_id, reference, ordered_on)"
                            + " values (?, ?, 'HV-1', date '2026-11-01')")
                    .param(UUID.randomUUID())
                    .param(id)
                    .update();
        });
        assertThat(found("faded")).isEmpty();
        assertThat(found("hollin")).hasSizeGreaterThanOrEqualTo(1);
    }

    @Test
    void signsOfTheDatabaseAreOnlySigns() {
        nurseries(1);
        vineyard.run(() -> stock.addSupplier(new Stock.NewSupplier("100 % _vines_ \\ \"new\"", null, null, null, 25)));
        for (String sign : List.of("100 %", "_vines_", "\\", "\"new\"", "% _vines_")) {
            assertThat(found(sign)).as(sign).hasSize(1).allMatch(line -> line.contains("_vines_"));
        }
        assertThat(found("%vines")).isEmpty();
        assertThat(found("\u0000")).isNotEmpty();
        assertThat(found("[a-z]+ (")).isEmpty();
        assertThat(found(".*")).isEmpty();
        assertThat(found("'; drop table supplier; --")).isEmpty();
        assertThat(found("x".repeat(5000))).isEmpty();
        assertThat(page("/history?history-after=x%27y").select("h1")).hasSize(1);
    }

    @Test
    void aRareWordIsLookedForPieceByPieceToTheEnd() {
        nurseries(20_500);
        Document page = page("/history?history-find=" + encoded("élan"));
        assertThat(page.select("main table tbody tr")).isEmpty();
        String next = next(page);
        assertThat(next).isNotNull();
        assertThat(page(next).select("main table tbody tr").eachText())
                .hasSize(1)
                .allMatch(line -> line.contains("élan wall"));
    }

    @Test
    void theFileHoldsWhatWasLookedForAndNothingElse() {
        nurseries(2 * Listing.PAGE);
        String csv = lead.open("/history?list-csv=history&history-find=nursery").body();
        assertThat(csv.lines()).hasSize(1 + 2 * Listing.PAGE);
        assertThat(csv).doesNotContain("élan");
        TestVineyard other = vineyards.fresh();
        assertThat(other.as(Role.OWNER).open("/history?list-csv=history").body())
                .doesNotContain("élan");
        assertThat(other.as(Role.OWNER)
                        .open("/history?history-find=elan")
                        .page()
                        .select("main table tbody tr"))
                .isEmpty();
    }

    private void nurseries(int count) {
        vineyard.run(() -> jdbc.sql(
                        "insert into supplier (id, name, bundle_size) select gen_random_uuid(), 'Nursery ' || n, 25"
                                + " from generate_series(1, :count) n")
                .param("count", count)
                .update());
    }

    private List<String> found(String asked) {
        return page("/history?history-find=" + encoded(asked))
                .select("main table tbody tr")
                .eachText();
    }

    private static String next(Document page) {
        String next = page.select("main nav a[href*=history-after]").attr("href");
        return next.isEmpty() ? null : next.replaceFirst("^/v/[^/]+", "");
    }

    private Document page(String path) {
        TestBrowser.Answer answer = lead.open(path);
        assertThat(answer.status()).isEqualTo(200);
        return answer.page();
    }

    private static String encoded(String asked) {
        return URLEncoder.encode(asked, StandardCharsets.UTF_8).replace("+", "%20");
    }
}
