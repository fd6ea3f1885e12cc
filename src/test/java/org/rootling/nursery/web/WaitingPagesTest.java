package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Level;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.nursery.domain.WarningDesk;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.DateText;
import org.rootling.platform.UnitChoice;
import org.rootling.platform.VineyardTime;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** From the order to the lifted vine, on the pages. */
@AppTest
class WaitingPagesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    WarningDesk desk;

    @Autowired
    Vineyards days;

    @Autowired
    VineyardTime time;

    @Autowired
    JdbcClient jdbc;

    TestVineyard vineyard;
    TestBrowser lead;
    LocalDate today;

    @Autowired
    LimitText limitText;

    @BeforeEach
    void makeVineyard() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        today = vineyard.inside(() -> days.today());
    }

    private static String idOf(String location) {
        return location.replaceFirst(".*/([0-9a-f-]{36}).*", "$1");
    }

    @Test
    void anOrderIsPlacedDeliveredInPartsAndTheRestStaysOpen() {
        lead.sendAndFollow(
                "/nurseries",
                "name",
                "Rebschule Muster",
                "registrationNo",
                "DE-123",
                "country",
                "de",
                "bundleSize",
                "25");
        String supplier = lead.open("/orders/new")
                .page()
                .select("select[name=supplierId] option")
                .last()
                .val();
        var placed = lead.send(
                "/orders/new",
                "supplierId",
                supplier,
                "reference",
                "A-77",
                "orderedOn",
                today.minusDays(90).toString(),
                "currency",
                "EUR",
                "lines[0].variety",
                "Bacchus",
                "lines[0].rootstock",
                "SO4",
                "lines[0].vines",
                "500",
                "lines[0].priceEach",
                "1.85",
                "lines[0].expectedWeek",
                today.toString(),
                "lines[1].variety",
                "",
                "lines[1].vines",
                "");
        assertThat(placed.status())
                .as(placed.page().select(".error, .alert").text())
                .isBetween(302, 303);
        String order = idOf(placed.location());
        var page = lead.open("/orders/" + order).page();
        assertThat(page.text()).contains("A-77", "Rebschule Muster", "500 vines, 925.00 EUR");
        String line = lead.open("/deliveries/new?order=" + order)
                .page()
                .select("select[name='lines[0].orderLineId'] option")
                .last()
                .val();
        var taken = lead.send(
                "/deliveries/new",
                "supplierId",
                supplier,
                "orderId",
                order,
                "receivedOn",
                today.toString(),
                "deliveryNoteNo",
                "LS-9",
                "lines[0].orderLineId",
                line,
                "lines[0].variety",
                "Bacchus",
                "lines[0].rootstock",
                "SO4",
                "lines[0].bundles",
                "12",
                "lines[0].bundleSize",
                "25",
                "lines[0].loose",
                "7",
                "lines[0].billed",
                "310",
                "lines[0].rejected",
                "4",
                "lines[0].rejectReason",
                "black roots",
                "lines[0].roots",
                "DOUBTFUL",
                "lines[0].trace",
                "P-4711");
        assertThat(taken.status())
                .as(taken.page().select(".error, .alert").text())
                .isBetween(302, 303);
        var delivery = lead.open("/deliveries/" + idOf(taken.location())).page();
        assertThat(delivery.text())
                .contains(
                        "307",
                        "12 × 25 + 7",
                        "Short: 500 ordered, 0 came before, 307 came now",
                        "4 of 307 rejected: black roots")
                .contains("credit for 7 vines: 12.95 EUR");
        assertThat(lead.open("/orders/" + order).page().text()).contains("193");
        Lot lot = vineyard.inside(() -> lots.all()).get(0);
        assertThat(lot.balance()).isEqualTo(303);
        assertThat(lot.passport()).isEqualTo("P-4711");
    }

    @Test
    void aWrongVarietyIsTakenInAndSaid() {
        lead.sendAndFollow("/nurseries", "name", "Pépinière", "bundleSize", "25");
        String supplier = lead.open("/orders/new")
                .page()
                .select("select[name=supplierId] option")
                .last()
                .val();
        String order = idOf(lead.send(
                        "/orders/new",
                        "supplierId",
                        supplier,
                        "reference",
                        "1",
                        "orderedOn",
                        today.toString(),
                        "currency",
                        "EUR",
                        "lines[0].variety",
                        "Bacchus",
                        "lines[0].rootstock",
                        "SO4",
                        "lines[0].vines",
                        "50")
                .location());
        String line = lead.open("/deliveries/new?order=" + order)
                .page()
                .select("select[name='lines[0].orderLineId'] option")
                .last()
                .val();
        var page = lead.sendAndFollow(
                "/deliveries/new",
                "supplierId",
                supplier,
                "orderId",
                order,
                "receivedOn",
                today.toString(),
                "lines[0].orderLineId",
                line,
                "lines[0].variety",
                "Ortega",
                "lines[0].rootstock",
                "SO4",
                "lines[0].bundles",
                "2",
                "lines[0].bundleSize",
                "25");
        assertThat(page.page().text()).contains("Wrong variety: Bacchus / SO4 was ordered");
    }

    /** Common practice, no source: dormant vines heeled in wait two to four weeks. */
    @Test
    void heeledInVinesAreSoonAfterTwoWeeksAndOverAfterFour() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 90, today.minusDays(40)));
        vineyard.run(() -> {
            UUID bed = TestStock.store(stock, StoreKind.HEELED_IN);
            for (int since : List.of(13, 14, 27, 28)) {
                stock.place(lot.id(), bed, 10 + since % 10, today.minusDays(since));
            }
            stock.water(bed, today, null);
        });
        List<Hold> holds = vineyard.inside(() -> lots.holds(lot.id()));
        assertThat(holds).allSatisfy(h -> {
            long waited = java.time.temporal.ChronoUnit.DAYS.between(h.since(), today);
            Level expected = waited >= 28 ? Level.OVER : waited >= 14 ? Level.SOON : Level.EASY;
            assertThat(h.level()).as("%d days", waited).isEqualTo(expected);
            assertThat(h.plantBy()).isEqualTo(h.since().plusDays(28));
        });
        var page = lead.open("/lots").page();
        assertThat(page.select("section .card .level").eachText()).contains("■ over", "▲ soon", "● time enough");
        assertThat(page.text()).contains("has used up").contains("Plant by");
    }

    @Test
    void aBedThatIsNotWateredRunsDryAndWateringEndsIt() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 50, today.minusDays(6)));
        UUID bed = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        vineyard.run(() -> stock.place(lot.id(), bed, 50, today.minusDays(5)));
        Hold dry = vineyard.inside(() -> lots.holds()).get(0);
        assertThat(dry.level()).isEqualTo(Level.OVER);
        assertThat(dry.deciding()).isEqualTo("dryness");
        assertThat(dry.runsOutOn()).isEqualTo(today.minusDays(2));
        vineyard.run(() -> desk.look());
        assertThat(vineyard.inside(() -> desk.open())).hasSize(1);
        vineyard.as(Role.HELPER).sendAndFollow("/stores/" + bed + "/water", "on", today.toString(), "back", "waiting");
        assertThat(vineyard.inside(() -> lots.holds()).get(0).level()).isEqualTo(Level.EASY);
        assertThat(vineyard.inside(() -> desk.open())).isEmpty();
    }

    @Test
    void thePageTheDailyLookAndTheApiSayTheSame() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 60, today.minusDays(30)));
        vineyard.run(() -> {
            stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 20, today.minusDays(20));
            stock.place(lot.id(), TestStock.store(stock, StoreKind.SHED), 20, today.minusDays(5));
            stock.place(lot.id(), TestStock.store(stock, StoreKind.COLD_STORE), 20, today.minusDays(1));
        });
        assertThat(vineyard.<Boolean>inside(() -> desk.look())).isTrue();
        assertThat(vineyard.<Boolean>inside(() -> desk.look()))
                .as("a second node")
                .isFalse();
        List<Hold> holds = vineyard.inside(() -> lots.holds());
        List<String> pressing = holds.stream()
                .flatMap(h -> h.allowances().stream()
                        .filter(a -> a.level() != Level.EASY)
                        .map(a -> h.id() + a.kind() + a.level() + a.runsOutOn()))
                .sorted()
                .toList();
        assertThat(pressing).isNotEmpty();
        assertThat(vineyard.inside(() -> desk.open()).stream()
                        .map(w -> w.holdId() + w.allowance() + w.level() + w.runsOutOn())
                        .sorted())
                .isEqualTo(pressing);
        var json = TestApi.get(vineyard, Role.READER, "/api/v1/lots/" + lot.code() + "/hold")
                .json();
        assertThat(json.get("lot").asString()).isEqualTo(lot.code());
        assertThat(json.get("holds").size()).isEqualTo(3);
        for (int i = 0; i < 3; i++) {
            var hold = json.get("holds").get(i);
            assertThat(hold.get("store").asString()).isEqualTo(holds.get(i).store());
            assertThat(hold.get("level").asString())
                    .isEqualToIgnoringCase(holds.get(i).level().name());
            assertThat(hold.get("runsOutOn").asString())
                    .isEqualTo(String.valueOf(holds.get(i).runsOutOn()));
        }
        var page = lead.open("/lots").page();
        assertThat(page.select("section:has(h2:contains(Standing)) .card p .level")
                        .eachText())
                .isEqualTo(holds.stream()
                        .map(h -> h.level() == Level.OVER
                                ? "■ over"
                                : h.level() == Level.SOON ? "▲ soon" : "● time enough")
                        .toList());
    }

    @Test
    void theApiAnswersForAnyDayAsTheIssueHasIt() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 140, today.minusDays(30)));
        LocalDate since = today.minusDays(21);
        vineyard.run(() -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 140, since));
        var hold = TestApi.get(vineyard, Role.READER, "/api/v1/lots/" + lot.code() + "/hold?on=" + today)
                .json()
                .get("holds")
                .get(0);
        var allowance = hold.get("allowances").get(0);
        assertThat(hold.get("count").asInt()).isEqualTo(140);
        assertThat(hold.get("since").asString()).isEqualTo(since.toString());
        assertThat(allowance.get("kind").asString()).isEqualTo("days");
        assertThat(allowance.get("used").asInt()).isEqualTo(21);
        assertThat(allowance.get("allowed").asInt()).isEqualTo(28);
        assertThat(allowance.get("unit").asString()).isEqualTo("days");
        assertThat(allowance.get("share").asDouble()).isEqualTo(0.75);
        assertThat(allowance.get("runsOutOn").asString())
                .isEqualTo(since.plusDays(28).toString());
        var before =
                TestApi.get(vineyard, Role.READER, "/api/v1/lots/" + lot.code() + "/hold?on=" + since.minusDays(1));
        assertThat(before.json().get("holds").size()).isZero();
        assertThat(TestApi.get(vineyard, Role.READER, "/api/v1/lots/27-NONE/hold")
                        .status())
                .isEqualTo(404);
        assertThat(TestApi.get(vineyard, Role.READER, "/api/v1/lots/" + lot.code() + "/hold?on=0001-01-01")
                        .status())
                .isEqualTo(422);
        assertThat(TestApi.get(vineyard, Role.READER, "/api/v1/lots/" + lot.code() + "/hold?on=soon")
                        .status())
                .isBetween(400, 499);
        var list = TestApi.get(vineyard, Role.READER, "/api/v1/lots").json();
        assertThat(list.get(0).get("code").asString()).isEqualTo(lot.code());
        assertThat(list.get(0).get("balance").asInt()).isEqualTo(140);
        assertThat(list.get(0).propertyNames())
                .containsExactlyInAnyOrder("code", "variety", "rootstock", "received", "balance");
    }

    @Test
    void daysOnTheRoadAndInEarlierStoresCount() {
        Lot lot = vineyard.inside(() -> {
            UUID nursery = stock.addSupplier(new Stock.NewSupplier("Far away", null, null, null, 25));
            var line = new Stock.NewDeliveryLine(
                    null,
                    "Ortega",
                    null,
                    "SO4",
                    2,
                    25,
                    0,
                    null,
                    0,
                    null,
                    Stock.ArrivalCheck.ALL_GOOD,
                    Stock.Passport.UNKNOWN);
            return stock.receive(new Stock.NewDelivery(
                            nursery, null, today.minusDays(20), 3, null, null, null, List.of(line)))
                    .get(0);
        });
        vineyard.run(() -> {
            UUID bed = stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 50, today.minusDays(20));
            assertThat(lots.holds(lot.id()).get(0).allowance("days").used()).isEqualTo(23);
            stock.move(bed, TestStock.store(stock, StoreKind.COLD_STORE), 50, today.minusDays(9));
            Hold cold = lots.holds(lot.id()).get(0);
            // 14 of 28 days used in the bed are 45 of 90 in the cold store, and nine days since.
            assertThat(cold.allowance("days").used()).isEqualTo(45 + 9);
        });
    }

    @Test
    void warningsEscalateAndCloseWhenTheHoldIsEmptied() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(40)));
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 10, today.minusDays(30)));
        vineyard.run(() -> desk.look());
        var open = vineyard.inside(() -> desk.open());
        assertThat(open).extracting("allowance").containsExactlyInAnyOrder("days", "dryness");
        var answer = vineyard.as(Role.HELPER)
                .send(
                        "/lots/warnings/" + open.get(0).id() + "/take-over",
                        "version",
                        "0",
                        "note",
                        "planting on Friday");
        assertThat(answer.status()).isBetween(302, 303);
        assertThat(lead.open("/lots").page().text())
                .contains("Taken over by Hana Helper")
                .contains("planting on Friday");
        vineyard.run(() -> stock.lift(hold, 10, today));
        assertThat(vineyard.inside(() -> desk.open())).isEmpty();
    }

    @Test
    void aWarningIsRaisedOnceGrowsMorePressingAndSaysWhatClosedIt() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(22)));
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 10, today.minusDays(22)));
        vineyard.run(() -> desk.look());
        WarningDesk.Shown raised = daysOf(vineyard.inside(() -> desk.open()));
        assertThat(raised.level()).isEqualTo(Level.SOON);
        time.shiftBy(Duration.ofDays(9));
        try {
            vineyard.run(() -> desk.look());
            WarningDesk.Shown later = daysOf(vineyard.inside(() -> desk.open()));
            assertThat(later.id()).isEqualTo(raised.id());
            assertThat(later.level()).isEqualTo(Level.OVER);
            assertThat(later.raisedOn()).isEqualTo(today);
            assertThat(kept("escalated_on", raised.id()))
                    .isEqualTo(today.plusDays(9).toString());
            vineyard.run(() -> stock.lift(hold, 10, today.plusDays(9)));
            assertThat(kept("closed_by", raised.id())).isEqualTo("EMPTIED");
            Document page = lead.open("/lots/warnings").page();
            Element line =
                    page.select("main table tbody tr:contains(days of waiting)").first();
            assertThat(line.text()).contains(lot.code(), "over", "nothing stands there any more");
            assertThat(line.select("td").eachText())
                    .contains(
                            said(today),
                            said(today.plusDays(9)),
                            said(today.plusDays(9)) + " nothing stands there any more");
            assertThat(lead.open("/lots/warnings?list-csv=warnings").body())
                    .contains(today + "," + today.plusDays(9) + ",")
                    .contains("," + today.plusDays(9) + ",nothing stands there any more");
            assertThat(lead.open("/lots/warnings?warnings-find=nowhere").page().select("main table tbody tr"))
                    .isEmpty();
            assertThat(lead.open("/lots").page().select("a[href$=/lots/warnings]"))
                    .hasSize(1);
        } finally {
            time.shiftBy(Duration.ZERO);
        }
    }

    private static String said(LocalDate day) {
        return DateText.format(day, "d MMM yyyy", Locale.ENGLISH);
    }

    private static WarningDesk.Shown daysOf(List<WarningDesk.Shown> open) {
        return open.stream()
                .filter(w -> w.allowance().equals("days"))
                .findFirst()
                .orElseThrow();
    }

    private String kept(String column, UUID warning) {
        return vineyard.inside(() -> jdbc.sql("select " + column + "::text from hold_warning where id = :id")
                .param("id", warning)
                .query(String.class)
                .single());
    }

    @Test
    void everyPageOpensForAReaderAndOffersThemNothingToChange() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(4)));
        UUID bed = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        vineyard.run(() -> stock.place(lot.id(), bed, 6, today.minusDays(3)));
        for (String path : List.of(
                "/lots",
                "/lots/" + lot.code(),
                "/stores",
                "/stores/" + bed,
                "/orders",
                "/nurseries",
                "/store-limits",
                "/vine-lists",
                "/help/nursery",
                "/lots/" + lot.code() + "?on=" + today)) {
            var answer = vineyard.as(Role.READER).open(path);
            assertThat(answer.status()).as(path).isEqualTo(200);
            assertThat(answer.page().select("main form[method=post]")).as(path).isEmpty();
            assertThat(answer.body()).as(path).doesNotContain("??");
        }
        for (String path : List.of(
                "/orders/new",
                "/deliveries/new",
                "/lots/" + lot.code() + "/lift",
                "/lots/" + lot.code() + "/do/place",
                "/stores/new",
                "/lots/" + lot.code() + "/papers",
                "/store-limits/HEELED_IN/days")) {
            assertThat(vineyard.as(Role.READER).open(path).status()).as(path).isEqualTo(403);
            var forLead = lead.open(path);
            assertThat(forLead.status()).as(path).isEqualTo(200);
            assertThat(forLead.body()).as(path).doesNotContain("??");
        }
    }

    @Test
    void aDeliveryOffersToPlaceVinesAsLongAsSomeStandNowhere() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(2)));
        var store = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        String delivery = lead.open("/lots/" + lot.code())
                .page()
                .select("main a[href*=/deliveries/]")
                .attr("href")
                .replaceFirst("^/v/[^/]+", "");
        vineyard.run(() -> stock.place(lot.id(), store, 9, today));
        assertThat(lead.open(delivery).page().select("a[href$=/do/place]")).hasSize(1);

        vineyard.run(() -> stock.place(lot.id(), store, 1, today));

        assertThat(lead.open(delivery).page().select("a[href$=/do/place]")).isEmpty();
    }

    @Test
    void aLimitIsSetWithItsSourceAndTheClockFollows() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(12)));
        vineyard.run(() -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 10, today.minusDays(10)));
        var page = lead.sendAndFollow(
                "/store-limits/HEELED_IN/days",
                "warnAt",
                "5",
                "value",
                "10",
                "source",
                "the nursery's sheet",
                "version",
                "-1");
        assertThat(page.page().text()).contains("the nursery's sheet").contains("Set by this vineyard");
        assertThat(vineyard.inside(() -> lots.holds()).get(0).allowance("days").level())
                .isEqualTo(Level.OVER);
        var stale =
                lead.send("/store-limits/HEELED_IN/days", "warnAt", "5", "value", "12", "source", "x", "version", "7");
        assertThat(stale.status()).isEqualTo(409);
    }

    /** NIST Special Publication 811 (2008), appendix B.8: 1 ft = 0.3048 m, a kelvin is 1.8 degrees Fahrenheit. */
    @Test
    void limitsAreShownAndTypedInTheUnitsOfThePerson() {
        vineyard.reads(Role.LEAD, "us", "en");
        // 105 degree days over 5 °C, 0.3 m of roots, 3 K warmer than outside
        assertThat(lead.open("/store-limits").page().text())
                .contains("189 °F degree days", "41 °F", "0.984 ft", "5.4 °F")
                .doesNotContain("5 °C", "3 °C", "0.3 m", "105 ");
        String path = "/store-limits/HEELED_IN/warmth";
        assertThat(lead.open(path).page().getElementById("warnAt").val()).isEqualTo("108");
        lead.sendAndFollow(path, "warnAt", "100", "value", "200", "source", "a sheet", "version", "-1");
        assertThat(lead.open(path).page().getElementById("value").val()).isEqualTo("200");
        assertThat(vineyard.as(Role.READER).open("/store-limits").page().text()).contains("111.111 degree days");
        assertThat(UnitChoice.in(
                        UnitChoice.US,
                        () -> List.of(
                                limitText.used("degree days", 10),
                                limitText.allowed("degree days", 105),
                                limitText.unit("degree days"),
                                limitText.used("mm", 25.4),
                                limitText.unit("mm"),
                                limitText.used("hours", 7))))
                .containsExactly("18.0", "189", "°F degree days", "1.00", "in of soil water", "7");
        assertThat(limitText.used("mm", 25.4)).isEqualTo("25.4");
    }

    @Test
    void manyHoldsAreShownInPagesTheMostPressingFirst() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 100, today.minusDays(44)));
        vineyard.run(() -> {
            UUID shed = TestStock.store(stock, StoreKind.COLD_STORE);
            for (int n = 0; n < 45; n++) {
                stock.place(lot.id(), shed, 1 + n % 2, today.minusDays(44 - n));
            }
        });
        List<String> since = new java.util.ArrayList<>();
        for (int page = 1; page <= 3; page++) {
            var cards = lead.open("/lots?page=" + page).page().select(".card:has(details)");
            assertThat(cards).hasSize(page < 3 ? 20 : 5);
            cards.forEach(card -> since.add(card.select("p").get(1).text()));
        }
        assertThat(since).hasSize(45);
        // What stands longest in the cold store must leave it first.
        assertThat(since.get(0)).contains(day(today.minusDays(44)));
        assertThat(since.get(44)).contains(day(today));
        assertThat(lead.open("/lots?page=99").page().select(".card:has(details)"))
                .hasSize(5);
        assertThat(lead.open("/lots?page=-3").page().text()).contains("Page 1 of 3, 45 in all");
        assertThat(lead.open("/lots/all").page().select("table tbody tr")).hasSize(1);
    }

    private static String day(LocalDate day) {
        return java.time.format.DateTimeFormatter.ofPattern("d MMM", java.util.Locale.ENGLISH)
                .format(day);
    }
}
