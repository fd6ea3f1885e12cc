package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Absurd, hostile and mistaken input: a plain message at the field, and nothing half done. */
@AppTest
class BadStockInputTest {

    private static final String HOSTILE = "<script>alert(1)</script>'; drop table lot; --";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    Vineyards days;

    TestVineyard vineyard;
    TestBrowser lead;
    LocalDate today;
    Lot lot;
    UUID bed;
    UUID hold;

    @BeforeEach
    void makeVineyard() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        today = vineyard.inside(() -> days.today());
        lot = vineyard.inside(() -> TestStock.lot(stock, 50, today.minusDays(10)));
        bed = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        hold = vineyard.inside(() -> stock.place(lot.id(), bed, 20, today.minusDays(5)));
    }

    private static void refusedAt(Answer answer, String field, String words) {
        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.page().select("[id='" + field + "-error']").text())
                .as(field)
                .contains(words);
        assertThat(answer.body()).doesNotContain("Exception").doesNotContain("\tat ");
    }

    private Lot now() {
        return vineyard.inside(() -> lots.byId(lot.id()).orElseThrow());
    }

    private String[] lift(String count, String on) {
        return new String[] {"spot", hold.toString(), "count", count, "on", on};
    }

    @Test
    void liftsThatCannotBeAreRefusedAtTheirField() {
        String path = "/lots/" + lot.code() + "/lift";
        refusedAt(lead.send(path, lift("21", today.toString())), "count", "21 are more than there are: 20");
        refusedAt(lead.send(path, lift("0", today.toString())), "count", "1 to 1,000,000");
        refusedAt(lead.send(path, lift("-3", today.toString())), "count", "");
        refusedAt(lead.send(path, lift("999999999999", today.toString())), "count", "whole number");
        refusedAt(lead.send(path, lift("many", today.toString())), "count", "whole number");
        refusedAt(lead.send(path, lift("", today.toString())), "count", "is needed");
        refusedAt(lead.send(path, lift("1", today.plusDays(1).toString())), "on", "future");
        refusedAt(lead.send(path, lift("1", today.minusDays(6).toString())), "on", "before these vines were placed");
        refusedAt(lead.send(path, lift("1", "0001-01-01")), "on", "between 1990 and 2100");
        refusedAt(lead.send(path, lift("1", "31 February")), "on", "must be a date");
        refusedAt(lead.send(path, lift("1", "")), "on", "is needed");
        refusedAt(
                lead.send(path, "spot", HOSTILE.substring(0, 30), "count", "1", "on", today.toString()),
                "spot",
                "Choose");
        assertThat(now().lifted()).isZero();
        assertThat(now().held()).isEqualTo(20);
    }

    @Test
    void theSameFormSentTwiceIsTakenOnce() {
        String once = UUID.randomUUID().toString();
        String[] form = {"spot", hold.toString(), "count", "5", "on", today.toString(), "once", once};
        assertThat(lead.send("/lots/" + lot.code() + "/lift", form).status()).isBetween(302, 303);
        assertThat(lead.send("/lots/" + lot.code() + "/lift", form).page().text())
                .contains("not taken a second time");
        assertThat(now().lifted()).isEqualTo(5);
    }

    @Test
    void placingNeedsAStoreWithRoomThatIsOurs() {
        TestVineyard other = vineyards.fresh();
        UUID theirs = other.inside(() -> TestStock.store(stock, StoreKind.SHED));
        String path = "/lots/" + lot.code() + "/do/place";
        refusedAt(lead.send(path, "count", "5", "on", today.toString(), "storeId", ""), "storeId", "is needed");
        assertThat(lead.send(path, "count", "5", "on", today.toString(), "storeId", theirs.toString())
                        .status())
                .isEqualTo(404);
        UUID small = vineyard.inside(
                () -> stock.addStore(new Stock.NewStore("small", StoreKind.SHED, 4, null, null, null, null, null)));
        refusedAt(
                lead.send(path, "count", "5", "on", today.toString(), "storeId", small.toString()),
                "count",
                "small has room for 4 more");
        refusedAt(
                lead.send(path, "count", "31", "on", today.toString(), "storeId", bed.toString()),
                "count",
                "31 are more than there are: 30");
        refusedAt(
                lead.send(path, "count", "5", "on", today.minusDays(11).toString(), "storeId", bed.toString()),
                "on",
                "before lot");
        assertThat(now().unplaced()).isEqualTo(30);
    }

    @Test
    void deliveriesThatCannotBeAreRefusedWhole() {
        String nursery = vineyard.inside(
                        () -> stock.addSupplier(new Stock.NewSupplier("Baumschule", null, null, null, 25)))
                .toString();
        int before = vineyard.inside(() -> lots.all()).size();
        refusedAt(
                deliver(nursery, "lines[0].bundles", "2", "lines[0].variety", "No such vine"),
                "lines[0].variety",
                "not on the list");
        refusedAt(deliver(nursery, "lines[0].bundles", "0", "lines[0].loose", "0"), "lines[0].bundles", "no vines");
        refusedAt(deliver(nursery, "lines[0].bundles", "-1"), "lines[0].bundles", "");
        refusedAt(
                deliver(nursery, "lines[0].bundles", "40000", "lines[0].bundleSize", "1000"),
                "lines[0].bundles",
                "more than a million");
        refusedAt(
                deliver(nursery, "lines[0].bundles", "1", "lines[0].rejected", "26", "lines[0].rejectReason", "x"),
                "lines[0].rejected",
                "26 rejected are more");
        refusedAt(
                deliver(nursery, "lines[0].bundles", "1", "lines[0].rejected", "2"),
                "lines[0].rejectReason",
                "Say why");
        refusedAt(
                deliver(
                        nursery,
                        "lines[0].bundles",
                        "1",
                        "receivedOn",
                        today.plusDays(2).toString()),
                "receivedOn",
                "future");
        refusedAt(deliver(nursery, "lines[0].bundles", "1", "daysInTransit", "61"), "daysInTransit", "");
        refusedAt(
                deliver(nursery, "lines[0].bundles", "1", "lines[0].trace", "x".repeat(1_000_000)),
                "lines[0].trace",
                "");
        // The first line is good, the second is not: neither is taken.
        refusedAt(
                deliver(
                        nursery,
                        "lines[0].bundles",
                        "1",
                        "lines[1].variety",
                        "Ortega",
                        "lines[1].rootstock",
                        "SO4",
                        "lines[1].bundles",
                        "1",
                        "lines[1].rejected",
                        "99"),
                "lines[1].rejected",
                "99 rejected");
        assertThat(deliver(nursery, "lines[0].bundles", "1", "lines[99999999].bundles", "1")
                        .status())
                .isEqualTo(422);
        assertThat(vineyard.inside(() -> lots.all())).hasSize(before);
    }

    private Answer deliver(String nursery, String... more) {
        java.util.LinkedHashMap<String, String> fields = new java.util.LinkedHashMap<>();
        fields.put("supplierId", nursery);
        fields.put("receivedOn", today.toString());
        fields.put("lines[0].variety", "Bacchus");
        fields.put("lines[0].rootstock", "SO4");
        fields.put("lines[0].bundleSize", "25");
        for (int i = 0; i < more.length; i += 2) {
            fields.put(more[i], more[i + 1]);
        }
        List<String> sent = new ArrayList<>();
        fields.forEach((name, value) -> {
            sent.add(name);
            sent.add(value);
        });
        return lead.send("/deliveries/new", sent.toArray(String[]::new));
    }

    @Test
    void ordersThatCannotBeAreRefused() {
        String nursery = vineyard.inside(
                        () -> stock.addSupplier(new Stock.NewSupplier("Pépinière", null, null, null, 25)))
                .toString();
        String[] base = {
            "supplierId",
            nursery,
            "reference",
            "7",
            "orderedOn",
            today.toString(),
            "currency",
            "EUR",
            "lines[0].variety",
            "Bacchus",
            "lines[0].rootstock",
            "SO4"
        };
        assertThat(lead.send("/orders/new", with(base, "lines[0].variety", "", "lines[0].rootstock", ""))
                        .page()
                        .text())
                .contains("at least one line");
        refusedAt(lead.send("/orders/new", with(base, "lines[0].vines", "0")), "lines[0].vines", "");
        refusedAt(lead.send("/orders/new", with(base, "lines[0].vines", "")), "lines[0].vines", "Say how many");
        refusedAt(
                lead.send("/orders/new", with(base, "lines[0].vines", "10", "lines[0].priceEach", "-1")),
                "lines[0].priceEach",
                "");
        refusedAt(
                lead.send("/orders/new", with(base, "lines[0].vines", "10", "currency", "euros")),
                "currency",
                "three capital letters");
        assertThat(lead.send(
                                "/orders/new",
                                with(
                                        base,
                                        "lines[0].vines",
                                        "10",
                                        "lines[0].expectedWeek",
                                        today.minusYears(1).toString()))
                        .page()
                        .text())
                .contains("cannot be expected before");
        refusedAt(
                lead.send("/orders/new", with(base, "lines[0].vines", "10", "supplierId", "")),
                "supplierId",
                "is needed");
        String order = lead.send("/orders/new", with(base, "lines[0].vines", "10"))
                .location()
                .replaceFirst(".*/", "");
        assertThat(lead.send("/orders/" + order + "/confirm", "version", "5").status())
                .isEqualTo(409);
        assertThat(lead.send("/orders/" + order + "/cancel", "version", "0").status())
                .isBetween(302, 303);
        assertThat(lead.send("/orders/" + order + "/confirm", "version", "1").status())
                .isEqualTo(422);
    }

    private static String[] with(String[] base, String... more) {
        java.util.LinkedHashMap<String, String> fields = new java.util.LinkedHashMap<>();
        for (String[] part : List.of(base, more)) {
            for (int i = 0; i < part.length; i += 2) {
                fields.put(part[i], part[i + 1]);
            }
        }
        List<String> sent = new ArrayList<>();
        fields.forEach((name, value) -> {
            sent.add(name);
            sent.add(value);
        });
        return sent.toArray(String[]::new);
    }

    @Test
    void hostileTextIsKeptAndShownAsText() {
        lead.sendAndFollow("/lots/" + lot.code() + "/papers", "botanical", HOSTILE, "note", HOSTILE, "version", "0");
        Answer page = lead.open("/lots/" + lot.code());
        assertThat(page.page().text()).contains(HOSTILE);
        assertThat(page.body()).doesNotContain("<script>alert");
        assertThat(lead.send("/lots/" + lot.code() + "/papers", "note", "late", "version", "0")
                        .status())
                .as("a stale edit")
                .isEqualTo(409);
        assertThat(lead.send("/stores/new", "name", HOSTILE, "kind", "SHED").status())
                .isBetween(302, 303);
        assertThat(lead.open("/stores").body()).doesNotContain("<script>alert");
        refusedAt(lead.send("/stores/new", "name", "y".repeat(61), "kind", "SHED"), "name", "");
        refusedAt(lead.send("/stores/new", "name", HOSTILE, "kind", "SHED"), "name", "already");
        refusedAt(lead.send("/stores/new", "name", "ok", "kind", "CELLAR"), "kind", "");
    }

    @Test
    void limitsThatMakeNoSenseAreRefused() {
        String path = "/store-limits/HEELED_IN/days";
        refusedAt(lead.send(path, "warnAt", "14", "value", "0", "source", "x", "version", "-1"), "value", "sensible");
        refusedAt(
                lead.send(path, "warnAt", "30", "value", "28", "source", "x", "version", "-1"),
                "warnAt",
                "from 0 to the limit");
        refusedAt(lead.send(path, "warnAt", "1", "value", "1e9", "source", "x", "version", "-1"), "value", "");
        refusedAt(lead.send(path, "warnAt", "1", "value", "28", "source", " ", "version", "-1"), "source", "");
        assertThat(lead.open("/store-limits/CELLAR/days").status()).isEqualTo(404);
        assertThat(lead.open("/store-limits/HEELED_IN/nonsense").status()).isEqualTo(404);
    }

    @Test
    void whatBelongsToAnotherVineyardIsNotThere() {
        TestBrowser stranger = vineyards.fresh().as(Role.OWNER);
        for (String path : List.of("/lots/" + lot.code(), "/stores/" + bed, "/lots/" + lot.code() + "/lift")) {
            assertThat(stranger.open(path).status()).as(path).isEqualTo(404);
        }
        assertThat(stranger.send("/stores/" + bed + "/water", "on", today.toString())
                        .status())
                .isEqualTo(404);
        assertThat(lead.send("/lots/" + lot.code() + "/undo/" + UUID.randomUUID())
                        .status())
                .isEqualTo(404);
        assertThat(TestApi.get(vineyards.fresh(), Role.OWNER, "/api/v1/lots/" + lot.code() + "/hold")
                        .status())
                .isEqualTo(404);
    }

    @Test
    void aReaderAndAHelperCannotDoWhatIsNotTheirs() {
        TestBrowser reader = vineyard.as(Role.READER);
        TestBrowser helper = vineyard.as(Role.HELPER);
        assertThat(reader.send("/stores/" + bed + "/water", "on", today.toString())
                        .status())
                .isEqualTo(403);
        assertThat(reader.send("/lots/" + lot.code() + "/lift", lift("1", today.toString()))
                        .status())
                .isEqualTo(403);
        assertThat(helper.send(
                                "/lots/" + lot.code() + "/do/lose",
                                "spot",
                                "UNPLACED",
                                "count",
                                "1",
                                "on",
                                today.toString(),
                                "reason",
                                "x")
                        .status())
                .isEqualTo(403);
        assertThat(helper.send("/lots/" + lot.code() + "/lift", lift("1", today.toString()))
                        .status())
                .isBetween(302, 303);
    }
}
