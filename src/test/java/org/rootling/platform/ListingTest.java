package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Stock;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A list is narrowed, sorted, paged and taken along without scripts; the orders stand for all of them. */
@AppTest
class ListingTest {

    private static final int ORDERS = Listing.PAGE + 5;

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards days;

    @Autowired
    Stock stock;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;
    private TestBrowser reader;

    @BeforeEach
    void orders() {
        vineyard = vineyards.fresh();
        reader = vineyard.as(Role.READER);
        LocalDate today = vineyard.inside(days::today);
        vineyard.run(() -> {
            stock.addSupplier(new Stock.NewSupplier("Hill Nursery", null, null, null, 25));
            UUID hill = jdbc.sql("select id from supplier").query(UUID.class).single();
            for (int i = 1; i <= ORDERS; i++) {
                String reference = i == 7 ? "=HYPERLINK(7)" : "H-%03d".formatted(i);
                stock.order(new Stock.NewOrder(
                        hill,
                        reference,
                        today.minusDays(i),
                        "EUR",
                        null,
                        List.of(new Stock.NewOrderLine("Riesling", null, "SO4", 1000 - i, null, null))));
            }
        });
    }

    @Test
    void moreThanAPageIsPaged() {
        Document first = page("/orders");
        assertThat(first.select("table tbody tr")).hasSize(Listing.PAGE);
        assertThat(first.select("nav:contains(Page 1 of 2) a")).hasSize(1);
        String next = first.select("nav:contains(Page 1 of 2) a").attr("href").replaceFirst("^/v/[^/]+", "");
        assertThat(page(next).select("table tbody tr")).hasSize(5);
        assertThat(page("/orders?orders-page=99").select("table tbody tr")).hasSize(5);
        assertThat(page("/orders?orders-page=x").select("table tbody tr")).hasSize(Listing.PAGE);
    }

    @Test
    void wordsNarrowAndColumnsSort() {
        Document one = page("/orders?orders-find=hill%20h-012");
        assertThat(one.select("table tbody tr")).hasSize(1);
        assertThat(one.select("[role=status]").text()).contains("1 of 55");
        assertThat(page("/orders?orders-find=nowhere").select("[role=status]").text())
                .contains("Nothing in the list");
        // the fifth column is the number of vines
        assertThat(page("/orders?orders-sort=5").select("table tbody tr").get(0).text())
                .contains("H-055", "945");
        assertThat(page("/orders?orders-sort=-5")
                        .select("table tbody tr")
                        .get(0)
                        .text())
                .contains("H-001", "999");
        assertThat(page("/orders?orders-sort=77&deliveries-find=keep%26me")
                        .select("input[type=hidden][name=deliveries-find]")
                        .val())
                .isEqualTo("keep&me");
    }

    @Test
    void allThatWasFoundIsTakenAlongAndNoCellIsAFormula() {
        TestBrowser.Answer csv = reader.open("/orders?orders-sort=1&list-csv=orders");
        assertThat(csv.raw().getResponse().getContentType()).startsWith("text/csv");
        assertThat(csv.body().lines()).hasSize(1 + ORDERS);
        assertThat(csv.body()).startsWith("\uFEFFOrder number,Nursery,").contains("'=HYPERLINK(7),Hill Nursery");
        assertThat(reader.open("/orders?orders-find=h-012&list-csv=orders")
                        .body()
                        .lines())
                .hasSize(2);
        byte[] book =
                reader.open("/orders?list-xlsx=orders").raw().getResponse().getContentAsByteArray();
        assertThat(book).startsWith('P', 'K');
        assertThat(page("/orders?list-csv=nothing").select("h1")).hasSize(1);
    }

    @Test
    void whatIsLookedForNeedsNeitherCaseNorAccentsAndSignsAreOnlySigns() {
        vineyard.run(() -> stock.addSupplier(new Stock.NewSupplier("Rebschule Grünstraße 50 %", null, null, null, 25)));
        for (String asked : List.of("grunstrasse", "GR%C3%9CNSTRASSE", "50%20%25", "rebschule%20%25")) {
            assertThat(page("/nurseries?nurseries-find=" + asked).select("table tbody tr"))
                    .as(asked)
                    .hasSize(1);
        }
        assertThat(page("/nurseries?nurseries-find=%25rebschule").select("table tbody tr"))
                .isEmpty();
        assertThat(page("/nurseries?nurseries-find=" + "x".repeat(5000)).select("table tbody tr"))
                .isEmpty();
    }

    @Test
    void theFieldsOfARefusedFormAreNoChoicesOfTheList() {
        vineyard.run(() -> stock.addSupplier(new Stock.NewSupplier("Dale Nursery", null, null, null, 25)));
        Document refused = vineyard.as(Role.LEAD)
                .send("/nurseries", "name", "", "bundleSize", "25", "contact", "nobody")
                .page();
        assertThat(refused.select("form.list-tools")).hasSize(1);
        assertThat(refused.select("form.list-tools input[type=hidden]")).isEmpty();
        assertThat(refused.select("form.list-tools").attr("action")).endsWith("/nurseries");
    }

    @Test
    void theOtherListsAnswerTheSameWay() {
        TestBrowser owner = vineyard.as(Role.OWNER);
        for (String list : List.of(
                "/lots/all?list-csv=lots",
                "/orders?list-csv=deliveries",
                "/people?list-csv=people",
                "/people?list-csv=invitations",
                "/history?list-csv=history",
                "/work?list-csv=tasks",
                "/work/people?list-csv=crew",
                "/blocks?list-csv=blocks",
                "/weather/days?list-csv=days")) {
            TestBrowser.Answer answer = owner.open(list);
            assertThat(answer.raw().getResponse().getContentType()).as(list).startsWith("text/csv");
            assertThat(answer.body().lines().findFirst().orElse("")).as(list).contains(",");
        }
    }

    private Document page(String path) {
        TestBrowser.Answer answer = reader.open(path);
        assertThat(answer.status()).isEqualTo(200);
        return answer.page();
    }
}
