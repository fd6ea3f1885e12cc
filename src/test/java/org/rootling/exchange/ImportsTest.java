package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.TimeUnit;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.exchange.domain.ImportTable;
import org.rootling.ground.Block;
import org.rootling.ground.BlockDesk;
import org.rootling.ground.Ground;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.TestField;
import org.rootling.planting.Vines;
import org.rootling.platform.Jobs;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.Crew;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;

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

    @Autowired
    BlockDesk desk;

    @Autowired
    Ground ground;

    @Autowired
    Members members;

    @Autowired
    Crew crew;

    @Autowired
    Jobs jobs;

    @Autowired
    JdbcClient jdbc;

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

        assertThat(take(looked).page().text()).contains("Saved");
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
        take(looked);
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
        take(looked);
        assertThat(vineyard.inside(() -> vines.inRow(field.row(1).id()))).hasSize(11);
        assertThat(vineyard.inside(() -> vines.inRow(field.row(2).id()))).isEmpty();
    }

    /** A block of 60 by 40 m; two rows of 28 m with 14 places, 2 m apart from place to place, half of that at the ends. */
    @Test
    void rowsThatStandBecomeTheRowsOfTheirBlockUntilVinesStandInThem() {
        vineyard.run(() -> desk.add(
                "S1", "Surveyed", List.of(new Point(0, 0), new Point(60, 0), new Point(60, 40), new Point(0, 40))));
        String csv = "Parzelle;Rebzeile;Anfangspfahl, Meter nach Osten;Anfangspfahl, Meter nach Norden;"
                + "Endpfahl, Meter nach Osten;Endpfahl, Meter nach Norden;Plätze\n"
                + "s1;1;5,5;6;5,5;34;14\ns1;2;8;6;8;34;14\n";
        Answer looked = upload("rows", "rows.csv", csv.getBytes(StandardCharsets.UTF_8));
        assertThat(results(looked)).hasSize(2).allMatch(r -> r.contains("can be taken"));
        assertThat(vineyard.inside(() -> ground.row("S1", 1))).isEmpty();
        take(looked);
        Row first = vineyard.inside(() -> ground.row("S1", 1)).orElseThrow();
        assertThat(first.lengthM()).isEqualTo(28.0);
        assertThat(first.places()).isEqualTo(14);
        assertThat(first.position(1).distance(new Point(5.5, 7))).isLessThan(1e-9);
        assertThat(first.position(14).distance(new Point(5.5, 33))).isLessThan(1e-9);
        Block block = vineyard.inside(() -> ground.blockByCode("S1")).orElseThrow();
        assertThat(block.rowSpacingM()).isEqualTo(2.5);
        assertThat(block.rowBearingDeg()).isEqualTo(0.0);

        Lot lot = vineyard.inside(() -> fields.lot(30));
        String vine = "block,row,places,lot,planted\nS1,1,1-3," + lot.code() + "," + today.minusDays(1) + "\n";
        take(upload("vines", "v.csv", vine.getBytes(StandardCharsets.UTF_8)));
        Answer again = upload("rows", "rows.csv", csv.getBytes(StandardCharsets.UTF_8));
        assertThat(results(again)).hasSize(2).allMatch(r -> r.contains("refused"));
        assertThat(again.page().select("button[formaction]")).isEmpty();
    }

    @Test
    void rowsThatCannotBeAreRefusedWithTheirBlock() {
        for (String code : List.of("A", "B", "C", "D")) {
            vineyard.run(() -> desk.add(
                    code, code, List.of(new Point(0, 0), new Point(60, 0), new Point(60, 40), new Point(0, 40))));
        }
        String csv = "block,row,start-east,start-north,end-east,end-north,places,spacing\n"
                + "A,1,5,6,5,34,14,\nA,3,8,6,8,34,14,\n"
                + "B,1,5,6,5,54,14,\n"
                + "C,1,5,6,5,34,14,3\n"
                + "D,1,5,6,20,34,14,\nD,2,20,6,5,34,14,\n"
                + "NONE,1,5,6,5,34,14,\n";
        List<String> said = results(upload("rows", "rows.csv", csv.getBytes(StandardCharsets.UTF_8)));
        assertThat(said).hasSize(7).allMatch(r -> r.contains("refused"));
        assertThat(said.get(0)).contains("row 2 is missing");
        assertThat(said.get(2)).contains("outside the boundary");
        assertThat(said.get(3)).contains("too short");
        assertThat(said.get(4)).contains("Rows 1 and 2 meet");
    }

    @Test
    void peopleBecomeInvitationsOrNamesOnPaperAndNeverAccounts() {
        String csv = "Name,Role,Hours a day\nRosa Reaper,helper,\nPaul Paper,,7.5\nLea Leitung,Leitung,\n"
                + "Otto Other,king,\nPaul Twice,,40\n";
        TestBrowser owner = vineyard.as(Role.OWNER);
        int before = vineyard.inside(members::list).size();
        Answer looked = upload(owner, "people", "people.csv", csv.getBytes(StandardCharsets.UTF_8));
        assertThat(results(looked).subList(0, 3)).allMatch(r -> r.contains("can be taken"));
        assertThat(results(looked).get(3)).contains("no role king");
        assertThat(results(looked).get(4)).contains("from 0 to 16");
        Answer people = take(owner, looked);
        assertThat(people.page().text()).contains("Rosa Reaper", "Lea Leitung").doesNotContain("Paul Paper");
        assertThat(vineyard.inside(members::list)).hasSize(before);
        assertThat(vineyard.inside(() -> crew.knows("paul paper"))).isTrue();
        // Paul is there now, and a lead invites nobody.
        List<String> lesser = results(upload(lead, "people", "people.csv", csv.getBytes(StandardCharsets.UTF_8)));
        assertThat(lesser.get(0)).contains("only an owner invites");
        assertThat(lesser.get(1)).contains("there is a Paul Paper already");

        String link = people.page().select("form[action$=/link]").attr("action").replaceFirst("^/v/[^/]+", "");
        assertThat(owner.send(link).raw().getFlashMap().get("link").toString()).contains("/join/");
        assertThat(lead.send(link).status()).isEqualTo(403);
    }

    /**
     * Stopped while its last lines are being taken, again and again a little earlier or later: all lines are there and the
     * page says so, or none are and the page says that.
     */
    @Test
    void stoppedAtItsLastLineItIsTakenWholeOrNotAtAll() throws InterruptedException {
        int lines = 25;
        for (int round = 0; round < 6; round++) {
            String start = "R" + round + "-";
            StringBuilder csv = new StringBuilder("nursery,reference,ordered,variety,rootstock,vines\n");
            for (int i = 1; i <= lines; i++) {
                csv.append("Hill Nursery,%s%03d,%s,Riesling,SO4,25\n".formatted(start, i, today.minusDays(9)));
            }
            Answer looked = upload("orders", "orders.csv", csv.toString().getBytes(StandardCharsets.UTF_8));
            assertThat(results(looked)).hasSize(lines).allMatch(r -> r.contains("can be taken"));
            Answer begun = begin(lead, looked);
            String job = begun.location().replaceFirst("^/v/[^/]+", "");
            awaitLastLines(UUID.fromString(job.substring("/jobs/".length())));
            TimeUnit.MILLISECONDS.sleep(round * 40L);
            lead.send(job + "/cancel");
            Answer said = lead.follow(begun);
            long taken = ordersNamed(start);
            if (said.page().select("[data-state=CANCELLED]").isEmpty()) {
                assertThat(said.page().text()).contains("Saved");
                assertThat(taken).isEqualTo(lines);
            } else {
                assertThat(said.page().text()).contains("nothing of it stays");
                assertThat(taken).isZero();
            }
            assertThat(lead.send(job + "/cancel").status()).isEqualTo(302);
            assertThat(ordersNamed(start)).isEqualTo(taken);
        }
    }

    private void awaitLastLines(UUID job) throws InterruptedException {
        for (int i = 0; i < 4000; i++) {
            Jobs.Job now = org.rootling.platform.Tenancy.as(
                    vineyard.id(),
                    vineyard.account(Role.LEAD),
                    () -> jobs.job(job).orElseThrow());
            if (!now.running() || (now.total() > 0 && now.done() > now.total() / 2)) {
                return;
            }
            TimeUnit.MILLISECONDS.sleep(2);
        }
    }

    private long ordersNamed(String start) {
        return vineyard.inside(() -> jdbc.sql("select count(*) from nursery_order where reference like :start")
                .param("start", start + "%")
                .query(Long.class)
                .single());
    }

    /** What was looked at belongs to who looked. */
    @Test
    void aTableIsShownToWhoBroughtItAlone() {
        Answer begun = lead.upload(
                "/imports", "file", "x.csv", "Foo,Bar\n1,2\n".getBytes(StandardCharsets.UTF_8), "kind", "orders");
        String job = begun.location().replaceFirst("^/v/[^/]+", "");
        lead.follow(begun);
        assertThat(vineyard.as(Role.OWNER).open(job).status()).isEqualTo(404);
        assertThat(vineyard.as(Role.OWNER)
                        .open(job.replace("/jobs/", "/imports/"))
                        .status())
                .isEqualTo(404);
        assertThat(lead.open(job + "/file").status()).isEqualTo(404);
    }

    @Test
    void absurdFilesAreRefusedAtTheField() {
        StringBuilder tooLong = new StringBuilder("nursery,reference\n");
        for (int i = 0; i <= ImportTable.MOST_ROWS; i++) {
            tooLong.append("x,").append(i).append('\n');
        }
        List<byte[]> absurd = new ArrayList<>(List.of(
                new byte[0],
                new byte[] {'P', 'K', 3, 4, 0, 1},
                "only a heading\n".getBytes(StandardCharsets.UTF_8),
                new byte[] {0, 1, 2, 3, '\n', 0, 5},
                tooLong.toString().getBytes(StandardCharsets.UTF_8),
                ("a\n" + "x".repeat(2000) + "\n").getBytes(StandardCharsets.UTF_8)));
        for (byte[] file : absurd) {
            Answer answer = upload("orders", "x.csv", file);
            assertThat(answer.status()).isEqualTo(200);
            assertThat(answer.page().select(".field.wrong #file")).hasSize(1);
        }
        assertThat(lead.send("/imports/nothing/take", "columns", "x").status()).isEqualTo(404);
        Answer unknown =
                lead.upload("/imports", "file", "x.csv", "a\nb\n".getBytes(StandardCharsets.UTF_8), "kind", "x");
        assertThat(unknown.status()).isEqualTo(404);
    }

    /** Cells that would unfold to a gigabyte (ECMA-376 allows doubles only), or be copied for each that points at them. */
    @Test
    void aWorkbookMadeToDoHarmIsRefusedAtTheField() throws IOException {
        String sheet = "<worksheet><sheetData><row><c><v>heading</v></c></row><row>%s</row></sheetData></worksheet>";
        String pointing = "<c t=\"s\"><v>0</v></c>".repeat(5000);
        String shared = "<sst><si><t xml:space=\"preserve\"> " + "x".repeat(900_000) + "</t></si></sst>";
        String entity = "<!DOCTYPE a [<!ENTITY e SYSTEM \"file:///etc/hostname\">]>";
        List<byte[]> harmful = List.of(
                workbook(sheet.formatted("<c><v>1E999999999</v></c>"), "<sst/>"),
                workbook(sheet.formatted("<c><v>1E-999999999</v></c>"), "<sst/>"),
                workbook(sheet.formatted("<c><v>" + "9".repeat(900_000) + "</v></c>"), "<sst/>"),
                workbook(sheet.formatted(pointing), shared),
                workbook(entity + sheet.formatted("<c t=\"str\"><v>&e;</v></c>"), "<sst/>"));
        for (int i = 0; i < harmful.size(); i++) {
            long from = System.nanoTime();
            Answer answer = upload("orders", "x.xlsx", harmful.get(i));
            assertThat(answer.status()).as("workbook " + i).isEqualTo(200);
            assertThat(answer.page().select(".field.wrong #file"))
                    .as("workbook " + i)
                    .hasSize(1);
            assertThat(System.nanoTime() - from).as("workbook " + i).isLessThan(TimeUnit.SECONDS.toNanos(10));
        }
    }

    private static byte[] workbook(String sheet, String shared) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(out)) {
            for (String[] part :
                    new String[][] {{"xl/worksheets/sheet1.xml", sheet}, {"xl/sharedStrings.xml", shared}}) {
                zip.putNextEntry(new ZipEntry(part[0]));
                zip.write(part[1].getBytes(StandardCharsets.UTF_8));
                zip.closeEntry();
            }
        }
        return out.toByteArray();
    }

    @Test
    void columnsThatAreNotSaidAreAskedFor() {
        Answer looked = upload("orders", "x.csv", "Foo,Bar\n1,2\n".getBytes(StandardCharsets.UTF_8));
        assertThat(looked.page().select(".alert.danger").text()).contains("needed column");
        assertThat(looked.page().select("button[formaction]")).isEmpty();
    }

    private Answer upload(String kind, String name, byte[] content) {
        return upload(lead, kind, name, content);
    }

    private static Answer upload(TestBrowser by, String kind, String name, byte[] content) {
        return by.follow(by.upload("/imports", "file", name, content, "kind", kind));
    }

    private Answer take(Answer looked) {
        return take(lead, looked);
    }

    private static Answer take(TestBrowser by, Answer looked) {
        return by.follow(begin(by, looked));
    }

    /** Begins to take; the answer leads to the page of the work in the background. */
    private static Answer begin(TestBrowser by, Answer looked) {
        List<String> form = new ArrayList<>();
        for (Element column : looked.page().select("select[name=columns]")) {
            Element chosen = column.selectFirst("option[selected]");
            form.add("columns");
            form.add(chosen == null ? "" : chosen.val());
        }
        String to =
                looked.page().select("button[formaction]").attr("formaction").replaceFirst("^/v/[^/]+", "");
        Answer begun = by.send(to, form.toArray(String[]::new));
        assertThat(begun.status()).isEqualTo(302);
        return begun;
    }

    private static List<String> results(Answer looked) {
        return looked.page().select("section table tbody tr").eachText();
    }
}
