package org.rootling.trellis.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.ZipFile;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.platform.UnitChoice;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.trellis.TrellisBlocks;
import org.rootling.trellis.calc.Caution;
import org.rootling.trellis.calc.Fault;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

@AppTest
class TrellisPagesTest {
    private static final String WIRE = "WIRE:HIGH_TENSILE:648000:2.50";
    private static final String GUARD = "GUARD:-:0:0.00";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    Words words;

    private TestVineyard vineyard() {
        TestVineyard vineyard = vineyards.fresh();
        TrellisBlocks.block(vineyard, "B1", 10);
        return vineyard;
    }

    private static TestVineyard planned(TestVineyard vineyard) {
        vineyard.as(Role.LEAD).sendAndFollow("/trellis/blocks/B1/start", "canopy", "MEDIUM");
        return vineyard;
    }

    /** The fields of the form as a browser would send them, with some changed. */
    private static String[] fields(Document page, String action, String... changes) {
        Element form = page.selectFirst("form[action$=" + action + "]");
        assertThat(form).isNotNull();
        List<String> sent = new ArrayList<>();
        for (Element field : form.select("input[name], select[name], textarea[name]")) {
            String name = field.attr("name");
            String value = field.val();
            if (field.tagName().equals("select")) {
                Element chosen = field.selectFirst("option[selected]");
                chosen = chosen == null ? field.selectFirst("option") : chosen;
                value = chosen == null ? "" : chosen.val();
            }
            for (int i = 0; i < changes.length; i += 2) {
                if (changes[i].equals(name)) {
                    value = changes[i + 1];
                }
            }
            sent.add(name);
            sent.add(value);
        }
        return sent.toArray(String[]::new);
    }

    @Test
    void aPlanBegunFromACanopyShowsItsGeometryAndQuantities() {
        TestVineyard vineyard = vineyard();
        Document list = vineyard.as(Role.LEAD).open("/trellis").page();
        assertThat(list.select("input[name=canopy]")).hasSize(3);
        Document page = vineyard.as(Role.LEAD)
                .sendAndFollow("/trellis/blocks/B1/start", "canopy", "MEDIUM")
                .page();
        assertThat(page.select("svg.plan")).hasSize(2);
        String text = page.select("main").text();
        // 1.8 m above ground along the post, 20 degrees: 1.69 m high, 0.62 m back; board tan 20 = 0.364
        assertThat(text).contains("1.69 m", "0.62 m").doesNotContain("??", "trellis.");
        assertThat(page.select("tr:contains(Line post) td.num").first().text()).isEqualTo("130");
        assertThat(page.select("tr:contains(Guard) td.num").first().text()).isEqualTo("700");
        // six wires of 86 m in ten rows; 648 m in a coil of 25 kg (N.Z. Wire Industries 1980)
        assertThat(page.select("tr:contains(Wire 2.5 mm)").first().text()).contains("8 × 648 m", "199 kg");
    }

    @Test
    void aBlockWithoutAPlanSaysHowToBeginOne() {
        TestVineyard vineyard = vineyard();
        TestBrowser.Answer begin = vineyard.as(Role.LEAD).open("/trellis/blocks/B1");
        assertThat(begin.status()).isEqualTo(200);
        assertThat(begin.page().select("main input[name=canopy]")).hasSize(3);
        // medium canopy: as in the plan that is begun from it
        assertThat(begin.page().select("main tbody tr").get(1).text())
                .contains("1.69 m", "0.80 m", "2.80 m, 120 mm thick");
        TestBrowser.Answer read = vineyard.as(Role.READER).open("/trellis/blocks/B1");
        assertThat(read.status()).isEqualTo(200);
        assertThat(read.page().select("main form")).isEmpty();
        assertThat(read.page().select("main").text()).contains("A lead or the owner begins one");
        for (String more : List.of("/loads", "/tension", "/edit")) {
            TestBrowser.Answer sent = vineyard.as(Role.LEAD).open("/trellis/blocks/B1" + more);
            assertThat(sent.status()).as(more).isEqualTo(302);
            assertThat(sent.location()).endsWith("/trellis/blocks/B1");
        }
        TestBrowser.Answer order = vineyard.as(Role.LEAD).open("/trellis/order?block=B1");
        assertThat(order.status()).isEqualTo(200);
        assertThat(order.page().select("main").text()).contains("nothing to order");
    }

    @Test
    void everyPageReadsForEveryRoleAndWritesOnlyForThoseWhoMay() {
        TestVineyard vineyard = planned(vineyard());
        for (Role role : Role.values()) {
            for (String path : List.of(
                    "/trellis",
                    "/trellis/blocks/B1",
                    "/trellis/blocks/B1/loads",
                    "/trellis/blocks/B1/tension",
                    "/trellis/order",
                    "/trellis/order/item?key=" + GUARD,
                    "/help/trellis")) {
                TestBrowser.Answer answer = vineyard.as(role).open(path);
                assertThat(answer.status()).as(role + " " + path).isEqualTo(200);
                assertThat(answer.page().text())
                        .as(path)
                        .doesNotContain("trellis.")
                        .doesNotContain("??");
            }
        }
        assertThat(vineyard.as(Role.HELPER).open("/trellis/blocks/B1/edit").status())
                .isEqualTo(403);
        assertThat(vineyard.as(Role.HELPER)
                        .send("/trellis/blocks/B1/start", "canopy", "LOW")
                        .status())
                .isEqualTo(403);
        assertThat(vineyard.as(Role.READER)
                        .send("/trellis/blocks/B1/tension", "scaleKg", "3")
                        .status())
                .isEqualTo(403);
        assertThat(vineyard.as(Role.HELPER)
                        .send("/trellis/order/bought", "key", GUARD, "quantity", "5", "on", "2020-01-01")
                        .status())
                .isEqualTo(403);
    }

    @Test
    void anotherVineyardSeesNothingOfIt() {
        planned(vineyard());
        TestVineyard other = vineyards.fresh();
        assertThat(other.as(Role.OWNER).open("/trellis/blocks/B1").status()).isEqualTo(404);
        assertThat(other.as(Role.OWNER).open("/trellis/order").page().text()).contains("nothing to order");
    }

    @Test
    void numbersThatCannotWorkAreRefusedBesideTheirFields() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document edit = lead.open("/trellis/blocks/B1/edit").page();
        TestBrowser.Answer answer = lead.send(
                "/trellis/blocks/B1/edit",
                fields(
                        edit,
                        "/edit",
                        "end.leanDeg",
                        "46",
                        "end.buriedM",
                        "3",
                        "wires0.heightM",
                        "-0.2",
                        "wires1.tensionN",
                        "99000",
                        "line.maxSpanM",
                        "200"));
        assertThat(answer.status()).isEqualTo(200);
        for (String field :
                List.of("end.leanDeg", "end.buriedM", "wires0.heightM", "wires1.tensionN", "line.maxSpanM")) {
            assertThat(answer.page().getElementById(field + "-error"))
                    .as(field)
                    .isNotNull()
                    .extracting(Element::text)
                    .asString()
                    .hasSizeGreaterThan(10);
        }
        assertThat(answer.page().getElementById("end.leanDeg").val()).isEqualTo("46");
        assertThat(lead.open("/trellis/blocks/B1/edit")
                        .page()
                        .getElementById("end.leanDeg")
                        .val())
                .isEqualTo("20");
    }

    @Test
    void textWhereANumberBelongsIsNamedAndKept() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document edit = lead.open("/trellis/blocks/B1/edit").page();
        TestBrowser.Answer answer = lead.send(
                "/trellis/blocks/B1/edit",
                fields(
                        edit,
                        "/edit",
                        "wires2.diameterMm",
                        "<b>thick</b>",
                        "hold.tieStrands",
                        "",
                        "end.lengthM",
                        "1e400"));
        Document page = answer.page();
        assertThat(page.getElementById("wires2.diameterMm-error")).isNotNull();
        assertThat(page.getElementById("wires2.diameterMm").val()).isEqualTo("<b>thick</b>");
        assertThat(page.getElementById("hold.tieStrands-error")).isNotNull();
        assertThat(page.getElementById("end.lengthM-error")).isNotNull();
    }

    @Test
    void changedNumbersAreKeptAndAStaleEditIsRefused() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document edit = lead.open("/trellis/blocks/B1/edit").page();
        String[] first =
                fields(edit, "/edit", "line.maxSpanM", "7", "wires3.name", "", "wires3.heightM", "", "once", "");
        Document plan = lead.sendAndFollow("/trellis/blocks/B1/edit", first).page();
        // 84 m in bays of at most 7 m: 11 line posts a row
        assertThat(plan.select("tr:contains(Line post) td.num").first().text()).isEqualTo("110");
        assertThat(lead.send("/trellis/blocks/B1/edit", first).status()).isEqualTo(409);
    }

    @Test
    void theSecondPlanOfABlockIsRefused() {
        TestVineyard vineyard = planned(vineyard());
        assertThat(vineyard.as(Role.LEAD)
                        .send("/trellis/blocks/B1/start", "canopy", "LOW")
                        .status())
                .isEqualTo(422);
    }

    @Test
    void orderSheetCountsPacksPricesAndWhatWasBought() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        String bare = lead.open("/trellis/order").page().select("dl.facts").text();
        assertThat(bare).containsPattern("without \\d+ unpriced lines –").doesNotContain("lines 0.00");
        lead.sendAndFollow(
                "/trellis/order/terms", "key", GUARD, "packSize", "50", "packPrice", "41.25", "sparePercent", "2");
        assertThat(lead.open("/trellis/order").page().select("dl.facts").text())
                .containsPattern("without \\d+ unpriced lines 618.75");
        Document sheet = lead.open("/trellis/order?delivery=80").page();
        Element guards = sheet.selectFirst("tr:has(th:contains(Guard))");
        // 700 vines and 2 percent: 714 in 15 packs of 50 at 41.25
        assertThat(guards.text()).contains("714", "15 × 50", "618.75");
        assertThat(sheet.select("main").text()).contains("698.75").contains("no price yet");
        lead.sendAndFollow(
                "/trellis/order/bought",
                "key",
                GUARD,
                "quantity",
                "700",
                "on",
                "2020-03-01",
                "paid",
                "560",
                "note",
                "=1+1");
        Document after = lead.open("/trellis/order?delivery=80").page();
        assertThat(after.selectFirst("tr:has(th:contains(Guard))").text()).contains("1 × 50", "41.25");
        Document item = lead.open("/trellis/order/item?key=" + GUARD).page();
        String withdraw = item.selectFirst("form[action$=/withdraw]").attr("action");
        lead.sendAndFollow(withdraw.substring(withdraw.indexOf("/trellis")), "key", GUARD);
        assertThat(lead.open("/trellis/order")
                        .page()
                        .selectFirst("tr:has(th:contains(Guard))")
                        .text())
                .contains("15 × 50");
    }

    @Test
    void keptSheetShowsWhatAPlanHasChangedSince() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        lead.sendAndFollow("/trellis/order/keep", "block", "B1", "delivery", "7.50", "currency", "EUR");
        assertThat(lead.open("/trellis/order").page().select("dl.facts strong").text())
                .isEqualTo("7.50 EUR");
        assertThat(lead.open("/trellis/order?currency=euro")
                        .page()
                        .select(".error")
                        .text())
                .contains("three capital letters");
        Document wrong = lead.open("/trellis/order?delivery=x").page();
        assertThat(wrong.select(".error")).hasSize(1);
        assertThat(wrong.getElementById("delivery").val()).isEqualTo("x");
        Document edit = lead.open("/trellis/blocks/B1/edit").page();
        lead.sendAndFollow("/trellis/blocks/B1/edit", fields(edit, "/edit", "perVine.guards", "2", "once", ""));
        Document sheet = lead.open("/trellis/order").page();
        assertThat(sheet.selectFirst("tr:has(th:contains(Guard))").text()).contains("+714");
        assertThat(sheet.selectFirst("tr:has(th:contains(Stake))").text()).contains("–");
    }

    @Test
    void badPurchasesAndTermsAreRefusedBesideTheirFields() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document bought = lead.send(
                        "/trellis/order/bought",
                        "key",
                        GUARD,
                        "quantity",
                        "-3",
                        "on",
                        "1850-01-01",
                        "note",
                        "x".repeat(201))
                .page();
        assertThat(bought.getElementById("quantity-error")).isNotNull();
        assertThat(bought.getElementById("on-error")).isNotNull();
        assertThat(bought.getElementById("note-error")).isNotNull();
        Document future = lead.send("/trellis/order/bought", "key", GUARD, "quantity", "3", "on", "2099-01-01")
                .page();
        assertThat(future.getElementById("on-error").text()).contains("today");
        Document terms = lead.send(
                        "/trellis/order/terms", "key", GUARD, "packSize", "0", "packPrice", "-1", "sparePercent", "1e9")
                .page();
        assertThat(terms.getElementById("packSize-error")).isNotNull();
        assertThat(terms.getElementById("packPrice-error")).isNotNull();
        assertThat(terms.getElementById("sparePercent-error")).isNotNull();
        assertThat(lead.open("/trellis/order/item?key=NOTHING").status()).isEqualTo(404);
        assertThat(lead.open("/trellis/order?block=Z9").status()).isEqualTo(404);
    }

    @Test
    void sheetIsTakenAlongWithItsSumsAsCsvAndXlsx() throws Exception {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        TestBrowser reader = vineyard.as(Role.READER);
        String open = file(reader, "/trellis/order?block=B1&delivery=12.50&currency=EUR&list-csv=order");
        assertThat(open)
                .startsWith("\uFEFFItem,Unit,Plans need,")
                .contains("Guard,pcs,700,2,714,", "\r\nDelivery,,,,,,,,,,,12.50\r\n");
        // Before anything but one thing has a price, the sum says what it leaves out.
        lead.sendAndFollow(
                "/trellis/order/terms", "key", GUARD, "packSize", "50", "packPrice", "20", "sparePercent", "2");
        String priced = file(reader, "/trellis/order?block=B1&delivery=12.50&currency=EUR&list-csv=order");
        // 714 guards are 15 packs of 50; 15 × 20 + 12.50 = 312.50
        assertThat(priced).contains(",15,20.00,300.00\r\n");
        assertThat(priced.lines().reduce((a, b) -> b).orElseThrow())
                .matches("\"?Still to pay, without \\d+ unpriced lines, EUR\"?,{11}312.50");
        // A part of the list has no sum of its own to tell.
        assertThat(file(reader, "/trellis/order?block=B1&order-find=guard&list-csv=order")
                        .lines())
                .hasSize(2);
        assertThat(file(reader, "/trellis/order?block=B1&order-sort=-1&list-csv=order")
                        .lines()
                        .toList())
                .element(-1 + (int) priced.lines().count())
                .asString()
                .startsWith("\"Still to pay");
        TestBrowser.Answer xlsx = reader.open("/trellis/order?block=B1&delivery=12.50&list-xlsx=order");
        Path file = Files.createTempFile("order", ".xlsx");
        Files.write(file, xlsx.raw().getResponse().getContentAsByteArray());
        String cells;
        try (ZipFile zip = new ZipFile(file.toFile())) {
            assertThat(zip.getEntry("xl/workbook.xml")).isNotNull();
            cells = new String(
                    zip.getInputStream(zip.getEntry("xl/worksheets/sheet1.xml")).readAllBytes(),
                    StandardCharsets.UTF_8);
        } finally {
            Files.delete(file);
        }
        assertThat(cells).contains("<v>714</v>", "<v>312.50</v>");
        TestBrowser.Answer unread = reader.open("/trellis/order?delivery=abc&list-csv=order");
        assertThat(unread.raw().getResponse().getContentType()).startsWith("text/html");
        assertThat(unread.page().select(".error")).hasSize(1);
        assertThat(reader.open("/trellis/order/order.csv").status()).isEqualTo(404);
    }

    @Test
    void aReadingByScaleBecomesATensionAndIsDueAgain() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser helper = vineyard.as(Role.HELPER);
        Document page = helper.open("/trellis/blocks/B1/tension").page();
        String row = page.select("select[name=row] option").get(1).val();
        // 36 N = 3.671 kg at 6 m and 6 cm is 900 N while drawn aside; the run of 84 m takes 14 N off.
        Document after = helper.sendAndFollow(
                        "/trellis/blocks/B1/tension",
                        "row",
                        row,
                        "wire",
                        "0",
                        "on",
                        "2020-04-01",
                        "scaleKg",
                        "3.671",
                        "asideCm",
                        "6",
                        "spanM",
                        "6",
                        "due",
                        "2021-04-01")
                .page();
        assertThat(after.select("tr:has(td:contains(fruiting))").last().text()).contains("886 N", "800 N", "tight");
        assertThat(vineyard.as(Role.READER).open("/trellis").page().text()).contains("B1 row 1, wire fruiting");
        assertThat(vineyard.as(Role.READER)
                        .open("/trellis/blocks/B1")
                        .page()
                        .select("tr:contains(fruiting: 886 N)")
                        .text())
                .startsWith("1 2 13")
                .contains("tight fruiting: 886 N, 1 Apr 2020");
    }

    @Test
    void readingsThatMakeNoSenseAreRefused() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser helper = vineyard.as(Role.HELPER);
        String row = helper.open("/trellis/blocks/B1/tension")
                .page()
                .select("select[name=row] option")
                .get(1)
                .val();
        String[][] cases = {
            {"scaleKg", "", "asideCm", "6", "spanM", "6", "scaleKg-error"},
            {"scaleKg", "190", "asideCm", "1", "spanM", "6", "scaleKg-error"},
            {"scaleKg", "4", "asideCm", "", "spanM", "6", "asideCm-error"},
            {"scaleKg", "-4", "asideCm", "6", "spanM", "6", "scaleKg-error"},
            {"scaleKg", "abc", "asideCm", "6", "spanM", "6", "scaleKg-error"},
        };
        for (String[] c : cases) {
            Document page = helper.send(
                            "/trellis/blocks/B1/tension",
                            "row",
                            row,
                            "wire",
                            "0",
                            "on",
                            "2020-04-01",
                            c[0],
                            c[1],
                            c[2],
                            c[3],
                            c[4],
                            c[5])
                    .page();
            assertThat(page.getElementById(c[6])).as(String.join(" ", c)).isNotNull();
        }
        Document other = helper.send(
                        "/trellis/blocks/B1/tension",
                        "row",
                        "00000000-0000-0000-0000-000000000000",
                        "wire",
                        "0",
                        "on",
                        "2020-04-01",
                        "tensionN",
                        "500")
                .page();
        assertThat(other.getElementById("row-error")).isNotNull();
    }

    @Test
    void sizesAndLimitsAreInTheReadersUnits() {
        Fault buried = new Fault("end.buriedM", "trellis.fault.range", List.of(0.3048, 8.0));
        assertThat(words.values(buried)).containsExactly("0.3048 m", "8 m");
        UnitChoice.set(UnitChoice.US);
        try {
            // 8 m are 26.2467 ft: what is told is taken when it is typed
            assertThat(words.values(buried)).containsExactly("1 ft", "26.24 ft");
            // 600 ft: Domoto 2002, check value T12
            assertThat(words.caution(new Caution("trellis.caution.row-anchored", List.of(213.36, 182.88))))
                    .contains("700 ft;", "at 600 ft for anchored");
            assertThat(words.millimetres(2.54)).isEqualTo("0.1 in");
        } finally {
            UnitChoice.clear();
        }
        assertThat(words.values(new Fault("fixing.staplesPerPost", "trellis.fault.range", List.of(0, 10))))
                .containsExactly("0", "10");
        assertThat(words.values(new Fault("end.buriedM", "trellis.fault.buried", List.of(Double.POSITIVE_INFINITY, 2))))
                .containsExactly("∞ m", "2 m");
    }

    /** NIST Special Publication 811 (2008), appendix B: 1 ft = 0.3048 m. */
    @Test
    void whoReadsFeetOrdersWireInFeet() throws Exception {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        assertThat(lead.open("/trellis/order/item?key=" + WIRE)
                        .page()
                        .select("#needed")
                        .text())
                .contains("Plans need, m", "B1", "shows it row by row");
        choose(vineyard, Role.LEAD, "us");
        Document item = lead.sendAndFollow(
                        "/trellis/order/bought", "key", WIRE, "quantity", "1000", "on", "2020-03-01", "paid", "90")
                .page();
        assertThat(item.select("#needed th.num").text()).isEqualTo("Plans need, ft");
        assertThat(lead.open("/trellis/order/item?key=" + WIRE)
                        .page()
                        .select("main .card")
                        .text())
                .contains("1,000 ft");
        String feet = csv(lead);
        assertThat(feet).contains("Wire 0.098 in high tensile,ft,").doesNotContain(",m,", ",kg,");
        // The plan says the same.
        String[] plan = wire(file(lead, "/trellis/blocks/B1?list-csv=items"));
        assertThat(new BigDecimal(plan[1]).doubleValue()).isCloseTo(Double.parseDouble(wire(feet)[2]), within(0.06));
        choose(vineyard, Role.LEAD, "metric");
        assertThat(lead.open("/trellis/order/item?key=" + WIRE)
                        .page()
                        .select("main .card")
                        .text())
                .contains("304.8 m");
        assertThat(csv(lead)).contains(",m,").doesNotContain(",ft,");
    }

    /** NIST Special Publication 811 (2008), appendix B.8: 1 lbf = 4.448222 N, 1 psi = 6.894757 kPa. */
    @Test
    void forcesMomentsAndStressesAreInTheReadersUnits() {
        UnitChoice.set(UnitChoice.US);
        try {
            assertThat(words.force(4448.222)).isEqualTo("1,000 lbf");
            assertThat(words.moment(1355.818)).isEqualTo("1,000 ft·lbf");
            assertThat(words.stress(6_894_757)).isEqualTo("1,000 psi");
            // 8.006799 N for each kelvin are 4.448222 N for each degree Fahrenheit
            assertThat(words.forcePerDegree(8.006799)).isEqualTo("1.00 lbf");
            assertThat(words.caution(new Caution("trellis.caution.tension", List.of("top", 1334.4666, 1112.0555))))
                    .contains("tightened to 300 lbf", "ends at 250 lbf");
            assertThat(words.say(
                            "trellis.fault.tension",
                            words.values(new Fault("wires[0].tensionN", "trellis.fault.tension", List.of(4448.222)))))
                    .isEqualTo("this wire breaks at 1,000 lbf");
        } finally {
            UnitChoice.clear();
        }
        assertThat(words.force(800)).isEqualTo("800 N");
        assertThat(words.stress(24e6)).isEqualTo("24.0 MPa");
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        List<String> pages = List.of("", "/loads", "/tension", "/edit");
        String metric = "\\d\\s?(N|MPa|N m|N/m)\\b|\\bN/m\\b";
        assertThat(lead.open("/trellis/blocks/B1/loads").page().text()).containsPattern(metric);
        vineyard.reads(Role.LEAD, "us", "en");
        for (String page : pages) {
            assertThat(lead.open("/trellis/blocks/B1" + page).page().text())
                    .as(page)
                    .contains("lbf")
                    .doesNotContainPattern(metric)
                    .doesNotContain("kilogram");
        }
        assertThat(lead.open("/trellis/blocks/B1/loads").page().text()).contains("ft·lbf", " psi");
    }

    @Test
    void aPlanSentBackByWhoReadsPoundsIsThePlanItWas() {
        TestVineyard vineyard = planned(vineyard());
        TestBrowser lead = vineyard.as(Role.LEAD);
        Document before = lead.open("/trellis/blocks/B1/edit").page();
        String[] crop = fields(before, "/edit", "wires0.windNPerM", "29.31", "fixing.staplesPerKg", "333", "once", "");
        assertThat(lead.send("/trellis/blocks/B1/edit", crop).status()).isEqualTo(302);
        Document metric = lead.open("/trellis/blocks/B1/edit").page();
        vineyard.reads(Role.LEAD, "us", "en");
        Document us = lead.open("/trellis/blocks/B1/edit").page();
        // 800 N
        assertThat(us.getElementById("wires0.tensionN").val()).startsWith("179.8");
        assertThat(us.getElementById("wires0.tensionN").parent().text()).isEqualTo("lbf");
        assertThat(us.getElementById("wires0.windNPerM").parent().text()).isEqualTo("lbf/ft");
        assertThat(us.getElementById("fixing.staplesPerKg").parent().text()).isEqualTo("/lb");
        assertThat(lead.send("/trellis/blocks/B1/edit", fields(us, "/edit", "once", ""))
                        .status())
                .isEqualTo(302);
        Document wrong = lead.send(
                        "/trellis/blocks/B1/edit",
                        fields(
                                lead.open("/trellis/blocks/B1/edit").page(),
                                "/edit",
                                "wires0.windNPerM",
                                "999",
                                "wires1.tensionN",
                                "9999",
                                "once",
                                ""))
                .page();
        // 2000 N/m
        assertThat(wrong.getElementById("wires0.windNPerM-error").text())
                .contains("between 0 lbf/ft and 137.04 lbf/ft");
        assertThat(wrong.getElementById("wires1.tensionN-error").text()).containsPattern("breaks at [\\d,]+ lbf");
        vineyard.reads(Role.LEAD, "metric", "en");
        Document after = lead.open("/trellis/blocks/B1/edit").page();
        for (Element field : metric.select("form[action$=/edit] input[type=text]")) {
            assertThat(after.getElementById(field.id()).val()).as(field.id()).isEqualTo(field.val());
        }
    }

    @Test
    void aGaugeIsReadInPoundsByWhoReadsPounds() {
        TestVineyard vineyard = planned(vineyard());
        vineyard.reads(Role.HELPER, "us", "en");
        TestBrowser helper = vineyard.as(Role.HELPER);
        String row = helper.open("/trellis/blocks/B1/tension")
                .page()
                .select("select[name=row] option")
                .get(1)
                .val();
        String[] reading = {"row", row, "wire", "0", "on", "2020-04-01", "tensionN", "200"};
        Document after =
                helper.sendAndFollow("/trellis/blocks/B1/tension", reading).page();
        assertThat(after.select("tr:has(td:contains(fruiting))").last().text()).contains("200 lbf", "180 lbf");
        assertThat(file(helper, "/trellis/blocks/B1/tension?list-csv=readings"))
                .contains("\"Tension, lbf\",\"Wanted, lbf\"", ",200,180,");
        // 889.644 N
        assertThat(file(vineyard.as(Role.READER), "/trellis/blocks/B1/tension?list-csv=readings"))
                .contains("\"Tension, N\",\"Wanted, N\"", ",890,800,");
        reading[7] = "99999";
        assertThat(helper.send("/trellis/blocks/B1/tension", reading)
                        .page()
                        .getElementById("tensionN-error")
                        .text())
                .contains("must be 22,480.89 lbf or less");
        reading[7] = "9999";
        assertThat(helper.send("/trellis/blocks/B1/tension", reading)
                        .page()
                        .getElementById("tensionN-error")
                        .text())
                .containsPattern("breaks at [\\d,]+ lbf");
    }

    private static String csv(TestBrowser lead) {
        return file(lead, "/trellis/order?list-csv=order");
    }

    private static String file(TestBrowser lead, String path) {
        return new String(lead.open(path).raw().getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private static String[] wire(String csv) {
        return csv.lines()
                .filter(line -> line.startsWith("Wire 0.098 in high tensile,"))
                .findFirst()
                .orElseThrow()
                .split(",", -1);
    }

    private void choose(TestVineyard vineyard, Role role, String units) throws Exception {
        mvc.perform(post("/account")
                .param("name", "Lew Lead")
                .param("locale", "en")
                .param("units", units)
                .with(csrf())
                .with(TestRequests.as(vineyard, role)));
    }

    @Test
    void wireItemNamesItsSteel() {
        TestVineyard vineyard = planned(vineyard());
        assertThat(vineyard.as(Role.READER)
                        .open("/trellis/order/item?key=" + WIRE)
                        .page()
                        .selectFirst("h1")
                        .text())
                .isEqualTo("Wire 2.5 mm high tensile");
    }
}
