package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.jsoup.nodes.Element;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.CalendarSource;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.CrewService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Two people with accounts are both called Hana Helper, two on paper both Old Tom: four people, four of everything. */
@AppTest
@Import({WorkField.class, RecordingEffect.class})
class SameNameTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    Planning planning;

    @Autowired
    CrewService crew;

    @Autowired
    Members members;

    @Autowired
    Vineyards clock;

    @Autowired
    List<CalendarSource> sources;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;
    private LocalDate today;
    private TestBrowser lead;
    /** Row 1 is the helper's, 2 the owner's, 3 and 4 those of the two on paper. */
    private final UUID[] people = new UUID[4];

    private final UUID[] work = new UUID[4];

    @BeforeEach
    void fourPeopleOfTwoNames() throws SQLException {
        vineyard = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 4, 50);
        today = fields.today(vineyard);
        lead = vineyard.as(Role.LEAD);
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement same =
                        owner.prepareStatement("update account set name = 'Hana Helper' where id = ?")) {
            same.setObject(1, vineyard.account(Role.OWNER));
            same.executeUpdate();
        }
        UUID helper = vineyard.account(Role.HELPER);
        UUID owner = vineyard.account(Role.OWNER);
        vineyard.run(() -> {
            people[0] = person(helper, "Hana Helper", "10");
            people[1] = person(owner, "Hana Helper", "20");
            people[2] = person(null, "Old Tom", "30");
            people[3] = person(null, "Old Tom", null);
            List<List<UUID>> given = List.of(List.of(helper), List.of(owner), List.of(), List.of());
            StringBuilder stints = new StringBuilder();
            for (int i = 0; i < 4; i++) {
                work[i] =
                        tasks.create(new NewTask("MARK_OUT", field.row(i + 1), null, null, today, given.get(i), null));
                stints.append(i == 0 ? "[" : ",")
                        .append("{\"t\":\"%s\",\"p\":\"%s\",\"d\":\"%s\",\"f\":0,\"u\":4}"
                                .formatted(work[i], people[i], today));
            }
            jdbc.sql(
                            "insert into work_schedule (id, state, starts_on, started_at, heard_at, seconds, answers, finish, late, stints)"
                                    + " values (gen_random_uuid(), 'DONE', :from, now(), now(), 1, 1, :from, 0, cast(:s as jsonb))")
                    .param("from", today)
                    .param("s", stints + "]")
                    .update();
        });
    }

    private UUID person(@Nullable UUID account, String name, @Nullable String wage) {
        return planning.addPerson(new Planning.NewPerson(
                account,
                name,
                Collections.nCopies(7, new BigDecimal(8)),
                List.of(),
                wage == null ? null : new BigDecimal(wage),
                "GBP"));
    }

    private Map<UUID, String> names() {
        return vineyard.inside(() -> crew.names());
    }

    @Test
    void noTwoOfThemAreCalledTheSameAnywhere() {
        assertThat(names().values())
                .doesNotHaveDuplicates()
                .allMatch(n -> n.matches("(Hana Helper|Old Tom)( \\(2\\))?"));
        // Whoever has an account is called in the plans as in the logs.
        Map<UUID, String> accounts = vineyard.inside(() -> members.names());
        assertThat(accounts.values()).doesNotHaveDuplicates();
        assertThat(names().get(people[0])).isEqualTo(accounts.get(vineyard.account(Role.HELPER)));
        assertThat(names().get(people[1])).isEqualTo(accounts.get(vineyard.account(Role.OWNER)));
    }

    @Test
    void theLeadsSheetTellsThemApartAndEachHasTheirOwn() {
        var sheets = lead.open("/work/sheet?day=" + today).page().select("section.person-sheet");
        assertThat(sheets).hasSize(4);
        Map<UUID, Element> byPerson = new HashMap<>();
        for (Element sheet : sheets) {
            byPerson.put(UUID.fromString(sheet.selectFirst("input[name=person]").val()), sheet);
        }
        for (int i = 0; i < 4; i++) {
            Element sheet = byPerson.get(people[i]);
            assertThat(sheet.select("tbody tr").eachText())
                    .singleElement()
                    .asString()
                    .contains("B2 r" + (i + 1));
            assertThat(sheet.selectFirst("h2").text()).startsWith(names().get(people[i]));
        }
        assertThat(sheets.select("h2").eachText()).doesNotHaveDuplicates();
        assertThat(byPerson.get(people[0]).selectFirst("h2").text()).contains(vineyard.email(Role.HELPER));
        assertThat(byPerson.get(people[1]).selectFirst("h2").text()).contains(vineyard.email(Role.OWNER));
        assertThat(byPerson.get(people[3]).selectFirst("h2").text()).contains("no account");
        // An address is for leads.
        assertThat(vineyard.as(Role.READER)
                        .open("/work/sheet?day=" + today)
                        .page()
                        .select("main")
                        .text())
                .contains(names().get(people[0]))
                .doesNotContain("@");
        lead.sendAndFollow("/work/sheet/absent", "person", people[0].toString(), "day", today.toString());
        assertThat(lead.open("/work/sheet?day=" + today)
                        .page()
                        .select("section.person-sheet:has(.level.over) h2")
                        .eachText())
                .singleElement()
                .asString()
                .contains(vineyard.email(Role.HELPER));
    }

    @Test
    void eachSeesTheirOwnTasksPlanAndCalendar() {
        TestBrowser[] two = {vineyard.as(Role.HELPER), vineyard.as(Role.OWNER)};
        Role[] roles = {Role.HELPER, Role.OWNER};
        for (int i = 0; i < 2; i++) {
            String own = "B2 r" + (i + 1);
            String others = "B2 r" + (2 - i);
            assertThat(two[i].open("/my-day/sheet").page().select("main").text())
                    .contains("08:00\u201309:00")
                    .contains(own)
                    .doesNotContain(others);
            assertThat(two[i].open("/my-day").page().select("main").text())
                    .contains(own)
                    .doesNotContain(others);
            UUID account = vineyard.account(roles[i]);
            assertThat(vineyard.inside(() -> sources.stream()
                            .flatMap(s -> s.days(account).stream())
                            .map(d -> d.title() + d.text())
                            .toList()
                            .toString()))
                    .contains(own)
                    .doesNotContain(others);
        }
    }

    @Test
    void theWeekTheScheduleAndTheChoicesKeepThemApart() {
        Element week = lead.open("/work/week?from=" + today).page().selectFirst("main");
        assertThat(week.select("table tbody tr")).hasSize(4);
        assertThat(week.select("table td:nth-child(2)").eachText())
                .containsExactlyInAnyOrderElementsOf(names().values());
        // Of each name the second has its number, on a line of its own where the name is long.
        assertThat(week.select("svg.week text").eachText())
                .filteredOn(t -> t.endsWith("(2)"))
                .hasSize(2);
        assertThat(lead.open("/work/schedule")
                        .page()
                        .select("section.day-plan article h3")
                        .eachText())
                .containsExactlyInAnyOrderElementsOf(names().values());
        assertThat(lead.open("/work/schedule")
                        .page()
                        .select("#pin-person option")
                        .eachText())
                .containsExactlyInAnyOrderElementsOf(names().values());
        var rows = lead.open("/work").page().select("tbody tr");
        assertThat(rows.get(0).text()).contains("B2 r1").contains(names().get(people[0]));
        assertThat(rows.get(1).text()).contains("B2 r2").contains(names().get(people[1]));
        assertThat(lead.open("/my-day/" + work[2])
                        .page()
                        .select("#person option")
                        .eachText())
                .contains(names().get(people[2]), names().get(people[3]));
        assertThat(lead.open("/work/people").page().select("tbody tr").eachText())
                .doesNotHaveDuplicates();
    }

    private void log(int who, int minutes) {
        UUID by = who == 0
                ? vineyard.account(Role.HELPER)
                : who == 1 ? vineyard.account(Role.OWNER) : vineyard.account(Role.LEAD);
        vineyard.run(() -> assertThat(log.record(
                                new FieldLog.Entry(
                                        UUID.randomUUID(),
                                        work[who],
                                        "B2 r" + (who + 1) + " 1-2",
                                        null,
                                        List.of(),
                                        minutes,
                                        clock.now().minusSeconds(60),
                                        null,
                                        who < 2 ? null : people[who]),
                                by)
                        .outcome())
                .isEqualTo(FieldLog.Outcome.TAKEN));
    }

    @Test
    void hoursAndCostsOfEachAreTheirOwnAndLeadToTheirLogs() throws IOException {
        for (int i = 0; i < 4; i++) {
            log(i, 30 * (i + 1));
        }
        Element page = lead.open("/work/hours?by=PERSON").page().selectFirst("main");
        Map<String, Element> lines = new HashMap<>();
        page.select("tbody tr").forEach(r -> lines.put(r.selectFirst("td").text(), r));
        assertThat(lines.keySet()).containsExactlyInAnyOrderElementsOf(names().values());
        String[] costs = {"5.00 GBP", "20.00 GBP", "45.00 GBP", "–"};
        String[] hours = {"0.50", "1.00", "1.50", "2.00"};
        for (int i = 0; i < 4; i++) {
            Element line = lines.get(names().get(people[i]));
            assertThat(line.select("td").get(3).text()).isEqualTo(hours[i]);
            assertThat(line.select("td").last().text()).isEqualTo(costs[i]);
            String behind = line.selectFirst("a[href*=/logs/]").attr("href").replaceFirst("^/v/[^/]+", "");
            var logs = lead.open(behind).page().select("tbody tr");
            assertThat(logs).hasSize(1);
            assertThat(logs.text()).contains("B2 r" + (i + 1)).contains(String.valueOf(30 * (i + 1)));
            assertThat(logs.select("a").attr("href")).contains("/work/tasks/" + work[i] + "#log-");
        }
        assertThat(page.select("tfoot").text()).contains("5.00").contains("70.00 GBP");
        String csv = lead.open("/work/hours?by=PERSON&list-csv=hours").body();
        assertThat(csv.lines().skip(1).map(l -> l.substring(0, l.indexOf(','))))
                .containsExactlyInAnyOrderElementsOf(names().values());
        String book = unzipped(lead.open("/work/hours?by=PERSON&list-xlsx=hours")
                .raw()
                .getResponse()
                .getContentAsByteArray());
        names().values().forEach(name -> assertThat(book).contains(">" + name + "<"));
        assertThat(lead.open("/my-day/" + work[3]).page().text()).contains("Done by " + names().get(people[3]));
    }

    @Test
    void eachHasAPageOfTheirOwnToWhichEveryListLeads() {
        for (int i = 0; i < 4; i++) {
            log(i, 30 * (i + 1));
        }
        for (int i = 0; i < 4; i++) {
            String path = "/people/" + people[i];
            Element page = lead.open(path).page().selectFirst("main");
            assertThat(page.selectFirst("h1").text()).isEqualTo(names().get(people[i]));
            assertThat(page.select("tbody tr"))
                    .singleElement()
                    .asString()
                    .contains("B2 r" + (i + 1))
                    .contains("/work/tasks/" + work[i]);
            assertThat(page.select("a[href*=/logs/PERSON]").text())
                    .isEqualTo("%.2f h in one log".formatted(0.5 * (i + 1)));
            String logs = page.select("a[href*=/logs/PERSON]").attr("href").replaceFirst("^/v/[^/]+", "");
            assertThat(lead.open(logs).page().select("tbody tr a[href$=" + path + "]"))
                    .hasSize(1);
            for (String list :
                    new String[] {"/work/people", "/work/sheet", "/work/week", "/work/schedule", "/work/hours?by=PERSON"
                    }) {
                assertThat(lead.open(list)
                                .page()
                                .select("main a[href=/v/" + vineyard.slug() + path + "]")
                                .text())
                        .as(list)
                        .isEqualTo(names().get(people[i]));
            }
        }
        // By the account it is the same page, and the search leads to each of them.
        for (int i = 0; i < 2; i++) {
            UUID account = vineyard.account(i == 0 ? Role.HELPER : Role.OWNER);
            assertThat(lead.open("/people/" + account).page().select("main tbody a[href$=" + work[i] + "]"))
                    .hasSize(1);
        }
        assertThat(lead.open("/find?q=hana").page().select("main tbody a").eachAttr("href"))
                .containsExactlyInAnyOrder(
                        "/v/" + vineyard.slug() + "/people/" + vineyard.account(Role.HELPER),
                        "/v/" + vineyard.slug() + "/people/" + vineyard.account(Role.OWNER));
        assertThat(lead.open("/find?q=tom").page().select("main tbody a").eachAttr("href"))
                .containsExactlyInAnyOrder(
                        "/v/" + vineyard.slug() + "/people/" + people[2],
                        "/v/" + vineyard.slug() + "/people/" + people[3]);
    }

    @Test
    void whoDoesNotComeAnyMoreKeepsTheirHoursAndTheirWage() {
        log(0, 60);
        log(1, 60);
        String name = names().get(people[0]);
        vineyard.run(() -> crew.withdraw(people[0], 0));
        assertThat(names()).containsEntry(people[0], name);
        var lines = lead.open("/work/hours?by=PERSON").page().select("tbody tr");
        assertThat(lines.eachText())
                .hasSize(2)
                .anyMatch(l -> l.startsWith(name + " 1 log") && l.endsWith("10.00 GBP"))
                .anyMatch(l -> l.endsWith("20.00 GBP"));
        // Back on the list with another wage: still one person, once.
        vineyard.run(() -> person(vineyard.account(Role.HELPER), "Hana Helper", "12"));
        assertThat(lead.open("/work/hours?by=PERSON").page().select("tbody tr").eachText())
                .hasSize(2)
                .anyMatch(l -> l.startsWith(name + " 1 log") && l.endsWith("12.00 GBP"));
    }

    @Test
    void aDayLinkTakesNobodysPlace() {
        Map<UUID, String> before = names();
        vineyard.run(() -> crew.dayLink(people[3], 1));
        assertThat(names()).isEqualTo(before);
        UUID account =
                vineyard.inside(() -> crew.person(people[3]).orElseThrow().account());
        assertThat(vineyard.inside(() -> members.names()).get(account)).isEqualTo(before.get(people[3]));
    }

    private static String unzipped(byte[] content) throws IOException {
        Path file = Files.createTempFile("hours", ".xlsx");
        try {
            Files.write(file, content);
            StringBuilder all = new StringBuilder();
            try (ZipFile zip = new ZipFile(file.toFile())) {
                for (ZipEntry e : Collections.list(zip.entries())) {
                    all.append(new String(zip.getInputStream(e).readAllBytes(), StandardCharsets.UTF_8));
                }
            }
            return all.toString();
        } finally {
            Files.delete(file);
        }
    }
}
