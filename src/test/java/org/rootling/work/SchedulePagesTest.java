package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.CalendarSource;
import org.rootling.nursery.Stock;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.WeatherBook;
import org.rootling.work.calc.NoShow;
import org.rootling.work.calc.SeasonInput;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.LostDays;
import org.rootling.work.domain.OutlookService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;

@AppTest
@Import({WorkField.class, RecordingEffect.class})
class SchedulePagesTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    Steps steps;

    @Autowired
    CrewService crew;

    @Autowired
    LostDays lostDays;

    @Autowired
    WeatherBook book;

    @Autowired
    Stock stock;

    @Autowired
    List<CalendarSource> sources;

    @Autowired
    FieldLog log;

    @Autowired
    OutlookService outlooks;

    @Autowired
    JdbcClient jdbc;

    private WorkField.Field field;
    private TestVineyard vineyard;
    private LocalDate today;
    private TestBrowser lead;
    private String helperId;

    @BeforeEach
    void aFieldWithTasks() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 4, 100);
        today = fields.today(vineyard);
        lead = vineyard.as(Role.LEAD);
        helperId = vineyard.account(Role.HELPER).toString();
        lead.sendAndFollow("/work/plan", "steps", "MARK_OUT", "steps", "BORE", "block", "B2", "rows", "1-3");
    }

    private TestBrowser.Answer addPerson(String name, String hours, String... more) {
        String[] form = new String[18 + more.length];
        String[] base = {
            "name",
            name,
            "mon",
            hours,
            "tue",
            hours,
            "wed",
            hours,
            "thu",
            hours,
            "fri",
            hours,
            "currency",
            "GBP",
            "version",
            "0",
            "wage",
            "12.50"
        };
        System.arraycopy(base, 0, form, 0, base.length);
        System.arraycopy(more, 0, form, base.length, more.length);
        return lead.send("/work/people/new", form);
    }

    private void guess(String step, String minutes) {
        Step s = vineyard.inside(() -> steps.byCode(step).orElseThrow());
        vineyard.run(() -> steps.change(
                step,
                new Steps.Settings(
                        null,
                        1,
                        s.peopleMost(),
                        s.tool(),
                        s.skill(),
                        s.after(),
                        s.waitDays(),
                        true,
                        new BigDecimal(minutes)),
                s.version()));
    }

    @Test
    void aScheduleIsSearchedInTheBackgroundAndShown() throws InterruptedException {
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("who works when");
        assertThat(addPerson("Wim", "6").status()).isEqualTo(302);
        assertThat(addPerson(
                                "Hana",
                                "6",
                                "account",
                                helperId,
                                "daysOff",
                                today.plusDays(1).toString())
                        .status())
                .isEqualTo(302);
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("nothing to schedule");
        guess("MARK_OUT", "1");
        guess("BORE", "3");
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .status())
                .isEqualTo(302);
        TestBrowser.Answer page = lead.open("/work/schedule");
        for (int i = 0; i < 100 && !page.page().text().contains("Done on"); i++) {
            Thread.sleep(100);
            page = lead.open("/work/schedule");
        }
        for (int i = 0; i < 100 && page.page().text().contains("Searching"); i++) {
            Thread.sleep(100);
            page = lead.open("/work/schedule");
        }
        assertThat(page.page().text())
                .contains("Bore holes · B2 r1")
                .contains("Wim")
                .contains("08:00");
        // Only what is late leads to the late tasks.
        assertThat(page.page().select("a[href='#late']"))
                .hasSameSizeAs(page.page().select("#late"));
        // One search at a time, and again with the order kept.
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1", "keep", "true")
                        .status())
                .isEqualTo(302);
    }

    private TestBrowser.Answer settled(String path, String running) throws InterruptedException {
        TestBrowser.Answer page = lead.open(path);
        for (int i = 0; i < 200 && page.page().text().contains(running); i++) {
            Thread.sleep(100);
            page = lead.open(path);
        }
        return page;
    }

    private void twoPeopleAndASchedule() throws InterruptedException {
        addPerson("Wim", "6", "sat", "6", "sun", "6");
        addPerson("Hana", "6", "sat", "6", "sun", "6", "account", helperId);
        guess("MARK_OUT", "1");
        guess("BORE", "9");
        lead.sendAndFollow("/work/schedule", "from", today.toString(), "seconds", "1");
        settled("/work/schedule", "Searching");
    }

    @Test
    void afterAnAbsenceOnlyWhatMustMoveMovesAndThePageSaysWhy() throws InterruptedException {
        twoPeopleAndASchedule();
        UUID hana = vineyard.inside(() -> crew.people()).stream()
                .filter(p -> p.name().equals("Hana"))
                .findFirst()
                .orElseThrow()
                .id();
        lead.sendAndFollow(
                "/work/people/" + hana,
                "name",
                "Hana",
                "account",
                helperId,
                "mon",
                "6",
                "tue",
                "6",
                "wed",
                "6",
                "thu",
                "6",
                "fri",
                "6",
                "sat",
                "6",
                "sun",
                "6",
                "daysOff",
                today.toString(),
                "currency",
                "GBP",
                "version",
                "0");
        lead.sendAndFollow("/work/schedule", "from", today.toString(), "seconds", "1", "keep", "true");
        TestBrowser.Answer page = settled("/work/schedule", "Searching");
        assertThat(page.page().text()).contains("What moved").contains("Hana is not there then");
        // Once more without a change nothing moves.
        lead.sendAndFollow("/work/schedule", "from", today.toString(), "seconds", "1", "keep", "true");
        page = settled("/work/schedule", "Searching");
        assertThat(page.page().text()).doesNotContain("What moved");
    }

    @Test
    void daySheetsTheWeekAndTheCalendarShowTheSchedule() throws InterruptedException {
        twoPeopleAndASchedule();
        assertThat(lead.open("/work/sheet?day=" + today).page().text())
                .contains("Wim")
                .contains("Mark out")
                .contains("08:00");
        assertThat(lead.open("/work/sheet?day=" + today.plusDays(300)).page().text())
                .contains("nothing for this day");
        assertThat(List.of(400, 404))
                .contains(lead.open("/work/sheet?day=yesterday").status());
        TestBrowser.Answer week = lead.open("/work/week?from=" + today);
        assertThat(week.page().select("svg.week rect.stint")).isNotEmpty();
        assertThat(week.page().select("svg.week").text()).contains("Wim").contains("Hana");
        TestBrowser helper = vineyard.as(Role.HELPER);
        assertThat(helper.open("/my-day/sheet").page().text()).contains("B2 r").contains("08:00");
        assertThat(helper.open("/my-day").page().text()).contains("My plan for today");
        assertThat(vineyard.inside(() -> sources.stream()
                        .flatMap(s -> s.days(vineyard.account(Role.HELPER)).stream())
                        .toList()))
                .anySatisfy(d -> {
                    assertThat(d.on()).isEqualTo(today);
                    assertThat(d.title()).contains("B2 r");
                    assertThat(d.path()).isEqualTo("/my-day/sheet");
                });
        assertThat(vineyard.as(Role.READER).open("/my-day/sheet").status()).isEqualTo(403);
    }

    @Test
    void theChanceOfEachLotIsPlayedInTheBackground() throws InterruptedException {
        assertThat(lead.send("/work/outlook", form(200, 7))
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("who works when");
        addPerson("Wim", "6", "sat", "6", "sun", "6");
        UUID bed = vineyard.inside(() -> stock.addStore(new Stock.NewStore(
                "Bed", org.rootling.nursery.StoreKind.HEELED_IN, null, null, null, null, null, null)));
        vineyard.run(() -> stock.place(field.lot(), bed, 100, today.minusDays(10)));
        lead.sendAndFollow(
                "/work/plan",
                "steps",
                "PLANT",
                "block",
                "B2",
                "rows",
                "1-3",
                "lot",
                field.lot().toString());
        guess("MARK_OUT", "1");
        guess("BORE", "3");
        guess("PLANT", "4");
        lead.sendAndFollow("/work/outlook", form(200, 7));
        TestBrowser.Answer page = settled("/work/outlook", "Playing");
        assertThat(page.page().text())
                .contains(field.lotCode())
                .contains("in time")
                .contains("seed 7")
                .contains("One more helper every Saturday")
                .contains("One more of the tool auger");
        assertThat(page.page().select("svg polyline")).hasSize(1);
        String first = page.page().select("main table").text();
        lead.sendAndFollow("/work/outlook", form(200, 7));
        assertThat(settled("/work/outlook", "Playing")
                        .page()
                        .select("main table")
                        .text())
                .isEqualTo(first);
        assertThat(lead.send("/work/outlook", form(5, 7))
                        .page()
                        .select(".error")
                        .text())
                .isNotEmpty();
        assertThat(vineyard.as(Role.HELPER).send("/work/outlook", form(200, 7)).status())
                .isEqualTo(403);
        assertThat(vineyard.as(Role.READER).open("/work/outlook").status()).isEqualTo(200);
    }

    private String[] form(int seasons, long seed) {
        LostDays.Settings s = vineyard.inside(() -> lostDays.settings());
        return new String[] {
            "from",
            today.toString(),
            "seasons",
            Integer.toString(seasons),
            "seed",
            Long.toString(seed),
            "rainMm",
            "6",
            "frostC",
            "-2",
            "noShow",
            "10",
            "version",
            Integer.toString(s.version())
        };
    }

    @Test
    void daysAreLostByTheVineyardsOwnWeather() {
        // Of 28 days of a month 7 are too wet and 7 others too cold; the forecast says which days ahead are lost.
        List<WeatherBook.Day> days = new ArrayList<>();
        LocalDate first = today.minusYears(1).withDayOfMonth(1);
        for (int d = 0; d < 28; d++) {
            days.add(new WeatherBook.Day(first.plusDays(d), d % 4 == 1 ? -4 : 3, 12, d % 4 == 0 ? 8 : 1));
        }
        days.add(new WeatherBook.Day(today.plusDays(1), 5, 12, 20));
        days.add(new WeatherBook.Day(today.plusDays(2), 5, 12, 0));
        vineyard.run(() -> book.take(days));
        SeasonInput.Weather weather = vineyard.inside(() -> lostDays.seasons(today, List.of()));
        assertThat(weather.recorded()).hasSize(28);
        assertThat(weather.usual().recorded()).hasSize(14).allMatch(d -> (d.toEpochDay() - first.toEpochDay()) % 4 < 2);
        assertThat(weather.usual().foretold()).isEqualTo(Map.of(today.plusDays(1), true, today.plusDays(2), false));
        assertThat(vineyard.inside(() -> lostDays.foretoldLost(today))).containsExactly(today.plusDays(1));
    }

    @Test
    void aStepsOwnLimitsKeepItOffDaysThatOthersStand() throws SQLException {
        List<WeatherBook.Day> days = new ArrayList<>();
        LocalDate first = today.minusYears(1).withDayOfMonth(1);
        for (int d = 0; d < 28; d++) {
            days.add(new WeatherBook.Day(first.plusDays(d), 4, 12, d % 4 == 0 ? 3 : 0));
        }
        for (int d = 1; d <= 4; d++) {
            days.add(new WeatherBook.Day(today.plusDays(d), d == 2 ? 1 : 6, 12, d == 1 ? 3 : 0));
        }
        vineyard.run(() -> book.take(days));
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement windy = owner.prepareStatement(
                        "update weather_day set wind_ms = 9 where vineyard_id = ? and date = ?")) {
            windy.setObject(1, vineyard.id());
            windy.setObject(2, today.plusDays(3));
            windy.executeUpdate();
        }
        String[] form = {
            "name",
            "Bore holes",
            "peopleLeast",
            "1",
            "peopleMost",
            "2",
            "waitDays",
            "0",
            "outdoors",
            "true",
            "mostRainMm",
            "2",
            "leastTempC",
            "5",
            "mostWindMs",
            "8",
            "version",
            "0"
        };
        assertThat(lead.send("/work/steps/BORE", form).status()).isEqualTo(302);
        assertThat(lead.open("/work/steps/BORE").page().select("#mostWindMs").val())
                .startsWith("8");
        vineyard.reads(Role.LEAD, "us", "en");
        assertThat(lead.open("/work/steps/BORE").page().select("#mostWindMs").val())
                .isEqualTo("17.8955");
        assertThat(lead.open("/work/steps/BORE")
                        .page()
                        .select("span:has(#mostWindMs) .unit")
                        .text())
                .isEqualTo("mph");
        vineyard.reads(Role.LEAD, "metric", "en");
        form[15] = "abc";
        assertThat(lead.send("/work/steps/BORE", form).page().select(".error").text())
                .isNotEmpty();
        List<Step> all = vineyard.inside(() -> steps.all());
        assertThat(vineyard.inside(() -> lostDays.foretoldLost(today))).isEmpty();
        assertThat(vineyard.inside(() -> lostDays.foretoldLost(today, all)))
                .isEqualTo(Map.of("BORE", Set.of(today.plusDays(1), today.plusDays(2), today.plusDays(3))));
        SeasonInput.Weather weather = vineyard.inside(() -> lostDays.seasons(today, all));
        SeasonInput.Losses losses = weather.ofSteps().get("BORE");
        // All of the month's nights were below 5 °C.
        assertThat(losses.recorded()).hasSize(28);
        assertThat(losses.foretold()).containsEntry(today.plusDays(4), false).containsEntry(today.plusDays(3), true);
        assertThat(weather.recorded()).hasSize(28);
        assertThat(weather.usual().recorded()).isEmpty();
    }

    /** Of six planned days two were logged, one was marked as missed, one was off, and on one nobody worked at all. */
    @Test
    void howOftenPeopleDoNotComeIsLearnedFromPlansAndLogs() {
        addPerson("Hana", "6", "account", helperId);
        addPerson("Wim", "6");
        guess("MARK_OUT", "1");
        guess("BORE", "1");
        Map<String, UUID> people = new HashMap<>();
        vineyard.inside(() -> crew.people()).forEach(p -> people.put(p.name(), p.id()));
        UUID hana = people.get("Hana");
        UUID task = vineyard.inside(() -> tasks.open()).get(0).id();
        StringBuilder stints = new StringBuilder();
        for (int ago = 1; ago <= 6; ago++) {
            stints.append(stints.isEmpty() ? "[" : ",")
                    .append("{\"t\":\"%s\",\"p\":\"%s\",\"d\":\"%s\",\"f\":0,\"u\":8}"
                            .formatted(task, hana, today.minusDays(ago)));
        }
        vineyard.run(() -> {
            jdbc.sql(
                            "insert into work_schedule (id, state, starts_on, started_at, heard_at, seconds, answers, stints)"
                                    + " values (gen_random_uuid(), 'DONE', :from, now() - interval '9 days', now(), 1, 1, cast(:s as jsonb))")
                    .param("from", today.minusDays(8))
                    .param("s", stints + "]")
                    .update();
            jdbc.sql("insert into work_day_off (id, person_id, day) values (gen_random_uuid(), :p, :d)")
                    .param("p", hana)
                    .param("d", today.minusDays(4))
                    .update();
        });
        // Somebody else logs on all but one of these days, Hana on two.
        for (int ago = 1; ago <= 5; ago++) {
            log(task, vineyard.account(Role.LEAD), today.minusDays(ago), 2 * ago);
        }
        log(task, vineyard.account(Role.HELPER), today.minusDays(1), 1);
        log(task, vineyard.account(Role.HELPER), today.minusDays(2), 3);
        assertThat(attendance()).isEqualTo(new NoShow(0.05, 4, 2));
        assertThat(lead.send(
                                "/work/sheet/absent",
                                "person",
                                hana.toString(),
                                "day",
                                today.minusDays(4).toString())
                        .status())
                .isEqualTo(302);
        assertThat(attendance()).isEqualTo(new NoShow(0.05, 5, 3));
        assertThat(vineyard.inside(() -> crew.person(hana)).orElseThrow().daysOff())
                .containsExactly(today.minusDays(4));
        lead.send(
                "/work/sheet/absent",
                "person",
                hana.toString(),
                "day",
                today.minusDays(4).toString(),
                "absent",
                "false");
        assertThat(attendance()).isEqualTo(new NoShow(0.05, 5, 3));
        assertThat(lead.send(
                                "/work/sheet/absent",
                                "person",
                                hana.toString(),
                                "day",
                                today.plusDays(1).toString())
                        .status())
                .isEqualTo(422);
        assertThat(lead.send("/work/sheet/absent", "person", UUID.randomUUID().toString(), "day", today.toString())
                        .status())
                .isEqualTo(404);
    }

    private NoShow attendance() {
        lead.sendAndFollow("/work/outlook", form(100, 3));
        try {
            settled("/work/outlook", "Playing");
        } catch (InterruptedException stopped) {
            throw new IllegalStateException(stopped);
        }
        NoShow learned =
                vineyard.inside(() -> outlooks.latest().orElseThrow().answer()).noShow();
        // The form types ten in a hundred; the rule is about the record.
        return new NoShow(0.05, learned.planned(), learned.missed());
    }

    private void log(UUID task, UUID by, LocalDate on, int place) {
        vineyard.run(() -> assertThat(log.record(
                                new FieldLog.Entry(
                                        UUID.randomUUID(),
                                        task,
                                        "B2 r1 " + place,
                                        null,
                                        List.of(),
                                        10,
                                        on.atTime(10, 0).toInstant(ZoneOffset.UTC),
                                        null),
                                by)
                        .outcome())
                .isEqualTo(FieldLog.Outcome.TAKEN));
    }

    @Test
    void aSkillNobodyHasAndAPinThatCannotBeKeptAreNamed() throws InterruptedException {
        twoPeopleAndASchedule();
        Task task = vineyard.inside(() -> tasks.open()).get(0);
        UUID wim = vineyard.inside(() -> crew.people()).stream()
                .filter(p -> p.name().equals("Wim"))
                .findFirst()
                .orElseThrow()
                .id();
        lead.sendAndFollow(
                "/work/schedule/pins",
                "task",
                task.id().toString(),
                "person",
                wim.toString(),
                "day",
                today.plusDays(2).toString());
        lead.sendAndFollow("/work/schedule", "from", today.toString(), "seconds", "1", "keep", "true");
        TestBrowser.Answer kept = settled("/work/schedule", "Searching");
        assertThat(kept.page().select("section.day-plan").stream()
                        .filter(d -> d.text().contains(task.stepName() + " · " + task.row()))
                        .count())
                .isPositive();
        Step bore = vineyard.inside(() -> steps.byCode("BORE").orElseThrow());
        vineyard.run(() -> steps.change(
                "BORE",
                new Steps.Settings(null, 1, 2, "auger", "diving", bore.after(), 0, true, new BigDecimal("9")),
                bore.version()));
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("diving")
                .contains("nobody has");
    }

    @Test
    void hoursAndDaysThatMakeNoSenseAreRefused() {
        assertThat(addPerson("Wim", "17").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("Wim", "-1").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("", "6").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("Wim", "6", "daysOff", "tomorrow")
                        .page()
                        .select(".error")
                        .text())
                .contains("no date");
        assertThat(addPerson("Wim", "6", "account", UUID.randomUUID().toString())
                        .page()
                        .select(".error")
                        .text())
                .isNotEmpty();
        assertThat(vineyard.as(Role.HELPER).open("/work/people").status()).isEqualTo(403);
    }

    @Test
    void howLongAStepTakesIsLearnedFromTheLogs() {
        guess("MARK_OUT", "1");
        assertThat(lead.open("/work/steps").page().text()).doesNotContain("four fifths below");
        Task t = vineyard.inside(() -> tasks.open()).stream()
                .filter(x -> x.step().equals("MARK_OUT"))
                .findFirst()
                .orElseThrow();
        vineyard.as(Role.HELPER)
                .sendAndFollow(
                        "/my-day/" + t.id() + "/log",
                        "entry",
                        UUID.randomUUID().toString(),
                        "places",
                        "1-10",
                        "minutes",
                        "40",
                        "on",
                        today.toString());
        // One log of 4 minutes a place against a guess of 1 that weighs four logs: exp(ln(4) / 5) = 1.32.
        assertThat(lead.open("/work/steps").page().text())
                .contains("1.3 min, four fifths below")
                .contains("(1 log)");
    }

    @Test
    void hoursAndCostsComeFromTheLogs() {
        addPerson("Hana", "6", "account", helperId);
        Task t = vineyard.inside(() -> tasks.open()).get(0);
        TestBrowser helper = vineyard.as(Role.HELPER);
        helper.sendAndFollow(
                "/my-day/" + t.id() + "/log",
                "entry",
                UUID.randomUUID().toString(),
                "places",
                "1-10",
                "minutes",
                "90",
                "on",
                today.toString());
        TestBrowser.Answer page = lead.open("/work/hours?by=PERSON");
        assertThat(page.page().select("td").eachText()).contains("Hana", "1.50", "18.75 GBP");
        lead.sendAndFollow(
                "/my-day/" + t.id() + "/log",
                "entry",
                UUID.randomUUID().toString(),
                "places",
                "11-12",
                "minutes",
                "30",
                "on",
                today.toString());
        TestBrowser.Answer steps = lead.open("/work/hours?by=STEP");
        assertThat(steps.page().select("tbody tr"))
                .as("paid or not, a step is one line")
                .hasSize(1);
        assertThat(steps.page().select("tbody td").eachText())
                .endsWith("2 logs", "12", "2.00", "1.50", "0.50", "18.75 GBP");
        String logs = steps.page().select("tbody a").attr("href").replaceFirst("^/v/[^/]+", "");
        assertThat(lead.open(logs).page().select("tbody tr")).hasSize(2);
        assertThat(lead.open("/work/hours?by=STEP&list-csv=hours").body())
                .contains("1.50")
                .contains("18.75");
        byte[] xlsx = lead.open("/work/hours?by=WEEK&list-xlsx=hours")
                .raw()
                .getResponse()
                .getContentAsByteArray();
        assertThat(xlsx).startsWith('P', 'K');
        assertThat(List.of(400, 409, 422))
                .contains(lead.open("/work/hours?from=2030-01-01&to=2020-01-01").status());
    }

    @Test
    void theLateVineDaysLeadToTheTasksTheyAreMadeOf() {
        addPerson("Wim", "6");
        UUID wim = vineyard.inside(() -> crew.people()).get(0).id();
        UUID plant = vineyard.inside(
                () -> tasks.create(new NewTask("PLANT", field.row(4), field.lot(), null, today, List.of(), null)));
        Task marked = vineyard.inside(() -> tasks.open()).stream()
                .filter(t -> t.step().equals("MARK_OUT"))
                .findFirst()
                .orElseThrow();
        vineyard.run(() -> {
            tasks.change(marked.id(), List.of(), today, null, marked.version());
            jdbc.sql(
                            "insert into work_schedule (id, state, starts_on, started_at, heard_at, seconds, answers, finish, late, bound_late, stints)"
                                    + " values (gen_random_uuid(), 'DONE', :from, now(), now(), 1, 1, :from, 63, 0, cast(:s as jsonb))")
                    .param("from", today)
                    .param(
                            "s",
                            "[{\"t\":\"%s\",\"p\":\"%s\",\"d\":\"%s\",\"f\":0,\"u\":4},{\"t\":\"%s\",\"p\":\"%s\",\"d\":\"%s\",\"f\":4,\"u\":8}]"
                                    .formatted(plant, wim, today.plusDays(3), marked.id(), wim, today.plusDays(3)))
                    .update();
        });
        var page = lead.open("/work/schedule").page();
        assertThat(page.select("dl.facts a[href=#late]")).hasSize(1);
        var rows = page.select("#late tbody tr");
        assertThat(rows).hasSize(2);
        // 20 vines three days late, and one other task: 60 + 3 of the 63 above.
        assertThat(rows.get(0).select("td").eachText()).contains("Plant · B2 r4", "3", "20", "60");
        assertThat(rows.get(1).select("td").eachText()).contains("3", "1");
        assertThat(rows.get(0).select("a").attr("href")).endsWith("/work/tasks/" + plant);
    }

    @Test
    void emptyPagesSayHowToBegin() {
        TestVineyard empty = vineyards.fresh();
        TestBrowser first = empty.as(Role.LEAD);
        Map.of(
                        "/work", "/work/plan",
                        "/work/schedule", "/work/people",
                        "/work/outlook", "/work/people",
                        "/work/week", "/work/schedule",
                        "/work/sheet", "/work/schedule",
                        "/work/hours", "/work")
                .forEach((path, begin) -> assertThat(first.open(path)
                                .page()
                                .select("main .sheet a[href]")
                                .eachAttr("href"))
                        .as(path)
                        .contains("/v/" + empty.slug() + begin));
        assertThat(first.open("/work/conflicts").page().select("main .sheet").text())
                .contains("stands here when");
        // Help stands beside the thing on each of them.
        for (String path : List.of(
                "/work",
                "/work/plan",
                "/work/steps",
                "/work/people",
                "/work/people/new",
                "/work/schedule",
                "/work/outlook",
                "/work/week",
                "/work/sheet",
                "/work/hours",
                "/work/conflicts",
                "/my-day",
                "/my-day/sheet")) {
            assertThat(first.open(path).page().select("main details.beside a[href$=/help/work]"))
                    .as(path)
                    .hasSize(1);
        }
    }
}
