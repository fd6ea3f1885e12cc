package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jsoup.parser.Parser;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.domain.WarningDesk;
import org.rootling.people.Role;
import org.rootling.platform.VineyardTime;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.config.AutowireCapableBeanFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;

/**
 * Every list of the program, taken along as CSV and XLSX: none is forgotten, headings are in the person's language, no cell
 * is a formula, numbers are numbers and days are days, and what narrows the page narrows the file.
 */
@AppTest
class EveryListTest {

    private static final Pattern MADE = Pattern.compile("Listing\\s*\\.(?:<[\\w.]+>)?(?:of|from)\\(\\s*\"([a-z]+)\"");
    private static final Pattern KEY = Pattern.compile("[a-z]+\\.[a-z-]+\\.[a-zA-Z.-]+");
    private static final Pattern DAY = Pattern.compile("\\d{4}-\\d\\d-\\d\\d( \\d\\d:\\d\\d)?");
    private static final Pattern NUMBER = Pattern.compile("-?\\d+(\\.\\d+)?(E-?\\d+)?");
    private static final String RISKY = "=+-@\t\r";

    /** Lists for which the demo has nothing yet; their other rules hold all the same. */
    private static final Set<String> MAYBE_EMPTY = Set.of(
            "ImportController files",
            "OutlookController lots",
            "ScheduleController moved",
            "ReviewController behind",
            "HeightsController behind",
            "HeightsController weeks",
            "HeightsController late",
            "TreatmentController treatments",
            "ReviewController pairs",
            "CountController reorder");

    /** Columns of text in which numbers may stand. */
    private static final Set<String> NAMES = Set.of("Unterlage", "Klon", "Saison", "Gepflanzt im Jahr");

    @Autowired
    TestVineyards vineyards;

    @Autowired
    AutowireCapableBeanFactory beans;

    @Autowired
    VineyardTime time;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    WarningDesk desk;

    @Autowired
    MockMvc mvc;

    @Test
    void everyListIsTakenAlongAsItStandsAndNoCellIsAFormula() {
        TestVineyard vineyard = vineyards.fresh("Europe/Berlin");
        SeededDemo demo = new SeededDemo(beans, time, jdbc);
        demo.onFirstDay(() -> {
            demo.seed(vineyard);
            demo.awaitEndOfSearches(vineyard);
            vineyard.run(desk::look);
            vineyard.run(this::nameThingsLikeFormulas);
            check(vineyard);
        });
    }

    private void check(TestVineyard vineyard) {
        TestBrowser owner = vineyard.as(Role.OWNER);
        owner.sendAndFollow("/tokens", "name", "=HYPERLINK(1)", "role", "READER");
        Map<String, String> english = headings(owner, pages(vineyard, owner));
        readGerman(vineyard);
        Map<String, String> pages = pages(vineyard, owner);
        assertThat(pages.keySet()).as("every list that a controller makes").isEqualTo(made());
        Map<String, String> wrong = new TreeMap<>();
        for (Map.Entry<String, String> page : pages.entrySet()) {
            check(page.getKey(), page.getValue(), owner, english.get(page.getKey()), wrong);
        }
        assertThat(wrong).isEmpty();
    }

    private void readGerman(TestVineyard vineyard) {
        try {
            mvc.perform(post("/account")
                    .param("name", "Ada Owner")
                    .param("locale", "de")
                    .param("units", "metric")
                    .param("_contrast", "on")
                    .with(csrf())
                    .with(TestRequests.as(vineyard, Role.OWNER)));
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }

    /** What is wrong with a list as a file, by its name. */
    private static void check(String list, String path, TestBrowser owner, String english, Map<String, String> wrong) {
        String name = list.substring(list.indexOf(' ') + 1);
        String join = path.contains("?") ? "&" : "?";
        TestBrowser.Answer csv = owner.open(path + join + "list-csv=" + name);
        if (csv.status() != 200
                || !String.valueOf(csv.raw().getResponse().getContentType()).startsWith("text/csv")) {
            wrong.put(list, path + " answers " + csv.status());
            return;
        }
        List<CSVRecord> lines = parse(csv.body());
        List<String> heads = lines.get(0).toList();
        List<CSVRecord> rows = lines.subList(1, lines.size());
        if (rows.isEmpty() && !MAYBE_EMPTY.contains(list)) {
            wrong.put(list, "the demo has nothing for it");
        }
        heads.stream()
                .filter(head -> KEY.matcher(head).matches() || head.isBlank() || head.contains("{0}"))
                .forEach(head -> wrong.put(list, "heading " + head));
        if (String.join(",", heads).equals(english)) {
            wrong.put(list, "its headings are English in German: " + english);
        }
        for (CSVRecord row : rows) {
            for (String cell : row) {
                boolean risky = !cell.isEmpty() && RISKY.indexOf(cell.charAt(0)) >= 0;
                if (risky && !NUMBER.matcher(cell).matches()) {
                    wrong.put(list, "a formula: " + cell);
                }
            }
        }
        checkBook(list, owner.open(path + join + "list-xlsx=" + name), heads, rows, wrong);
        String page = owner.open(path).page().select("#" + name + "-find").outerHtml();
        String narrowed = owner.open(path + join + name + "-find=qqqqq-zzzz&list-csv=" + name)
                .body();
        if (!page.isEmpty() && parse(narrowed).size() != 1) {
            wrong.put(list, "the words on the page do not narrow the file");
        }
    }

    /** Cells of the first sheet: no formula, and numbers and days as such. */
    private static void checkBook(
            String list, TestBrowser.Answer book, List<String> heads, List<CSVRecord> rows, Map<String, String> wrong) {
        Map<String, String> parts = unpack(book.raw().getResponse().getContentAsByteArray());
        Document sheet = Jsoup.parse(parts.getOrDefault("xl/worksheets/sheet1.xml", ""), "", Parser.xmlParser());
        if (!sheet.getElementsByTag("f").isEmpty()) {
            wrong.put(list, "a formula in the workbook");
        }
        List<Element> lines = sheet.getElementsByTag("row");
        if (lines.size() != rows.size() + 1) {
            wrong.put(list, "the workbook has " + lines.size() + " lines, the CSV " + (rows.size() + 1));
            return;
        }
        Map<String, String> kinds = new HashMap<>();
        for (int i = 1; i < lines.size(); i++) {
            for (Element cell : lines.get(i).getElementsByTag("c")) {
                String at = cell.attr("r").replaceAll("\\d", "");
                boolean text = cell.attr("t").equals("s") || cell.attr("t").equals("inlineStr");
                kinds.merge(i + at, text ? "text" : cell.attr("s").isEmpty() ? "number" : "day", (a, b) -> a);
            }
        }
        for (int column = 0; column < heads.size(); column++) {
            for (int i = 0; i < rows.size(); i++) {
                String shown = column < rows.get(i).size() ? rows.get(i).get(column) : "";
                String kind = kinds.get((i + 1) + letters(column));
                if (DAY.matcher(shown).matches() && !"day".equals(kind)) {
                    wrong.put(list, heads.get(column) + " " + shown + " is " + kind + " in the workbook");
                }
                if ("number".equals(kind) && !NUMBER.matcher(shown).matches()) {
                    wrong.put(list, heads.get(column) + " " + shown + " is a number in the workbook");
                }
            }
            checkNumbers(list, heads, rows, column, kinds, wrong);
        }
    }

    /** A column in which nothing but numbers stands is one of numbers, unless they are names. */
    private static void checkNumbers(
            String list,
            List<String> heads,
            List<CSVRecord> rows,
            int column,
            Map<String, String> kinds,
            Map<String, String> wrong) {
        boolean any = false;
        for (int i = 0; i < rows.size(); i++) {
            String shown = column < rows.get(i).size() ? rows.get(i).get(column) : "";
            if (!shown.isEmpty() && !NUMBER.matcher(shown).matches()) {
                return;
            }
            any |= !shown.isEmpty() && "text".equals(kinds.get((i + 1) + letters(column)));
        }
        if (any && !NAMES.contains(heads.get(column))) {
            wrong.put(list, heads.get(column) + " has numbers kept as text");
        }
    }

    private static String letters(int column) {
        return column < 26
                ? String.valueOf((char) ('A' + column))
                : String.valueOf((char) ('A' + column / 26 - 1)) + (char) ('A' + column % 26);
    }

    private static Map<String, String> unpack(byte[] book) {
        Map<String, String> parts = new HashMap<>();
        try {
            // by the central directory: a writer that streams leaves sizes open at the head of a part
            Path file = Files.createTempFile("rootling-list", ".xlsx");
            Files.write(file, book);
            try (ZipFile zip = new ZipFile(file.toFile())) {
                for (ZipEntry entry : Collections.list(zip.entries())) {
                    parts.put(
                            entry.getName(),
                            new String(zip.getInputStream(entry).readAllBytes(), StandardCharsets.UTF_8));
                }
            } finally {
                Files.delete(file);
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return parts;
    }

    private static List<CSVRecord> parse(String csv) {
        try (CSVParser lines = CSVFormat.RFC4180.parse(new StringReader(csv.replaceFirst("^\uFEFF", "")))) {
            return lines.getRecords();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private static Map<String, String> headings(TestBrowser owner, Map<String, String> pages) {
        Map<String, String> headings = new HashMap<>();
        for (Map.Entry<String, String> page : pages.entrySet()) {
            String name = page.getKey().substring(page.getKey().indexOf(' ') + 1);
            String join = page.getValue().contains("?") ? "&" : "?";
            String body =
                    owner.open(page.getValue() + join + "list-csv=" + name).body();
            headings.put(
                    page.getKey(),
                    body.isEmpty() ? "" : String.join(",", parse(body).get(0)));
        }
        return headings;
    }

    /** Controllers and the names of the lists that they make. */
    private static Set<String> made() {
        Set<String> made = new TreeSet<>();
        try (Stream<Path> sources = Files.walk(Path.of("src/main/java"))) {
            for (Path source :
                    sources.filter(p -> p.toString().endsWith(".java")).toList()) {
                Matcher list = MADE.matcher(Files.readString(source));
                while (list.find()) {
                    made.add(source.getFileName().toString().replace(".java", "") + " " + list.group(1));
                }
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        // outside of vineyards; LicencesTest
        made.remove("Licences parts");
        return made;
    }

    private Map<String, String> pages(TestVineyard vineyard, TestBrowser owner) {
        String block = one(vineyard, "select code from block order by place_count desc, code limit 1");
        String planned = one(
                vineyard,
                "select b.code from trellis_plan p join block b on b.id = p.block_id order by b.code limit 1");
        String measured = one(
                vineyard,
                "select b.code from trellis_reading t join vine_row r on r.id = t.row_id join block b on b.id = r.block_id"
                        + " limit 1");
        Map<String, String> pages = new TreeMap<>();
        pages.put("BlocksController blocks", "/blocks");
        pages.put("BlocksController rows", "/blocks/" + block);
        pages.put("CountController blocks", "/progress");
        pages.put("CountController duties", "/progress");
        pages.put("CountController kinds", "/progress");
        pages.put("CountController reorder", "/progress");
        pages.put("CountController rows", "/progress?block=" + block);
        pages.put("CountController vines", "/progress/vines");
        pages.put("CrewController crew", "/work/people");
        pages.put("FindController found", "/find?q=b");
        pages.put("HeightsController behind", "/review/heights?block=" + block);
        pages.put("HeightsController late", "/review/heights?block=" + block);
        pages.put("HeightsController weeks", "/review/heights?block=" + block);
        pages.put("HoursController hours", "/work/hours?from=2026-01-01&to=2027-12-31");
        pages.put("HoursController logs", "/work/hours/logs/STEP?from=2026-01-01&to=2027-12-31");
        pages.put("ImportController files", "/weather/import");
        pages.put("ImportsController report", imported(owner));
        pages.put("LotController movements", "/lots/" + one(vineyard, "select code from lot order by code limit 1"));
        pages.put("OrderController deliveries", "/orders");
        pages.put("OrderController lines", "/orders/" + one(vineyard, "select id::text from nursery_order limit 1"));
        pages.put("OrderController order", "/trellis/order");
        pages.put("OrderController orders", "/orders");
        pages.put("OutlookController lots", "/work/outlook");
        pages.put("PeopleController invitations", "/people");
        pages.put("PeopleController people", "/people");
        pages.put("PeopleController tokens", "/tokens");
        pages.put("PersonController tasks", "/people/" + vineyard.account(Role.HELPER));
        pages.put("ReviewController behind", "/review");
        pages.put("ReviewController gaps", "/review/replacing");
        pages.put("ReviewController groups", "/review");
        pages.put("ReviewController pairs", "/review/numbers");
        pages.put("ReviewController register", "/review/register");
        pages.put("ReviewController steps", "/review/numbers");
        pages.put("SampleController sample", "/review/sample?block=" + block);
        pages.put("ScheduleController late", "/work/schedule");
        pages.put("ScheduleController moved", "/work/schedule");
        pages.put("SeasonController labour", "/review/season");
        pages.put("SeasonController seasons", "/review/season");
        pages.put("SettingsController rootstocks", "/vine-lists");
        pages.put("SettingsController varieties", "/vine-lists");
        pages.put("ShellController history", "/history");
        pages.put("StepsController steps", "/work/steps");
        pages.put("StoreController stores", "/stores");
        pages.put("SupplierController nurseries", "/nurseries");
        pages.put("TensionController readings", "/trellis/blocks/" + measured + "/tension");
        pages.put("TraceController passports", "/passports");
        pages.put("TreatmentController treatments", "/year-one/" + block + "/treatments");
        pages.put("TrellisController blocks", "/trellis");
        pages.put("TrellisController items", "/trellis/blocks/" + planned);
        pages.put("TrellisController rows", "/trellis/blocks/" + planned);
        pages.put("WaitingController lots", "/lots/all");
        pages.put("WaitingController warnings", "/lots/warnings");
        pages.put("WeatherController days", "/weather/days");
        pages.put("WeatherController seasons", "/weather");
        pages.put("WorkController tasks", "/work");
        pages.put("YearOneController rows", "/year-one/" + block);
        return pages;
    }

    private static String imported(TestBrowser owner) {
        String csv = "Name,Mon,Tue\n=1+1,4,4\n\"@cmd\",x,4\n";
        TestBrowser.Answer looked = owner.follow(
                owner.upload("/imports", "file", "people.csv", csv.getBytes(StandardCharsets.UTF_8), "kind", "people"));
        return looked.page()
                .select("form[action*=/imports/]")
                .attr("action")
                .replaceFirst("^/v/[^/]+", "")
                .replace("/look", "");
    }

    private void nameThingsLikeFormulas() {
        for (String sql : List.of(
                "update supplier set name = '=1+1 ' || name, contact = '@SUM(A1)'",
                "update store set name = '+cmd ' || name",
                "update block set name = '-2+3 ' || name",
                "update work_step set tool = '=tool()' where tool is not null",
                "update work_person set name = '@' || name",
                "update nursery_order set reference = '=' || reference",
                "update lot set note = '=note()'",
                "insert into own_variety (id, name, colour) values (gen_random_uuid(), '=variety()', 'WHITE')",
                "insert into own_rootstock (id, name) values (gen_random_uuid(), '+rootstock')",
                "insert into invitation (id, role, token_hash, note, created_by, expires_at)"
                        + " select gen_random_uuid(), 'HELPER', md5(random()::text), '=note()', rootling_account(), now() + interval '1 day'")) {
            jdbc.sql(sql).update();
        }
    }

    private String one(TestVineyard vineyard, String sql) {
        return vineyard.inside(
                () -> jdbc.sql(sql).query(String.class).optional().orElse("none"));
    }
}
