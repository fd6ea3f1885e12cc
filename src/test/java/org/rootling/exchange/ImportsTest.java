package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.TestField;
import org.rootling.planting.Vines;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** Tables brought along: what would come of each line is said first, and only what is good is taken, all or nothing. */
@AppTest
@Import(TestField.class)
class ImportsTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards days;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    Vines vines;

    @Autowired
    TestField fields;

    private TestVineyard vineyard;
    private TestBrowser lead;
    private LocalDate today;

    @BeforeEach
    void aNursery() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        today = vineyard.inside(days::today);
        vineyard.run(() -> stock.addSupplier(new Stock.NewSupplier("Hill Nursery", null, null, null, 25)));
    }

    @Test
    void aGermanSpreadsheetOfOrdersIsRecognisedLookedAtAndTaken() {
        String csv = "Rebschule;Bestellnummer;Bestellt am;Sorte;Unterlage;Reben;Stückpreis\n"
                + "Hill Nursery;H-1;" + today.minusDays(9) + ";Riesling;SO4;100;2,35\n"
                + "Hill Nursery;H-1;" + today.minusDays(9) + ";Bacchus;SO4;50;2,10\n"
                + "Nowhere;H-2;" + today.minusDays(9) + ";Bacchus;SO4;50;2,10\n"
                + "Hill Nursery;H-3;" + today.minusDays(9) + ";Bacchus;SO4;many;2,10\n";
        Answer looked = upload("orders", "orders.csv", csv.getBytes(Charset.forName("windows-1252")));
        assertThat(results(looked)).hasSize(4);
        assertThat(results(looked).get(0)).contains("can be taken");
        assertThat(results(looked).get(2)).contains("refused").contains("no nursery Nowhere");
        assertThat(results(looked).get(3)).contains("Vines: must be a whole number");
        assertThat(lead.open("/orders").page().text()).doesNotContain("H-1");

        Answer taken = take("orders", looked);
        assertThat(taken.status()).isEqualTo(302);
        String orders = lead.open("/orders").page().text();
        assertThat(orders).contains("H-1").doesNotContain("H-2").doesNotContain("H-3");
        assertThat(orders).contains("150");
    }

    @Test
    void aWorkbookOfLotsBecomesADeliveryWithItsLots() {
        ByteArrayOutputStream book = new ByteArrayOutputStream();
        Spreadsheets.xlsx(
                List.of(Sheet.of(
                        "Lots",
                        List.of("Nursery", "Received on", "Variety", "Rootstock", "Vines", "My own column"),
                        List.of(
                                List.of("Hill Nursery", today.minusDays(3), "Riesling", "SO4", 130, "x"),
                                List.of("hill nursery", today.minusDays(3), "Bacchus", "SO4", 75, "y")))),
                book);
        Answer looked = upload("lots", "lots.xlsx", book.toByteArray());
        assertThat(results(looked)).hasSize(2).allMatch(r -> r.contains("can be taken"));
        take("lots", looked);
        List<Lot> came = vineyard.inside(lots::all);
        assertThat(came).extracting(Lot::count).containsExactlyInAnyOrder(130, 75);
        assertThat(came).allMatch(lot -> lot.received().equals(today.minusDays(3)));
    }

    @Test
    void vinesAreTakenIntoTheirPlacesAndALineThatDoesNotFitIsLeftOut() {
        TestField.Field field = fields.make(vineyard, 30);
        String csv = "block,row,places,lot,planted\n"
                + field.code() + ",1,\"1-10, 12\"," + field.lotCode() + "," + today.minusDays(2) + "\n"
                + field.code() + ",1,99," + field.lotCode() + "," + today.minusDays(2) + "\n"
                + field.code() + ",2,1-5,99-Z," + today.minusDays(2) + "\n"
                + field.code() + ",2,1-5," + field.lotCode() + "," + today.plusDays(2) + "\n";
        Answer looked = upload("vines", "vines.csv", csv.getBytes(StandardCharsets.UTF_8));
        assertThat(results(looked)).hasSize(4);
        assertThat(results(looked).get(0)).contains("can be taken");
        assertThat(results(looked).subList(1, 4)).allMatch(r -> r.contains("refused"));
        assertThat(vineyard.inside(() -> vines.inRow(field.row(1).id()))).isEmpty();
        take("vines", looked);
        assertThat(vineyard.inside(() -> vines.inRow(field.row(1).id()))).hasSize(11);
        assertThat(vineyard.inside(() -> vines.inRow(field.row(2).id()))).isEmpty();
    }

    @Test
    void absurdFilesAreRefusedAtTheField() {
        StringBuilder long301 = new StringBuilder("nursery,reference\n");
        for (int i = 0; i < 301; i++) {
            long301.append("x,").append(i).append('\n');
        }
        List<byte[]> absurd = new ArrayList<>(List.of(
                new byte[0],
                new byte[] {'P', 'K', 3, 4, 0, 1},
                "only a heading\n".getBytes(StandardCharsets.UTF_8),
                new byte[] {0, 1, 2, 3, '\n', 0, 5},
                long301.toString().getBytes(StandardCharsets.UTF_8),
                ("a\n" + "x".repeat(2000) + "\n").getBytes(StandardCharsets.UTF_8)));
        for (byte[] file : absurd) {
            Answer answer = upload("orders", "x.csv", file);
            assertThat(answer.status()).isEqualTo(200);
            assertThat(answer.page().select(".field.wrong #file")).hasSize(1);
        }
        assertThat(lead.send("/imports/nothing/take", "table", "a\nb\n", "columns", "x")
                        .status())
                .isEqualTo(404);
    }

    @Test
    void columnsThatAreNotSaidAreAskedFor() {
        Answer looked = upload("orders", "x.csv", "Foo,Bar\n1,2\n".getBytes(StandardCharsets.UTF_8));
        assertThat(looked.page().select(".alert.danger").text()).contains("needed column");
        assertThat(looked.page().select("button[formaction]")).isEmpty();
    }

    private Answer upload(String kind, String name, byte[] content) {
        return lead.upload("/imports", "file", name, content, "kind", kind);
    }

    private Answer take(String kind, Answer looked) {
        List<String> form = new ArrayList<>();
        form.add("table");
        form.add(looked.page().selectFirst("input[name=table]").val());
        for (Element column : looked.page().select("select[name=columns]")) {
            Element chosen = column.selectFirst("option[selected]");
            form.add("columns");
            form.add(chosen == null ? "" : chosen.val());
        }
        return lead.send("/imports/" + kind + "/take", form.toArray(String[]::new));
    }

    private static List<String> results(Answer looked) {
        return looked.page().select("section table tbody tr").eachText();
    }
}
