package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.NewSupplier;
import org.rootling.nursery.domain.MovementKind;
import org.rootling.nursery.domain.Spot;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** An order after it was placed: changed, ended, answered by deliveries, billed, credited. */
@AppTest
class OrderPagesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    StockKeeping keeping;

    @Autowired
    Lots lots;

    @Autowired
    Vineyards days;

    TestVineyard vineyard;
    TestBrowser lead;
    LocalDate today;
    String nursery;

    @BeforeEach
    void makeVineyard() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        today = vineyard.inside(() -> days.today());
        nursery = vineyard.inside(() -> stock.addSupplier(new NewSupplier("Hollin Vines", "GB-1", "GB", null, 25)))
                .toString();
    }

    private String[] head(String reference) {
        return new String[] {
            "supplierId",
            nursery,
            "reference",
            reference,
            "orderedOn",
            today.minusDays(100).toString(),
            "currency",
            "GBP"
        };
    }

    private static String[] line(int n, String variety, int vines, String price) {
        String p = "lines[" + n + "].";
        return new String[] {
            p + "variety", variety, p + "rootstock", "SO4", p + "vines", vines + "", p + "priceEach", price
        };
    }

    private static String[] all(String[]... parts) {
        List<String> fields = new ArrayList<>();
        for (String[] part : parts) {
            fields.addAll(List.of(part));
        }
        return fields.toArray(String[]::new);
    }

    /** Two lines: 50 Bacchus and 100 Ortega at 2.00. */
    private String placed(String reference) {
        Answer placed = lead.send(
                "/orders/new", all(head(reference), line(0, "Bacchus", 50, "1.50"), line(1, "Ortega", 100, "2.00")));
        assertThat(placed.status()).isBetween(302, 303);
        return placed.location().replaceFirst(".*/", "");
    }

    private String[] known(String order, int n) {
        Document form = lead.open("/orders/" + order + "/change").page();
        return new String[] {
            "lines[" + n + "].id",
            form.select("input[name='lines[" + n + "].id']").val()
        };
    }

    private String[] version(String order) {
        return new String[] {
            "version",
            lead.open("/orders/" + order + "/change")
                    .page()
                    .select("input[name=version]")
                    .val()
        };
    }

    private Document order(String order) {
        return lead.open("/orders/" + order).page();
    }

    /** Takes vines in on the n-th choice of the order's open lines. */
    private String deliver(String order, int choice, String variety, int loose, String... more) {
        String line = lead.open("/deliveries/new?order=" + order)
                .page()
                .select("select[name='lines[0].orderLineId'] option")
                .get(choice)
                .val();
        Answer taken = lead.send(
                "/deliveries/new",
                all(
                        new String[] {"supplierId", nursery, "orderId", order, "receivedOn", today.toString()},
                        new String[] {
                            "lines[0].orderLineId",
                            line,
                            "lines[0].variety",
                            variety,
                            "lines[0].rootstock",
                            "SO4",
                            "lines[0].loose",
                            loose + ""
                        },
                        more));
        assertThat(taken.status())
                .as(taken.page().select(".error, .alert").text())
                .isBetween(302, 303);
        return taken.location().replaceFirst(".*/", "");
    }

    @Test
    void aLineIsWithdrawnBeforeAnythingCame() {
        String order = placed("W-1");
        assertThat(order(order).text()).contains("150 vines, 275.00 GBP");
        Answer changed = lead.send(
                "/orders/" + order + "/change",
                all(
                        head("W-1"),
                        version(order),
                        known(order, 0),
                        new String[] {"lines[0].end", "true"},
                        known(order, 1),
                        line(1, "Ortega", 120, "2.00")));
        assertThat(changed.status())
                .as(changed.page().select(".error, .alert").text())
                .isBetween(302, 303);
        assertThat(order(order).text()).contains("withdrawn", "120 vines, 240.00 GBP");
        // A withdrawn line is neither offered for a delivery nor changed again.
        assertThat(lead.open("/deliveries/new?order=" + order)
                        .page()
                        .select("select[name='lines[0].orderLineId'] option")
                        .eachText())
                .hasSize(2)
                .noneMatch(text -> text.contains("Bacchus"));
        assertThat(lead.open("/orders/" + order + "/change")
                        .page()
                        .select("input[name='lines[0].variety']")
                        .val())
                .isEqualTo("Ortega");
    }

    @Test
    void anOrderKeepsAtLeastOneLine() {
        String order = placed("W-2");
        Answer none = lead.send(
                "/orders/" + order + "/change",
                all(
                        head("W-2"),
                        version(order),
                        known(order, 0),
                        new String[] {"lines[0].end", "true"},
                        known(order, 1),
                        new String[] {"lines[1].end", "true"}));
        assertThat(none.page().text()).contains("at least one line");
        assertThat(order(order).text()).contains("150 vines").doesNotContain("withdrawn");
    }

    @Test
    void whatIsStillOpenOnALineIsEndedOnceAPartCame() {
        String order = placed("E-1");
        deliver(order, 1, "Bacchus", 20);
        assertThat(order(order).text()).contains("30");
        assertThat(order(order).select("form[action$=/cancel]")).isEmpty();
        assertThat(lead.send("/orders/" + order + "/cancel", version(order)).status())
                .isEqualTo(422);
        lead.send(
                "/orders/" + order + "/change",
                all(head("E-1"), version(order), known(order, 0), new String[] {"lines[0].end", "true"}));
        // 20 that came at 1.50 and 100 still ordered at 2.00.
        assertThat(order(order).text()).contains("nothing more", "120 vines, 230.00 GBP");
    }

    @Test
    void whatCameInPartsFillsTheLine() {
        String order = placed("P-1");
        deliver(order, 2, "Ortega", 60);
        String second = deliver(order, 2, "Ortega", 40);
        assertThat(lead.open("/deliveries/" + second).page().text()).contains("As ordered: 100");
        assertThat(order(order).select("td[data-label='To come']").eachText()).containsExactly("50", "0");
        // The form for the next delivery asks only for what is still open.
        assertThat(lead.open("/deliveries/new?order=" + order)
                        .page()
                        .select("input[name='lines[0].variety']")
                        .val())
                .isEqualTo("Bacchus");
        assertThat(lead.open("/deliveries/new?order=" + order)
                        .page()
                        .select("input[name='lines[1].variety']")
                        .val())
                .isEmpty();
    }

    @Test
    void aConfirmedOrderWhoseLinesChangeWaitsForConfirmationAgain() {
        String order = placed("C-1");
        lead.send("/orders/" + order + "/confirm", version(order));
        assertThat(order(order).text()).contains("confirmed");
        String[] lines =
                all(known(order, 0), line(0, "Bacchus", 50, "1.5"), known(order, 1), line(1, "Ortega", 100, "2.0000"));
        lead.send(
                "/orders/" + order + "/change", all(head("C-1"), version(order), new String[] {"note", "rang"}, lines));
        assertThat(order(order).text()).contains("confirmed", "rang");
        lead.send(
                "/orders/" + order + "/change",
                all(head("C-1"), version(order), known(order, 0), line(0, "Bacchus", 75, "1.50")));
        assertThat(order(order).text()).contains("placed", "175 vines").doesNotContain(", confirmed");
        assertThat(order(order).select("form[action$=/confirm]")).isNotEmpty();
    }

    /** Two people change only the lines: the second is told instead of overwriting the first. */
    @Test
    void whoeverChangesLinesThatChangedMeanwhileIsTold() {
        String order = placed("V-1");
        String[] seen = version(order);
        String[] line = all(known(order, 0), line(0, "Bacchus", 75, "1.50"));
        assertThat(lead.send("/orders/" + order + "/change", all(head("V-1"), seen, line))
                        .status())
                .isBetween(302, 303);
        assertThat(lead.send("/orders/" + order + "/change", all(head("V-1"), seen, line))
                        .status())
                .isEqualTo(409);
    }

    @Test
    void aLineOnWhichVinesCameKeepsItsKind() {
        String order = placed("K-1");
        deliver(order, 1, "Bacchus", 20);
        Answer refused = lead.send(
                "/orders/" + order + "/change",
                all(head("K-1"), version(order), known(order, 0), line(0, "Riesling", 50, "1.50")));
        assertThat(refused.page().select("#lines\\[0\\]\\.variety-error").text())
                .contains("vines have come on this line");
        assertThat(order(order).text()).contains("Bacchus").doesNotContain("Riesling");
        lead.send(
                "/orders/" + order + "/change",
                all(head("K-1"), version(order), known(order, 0), line(0, "Bacchus", 60, "1.60")));
        assertThat(order(order).text()).contains("1.60 GBP", "40");
    }

    @Test
    void twoOrdersWithANurseryNeverShareANumber() {
        placed("N-1");
        String order = placed("N-2");
        Answer refused = lead.send("/orders/" + order + "/change", all(head("n-1"), version(order)));
        assertThat(refused.page().select("#reference-error").text()).contains("There is an order");
        assertThat(lead.send("/orders/" + order + "/change", all(head("N-2"), new String[] {"version", "7"}))
                        .status())
                .isEqualTo(409);
    }

    @Test
    void aVarietyThatIsNotOnTheListIsSaidBeforeItsVinesCome() {
        Answer placed = lead.send(
                "/orders/new", all(head("U-1"), line(0, "Bacchus", 50, "1.50"), line(1, "Hazeldrop", 20, "2.00")));
        String order = placed.location().replaceFirst(".*/", "");
        assertThat(order(order).select("main .alert").eachText())
                .singleElement()
                .asString()
                .contains("Hazeldrop is not on the list of varieties");
        assertThat(lead.open(order(order).select("main .alert a").attr("href").replaceFirst("^/v/[^/]+", ""))
                        .page()
                        .select("h1"))
                .hasSize(1);
    }

    @Test
    void anotherKindThanOrderedIsASubstituteAndStandsBesideTheRightOnes() {
        String order = placed("S-1");
        String line = lead.open("/deliveries/new?order=" + order)
                .page()
                .select("select[name='lines[0].orderLineId'] option")
                .get(2)
                .val();
        Answer taken = lead.sendAndFollow(
                "/deliveries/new",
                "supplierId",
                nursery,
                "orderId",
                order,
                "receivedOn",
                today.toString(),
                "lines[0].orderLineId",
                line,
                "lines[0].variety",
                "Ortega",
                "lines[0].rootstock",
                "Börner",
                "lines[0].loose",
                "30");
        assertThat(taken.page().text()).contains("Substitute: Ortega / SO4 was ordered");
        assertThat(order(order).text()).contains("+ 30 of another kind");
        assertThat(order(order).select("td[data-label='To come']").eachText()).containsExactly("50", "70");
    }

    /** 100 on the invoice at 2.00, 4 rejected and credited: 192.00 for 96 vines; 16 die: 192.00 for 80. */
    @Test
    void priceLessCreditIsTheCostOfTheVinesThatLive() {
        String order = placed("M-1");
        String delivery = deliver(
                order,
                2,
                "Ortega",
                100,
                "lines[0].billed",
                "100",
                "lines[0].rejected",
                "4",
                "lines[0].rejectReason",
                "dry");
        assertThat(lead.open("/deliveries/" + delivery).page().text())
                .contains("credit for 4 vines: 8.00 GBP", "2.08 GBP for each living vine");
        String line = lead.open("/deliveries/" + delivery + "/money")
                .page()
                .select("input[name='lines[0].id']")
                .val();
        Answer billed = lead.sendAndFollow(
                "/deliveries/" + delivery + "/money",
                "version",
                "0",
                "currency",
                "GBP",
                "invoiceNo",
                "INV-9",
                "deliveryNoteNo",
                "DN-4",
                "lines[0].id",
                line,
                "lines[0].billed",
                "100",
                "lines[0].credited",
                "8,00",
                "lines[0].creditNote",
                "CN-12");
        assertThat(billed.page().text())
                .contains("INV-9", "DN-4", "Credited: 8.00 GBP CN-12", "2.00 GBP for each living vine")
                .doesNotContain("Ask the nursery");
        Lot lot = vineyard.inside(() -> lots.all()).get(0);
        vineyard.run(() -> keeping.takeOut(lot.id(), Spot.UNPLACED, MovementKind.LOST, 16, today, "dried out"));
        assertThat(lead.open("/lots/" + lot.code()).page().text())
                .contains("2.40 GBP for each living vine", "192.00 GBP paid (200.00 on the invoice, 8.00 credited)");
        assertThat(order(order).text()).contains("2.40 GBP for each living vine", "96 vines taken in, of which 80");
        // A part that is split off keeps the cost of what it came with.
        vineyard.run(() -> keeping.split(lot.id(), Spot.UNPLACED, 30, today));
        Lot part = vineyard.inside(() -> lots.all()).get(1);
        assertThat(lead.open("/lots/" + part.code()).page().text()).contains("2.40 GBP for each living vine");
    }

    @Test
    void moneyThatCannotBeIsRefusedAtItsField() {
        String order = placed("B-1");
        String delivery = deliver(order, 2, "Ortega", 10);
        String line = lead.open("/deliveries/" + delivery + "/money")
                .page()
                .select("input[name='lines[0].id']")
                .val();
        String path = "/deliveries/" + delivery + "/money";
        String[] base = {"version", "0", "currency", "GBP", "lines[0].id", line};
        for (String[] wrong : new String[][] {
            {"lines[0].credited", "20.01"},
            {"lines[0].credited", "-1"},
            {"lines[0].credited", "1.005"},
            {"lines[0].credited", "1e999999999"},
            {"lines[0].priceEach", "abc"},
            {"lines[0].billed", "1.5"}
        }) {
            Answer refused = lead.send(path, all(base, wrong));
            assertThat(refused.status()).as(wrong[1]).isEqualTo(200);
            assertThat(refused.page().select(".field.wrong .error").text())
                    .as(wrong[1])
                    .isNotBlank();
        }
        assertThat(lead.send(path, "version", "0", "currency", "gbp", "lines[0].id", line)
                        .page()
                        .select("#currency-error")
                        .text())
                .contains("three capital letters");
        assertThat(lead.send(path, all(base, new String[] {"lines[0].credited", "20"}))
                        .status())
                .isBetween(302, 303);
        assertThat(lead.send(path, base).status()).isEqualTo(409);
        assertThat(vineyard.as(Role.HELPER).open(path).status()).isEqualTo(403);
        String loose = lead.send(
                        "/deliveries/new",
                        "supplierId",
                        nursery,
                        "receivedOn",
                        today.toString(),
                        "lines[0].variety",
                        "Ortega",
                        "lines[0].rootstock",
                        "SO4",
                        "lines[0].loose",
                        "5")
                .location()
                .replaceFirst(".*/", "");
        String other = lead.open("/deliveries/" + loose + "/money")
                .page()
                .select("input[name='lines[0].id']")
                .val();
        assertThat(lead.send(
                                "/deliveries/" + loose + "/money",
                                "version",
                                "0",
                                "currency",
                                "GBP",
                                "lines[0].id",
                                other,
                                "lines[0].credited",
                                "1")
                        .page()
                        .select(".error")
                        .text())
                .contains("enter the price first");
        // A line of another delivery is not this one's.
        assertThat(lead.send("/deliveries/" + loose + "/money", all(base)).status())
                .isEqualTo(404);
    }
}
