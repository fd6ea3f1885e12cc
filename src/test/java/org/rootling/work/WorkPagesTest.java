package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lots;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

@AppTest
@Import({WorkField.class, RecordingEffect.class})
class WorkPagesTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    Lots lots;

    private TestVineyard vineyard;
    private WorkField.Field field;
    private LocalDate today;
    private TestBrowser lead;
    private TestBrowser helper;
    private String helperId;

    @BeforeEach
    void aField() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 4, 100);
        today = fields.today(vineyard);
        lead = vineyard.as(Role.LEAD);
        helper = vineyard.as(Role.HELPER);
        helperId = vineyard.account(Role.HELPER).toString();
    }

    private List<Task> open() {
        return vineyard.inside(() -> tasks.open());
    }

    private Task planWeeding() {
        lead.sendAndFollow(
                "/work/plan", "steps", "WEED", "block", "B2", "rows", "1", "people", helperId, "due", today.toString());
        return open().get(0);
    }

    @Test
    void aLeadPlansStepsOnRowsForPeople() {
        TestBrowser.Answer board = lead.sendAndFollow(
                "/work/plan", "steps", "BORE", "steps", "WEED", "block", "B2", "rows", "1-2, 4", "people", helperId);
        assertThat(board.status()).isEqualTo(200);
        assertThat(open()).hasSize(6).allSatisfy(t -> {
            assertThat(t.quantity()).isEqualTo(20);
            assertThat(t.people()).containsExactly(UUID.fromString(helperId));
        });
        assertThat(board.page().text()).contains("Bore holes").contains("B2 r4").contains("Hana Helper");
        // Planned once more, nothing doubles.
        lead.sendAndFollow("/work/plan", "steps", "BORE", "block", "B2", "rows", "1-4");
        assertThat(open()).hasSize(7);
    }

    @Test
    void plantingIsDueWhenTheLotsHoldsWantIt() {
        lead.sendAndFollow(
                "/work/plan",
                "steps",
                "PLANT",
                "block",
                "B2",
                "rows",
                "1",
                "lot",
                field.lot().toString());
        Task t = open().get(0);
        assertThat(t.lotId()).isEqualTo(field.lot());
        assertThat(t.due())
                .isEqualTo(vineyard.inside(() -> lots.plantBy(field.lot())).orElse(null));
    }

    @Test
    void planningThatMakesNoSenseIsAnsweredAtItsField() {
        assertThat(lead.send("/work/plan", "block", "B2", "rows", "1")
                        .page()
                        .select(".error")
                        .text())
                .contains("Choose at least one step");
        assertThat(error("steps", "WEED", "block", "B2", "rows", "9")).contains("no row 9");
        assertThat(error("steps", "WEED", "block", "B2", "rows", "x".repeat(1_000_000)))
                .isNotEmpty();
        assertThat(error("steps", "WEED", "block", "Z9", "rows", "1")).contains("no such block");
        assertThat(error("steps", "PLANT", "block", "B2", "rows", "1")).contains("choose one");
        assertThat(error("steps", "WEED", "block", "B2", "rows", "1", "due", "2999-01-01"))
                .isNotEmpty();
        assertThat(error("steps", "WEED", "block", "B2", "rows", "1", "places", "1-21"))
                .contains("no place 21");
        assertThat(error("steps", "<script>alert(1)</script>", "block", "B2", "rows", "1"))
                .isNotEmpty();
        assertThat(open()).isEmpty();
    }

    private String error(String... form) {
        TestBrowser.Answer a = lead.send("/work/plan", form);
        assertThat(a.status()).isBetween(200, 422);
        assertThat(a.body()).doesNotContain("Exception").doesNotContain("<script>alert");
        return a.page().select(".error, .alert.danger").text();
    }

    @Test
    void aHelperSeesTodaysTasksFirstAndLogsARunWithExceptions() {
        lead.sendAndFollow(
                "/work/plan",
                "steps",
                "GUARD",
                "block",
                "B2",
                "rows",
                "2",
                "people",
                helperId,
                "due",
                today.plusDays(3).toString());
        Task weeding = planWeeding();
        TestBrowser.Answer day = helper.open("/my-day");
        assertThat(day.page().select("h2").eachText()).startsWith("Today", "Next");
        assertThat(day.page().selectFirst(".task-card .what").text()).isEqualTo("Weed · B2 r1");
        TestBrowser.Answer row = helper.open("/my-day/" + weeding.id());
        assertThat(row.page().select(".strip li.left")).hasSize(20);
        String entry = row.page().selectFirst("input[name=entry]").val();
        TestBrowser.Answer after = helper.sendAndFollow(
                "/my-day/" + weeding.id() + "/log",
                "entry",
                entry,
                "places",
                "3-18",
                "but",
                "7, 12",
                "minutes",
                "35",
                "on",
                today.toString(),
                "foundPlace",
                "7",
                "foundWhat",
                "missing");
        assertThat(after.page().select(".strip li.done")).hasSize(14);
        assertThat(after.page().select(".card").text())
                .contains("3-6, 8-11, 13-18")
                .contains("35 min")
                .contains("7: missing");
    }

    @Test
    void theSameFormSentTwiceCountsOnce() {
        Task t = planWeeding();
        TestBrowser.Answer row = helper.open("/my-day/" + t.id());
        String entry = row.page().selectFirst("input[name=entry]").val();
        for (int i = 0; i < 2; i++) {
            helper.send("/my-day/" + t.id() + "/log", "entry", entry, "places", "1-5", "on", today.toString());
        }
        assertThat(vineyard.inside(() -> log.ofTask(t.id()))).hasSize(1);
    }

    @Test
    void badLogsAreAnsweredAtTheFieldAndNothingIsKept() {
        Task t = planWeeding();
        assertThat(logError(t, "places", "3-21", "minutes", "5")).contains("21");
        assertThat(logError(t, "places", "")).contains("Name the places");
        assertThat(logError(t, "places", "3", "minutes", "99999")).isNotEmpty();
        assertThat(logError(t, "places", "3", "minutes", "-5")).isNotEmpty();
        assertThat(logError(t, "places", "3", "minutes", "soon")).isNotEmpty();
        assertThat(logError(t, "places", "3", "note", "n".repeat(1_000_000))).isNotEmpty();
        assertThat(logError(t, "places", "'; drop table task; --")).isNotEmpty();
        assertThat(logError(t, "places", "3", "on", today.plusDays(30).toString()))
                .contains("future");
        assertThat(logError(t, "places", "3", "on", "1899-01-01")).isNotEmpty();
        assertThat(vineyard.inside(() -> log.ofTask(t.id()))).isEmpty();
    }

    private String logError(Task t, String... form) {
        String[] all = new String[form.length + 4];
        System.arraycopy(form, 0, all, 0, form.length);
        all[form.length] = "entry";
        all[form.length + 1] = UUID.randomUUID().toString();
        boolean dated = List.of(form).contains("on");
        all[form.length + 2] = dated ? "spare" : "on";
        all[form.length + 3] = today.toString();
        TestBrowser.Answer a = helper.send("/my-day/" + t.id() + "/log", all);
        assertThat(a.status()).isBetween(200, 422);
        assertThat(a.body()).doesNotContain("Exception");
        return a.page().select(".error, .alert.danger").text();
    }

    @Test
    void aLogIsTakenBackOnceAndShowsByWhom() {
        Task t = planWeeding();
        UUID entry = UUID.randomUUID();
        helper.sendAndFollow(
                "/my-day/" + t.id() + "/log", "entry", entry.toString(), "places", "1-5", "on", today.toString());
        TestBrowser.Answer after = helper.sendAndFollow("/my-day/logs/" + entry + "/undo");
        assertThat(after.page().select(".undone").text()).contains("taken back by Hana Helper");
        assertThat(after.page().select(".strip li.done")).isEmpty();
        assertThat(helper.send("/my-day/logs/" + entry + "/undo").status()).isIn(409, 422);
    }

    @Test
    void augerAndWireWorkShowTheirCaution() {
        lead.sendAndFollow("/work/plan", "steps", "BORE", "steps", "STRING_WIRE", "block", "B2", "rows", "1");
        for (Task t : open()) {
            assertThat(helper.open("/my-day/" + t.id()).page().select(".caution"))
                    .hasSize(1);
        }
    }

    @Test
    void aReaderSeesTheBoardButNeitherLogsNorPlans() {
        Task t = planWeeding();
        TestBrowser reader = vineyard.as(Role.READER);
        assertThat(reader.open("/work").page().text()).contains("Weed");
        assertThat(reader.open("/work/tasks/" + t.id()).status()).isEqualTo(200);
        assertThat(reader.open("/my-day").status()).isEqualTo(403);
        assertThat(reader.open("/work/plan").status()).isEqualTo(403);
        assertThat(helper.open("/work/plan").status()).isEqualTo(403);
        assertThat(helper.open("/work/conflicts").status()).isEqualTo(403);
        assertThat(vineyards
                        .fresh()
                        .as(Role.OWNER)
                        .open("/work/tasks/" + t.id())
                        .status())
                .isEqualTo(404);
    }

    @Test
    void stepsAreChangedAddedAndNeverACircle() {
        assertThat(lead.open("/work/steps").page().text())
                .contains("Bore holes")
                .contains("auger");
        assertThat(lead.open("/work/steps/BORE").status()).isEqualTo(200);
        lead.sendAndFollow(
                "/work/steps/BORE",
                "name",
                "Bore holes",
                "peopleLeast",
                "2",
                "peopleMost",
                "2",
                "tool",
                "auger",
                "waitDays",
                "1",
                "guessMinutes",
                "1.5",
                "after",
                "MARK_OUT",
                "version",
                "0");
        assertThat(lead.open("/work/steps").page().text()).contains("1.5");
        assertThat(lead.send(
                                "/work/steps/MARK_OUT",
                                "name",
                                "",
                                "peopleLeast",
                                "1",
                                "peopleMost",
                                "2",
                                "waitDays",
                                "0",
                                "after",
                                "PLANT",
                                "version",
                                "0")
                        .page()
                        .select(".error")
                        .text())
                .contains("wait for itself");
        assertThat(lead.send(
                                "/work/steps/BORE",
                                "name",
                                "",
                                "peopleLeast",
                                "2",
                                "peopleMost",
                                "2",
                                "waitDays",
                                "1",
                                "version",
                                "0")
                        .status())
                .isEqualTo(409);
        lead.sendAndFollow(
                "/work/steps/new",
                "name",
                "Hill up",
                "peopleLeast",
                "1",
                "peopleMost",
                "3",
                "waitDays",
                "0",
                "version",
                "0");
        assertThat(lead.open("/work/plan").page().text()).contains("Hill up");
    }

    @Test
    void theApiAnswersEachEntryAndConflictsWaitForALead() {
        Task t = planWeeding();
        String one = entry(UUID.randomUUID(), t, "B2 r1 3-18", "7,12", 35);
        TestApi.Answer a = TestApi.post(vineyard, Role.HELPER, "/api/v1/field-logs", "{\"entries\":[" + one + "]}");
        assertThat(a.status()).isEqualTo(200);
        assertThat(a.json().at("/entries/0/result").asString()).isEqualTo("taken");
        a = TestApi.post(
                vineyard,
                Role.HELPER,
                "/api/v1/field-logs",
                "{\"entries\":[" + one + ","
                        + entry(UUID.randomUUID(), t, "B2 r1 18-20", null, 5) + ","
                        + entry(UUID.randomUUID(), t, "B2 r1 99", null, 5) + ",{\"id\":\"x\"}]}");
        assertThat(a.json().at("/entries/0/result").asString()).isEqualTo("already taken");
        assertThat(a.json().at("/entries/1/result").asString()).isEqualTo("conflict");
        assertThat(a.json().at("/entries/1/against").asString()).isNotEmpty();
        assertThat(a.json().at("/entries/2/result").asString()).isEqualTo("refused");
        assertThat(a.json().at("/entries/3/result").asString()).isEqualTo("refused");
        TestBrowser.Answer page = lead.open("/work/conflicts");
        assertThat(page.page().select("article").text())
                .contains("Already done: place 18")
                .contains("19-20");
        String take = page.page().select("form[action$=/take]").first().attr("action");
        lead.sendAndFollow(take.replaceFirst("^/v/[^/]+", ""), "version", "0");
        assertThat(vineyard.inside(() -> tasks.byId(t.id()).orElseThrow()).donePlaces())
                .contains(19, 20)
                .hasSize(16);
        assertThat(lead.open("/work/conflicts").page().text()).contains("Nothing to settle");
        assertThat(lead.send(take.replaceFirst("^/v/[^/]+", ""), "version", "0").status())
                .isIn(409, 422);
    }

    @Test
    void aConflictCanReplaceTheOtherLogOrBeSetAside() {
        Task t = planWeeding();
        TestApi.post(
                vineyard,
                Role.HELPER,
                "/api/v1/field-logs",
                "{\"entries\":["
                        + entry(UUID.randomUUID(), t, "B2 r1 1-10", null, 5) + ","
                        + entry(UUID.randomUUID(), t, "B2 r1 5-6", null, 5) + ","
                        + entry(UUID.randomUUID(), t, "B2 r1 9-12", null, 5) + "]}");
        var articles = lead.open("/work/conflicts").page().select("article");
        assertThat(articles).hasSize(2);
        String aside = articles.get(0).select("form[action$=/set-aside]").attr("action");
        lead.sendAndFollow(aside.replaceFirst("^/v/[^/]+", ""), "version", "0");
        String take = lead.open("/work/conflicts")
                .page()
                .select("form[action$=/take]")
                .last()
                .attr("action");
        lead.sendAndFollow(take.replaceFirst("^/v/[^/]+", ""), "version", "0", "replace", "true");
        Task after = vineyard.inside(() -> tasks.byId(t.id()).orElseThrow());
        assertThat(after.donePlaces()).containsAnyOf(5, 9).doesNotContain(1);
        assertThat(vineyard.inside(() -> log.ofTask(t.id()))).hasSize(2);
    }

    @Test
    void theApiNeedsATokenThatMayLogAndASaneBody() {
        assertThat(TestApi.post(vineyard, Role.READER, "/api/v1/field-logs", "{\"entries\":[]}")
                        .status())
                .isEqualTo(403);
        assertThat(TestApi.post(vineyard, Role.HELPER, "/api/v1/field-logs", "{\"entries\":null}")
                        .status())
                .isEqualTo(400);
        assertThat(TestApi.post(vineyard, Role.HELPER, "/api/v1/field-logs", "{")
                        .status())
                .isEqualTo(400);
        assertThat(TestApi.post(vineyard, Role.HELPER, "/api/v1/field-logs", "{\"entries\":[]}")
                        .status())
                .isEqualTo(200);
    }

    private String entry(UUID id, Task t, String places, String but, int minutes) {
        return "{\"id\":\"" + id + "\",\"task\":\"" + t.id() + "\",\"places\":\"" + places + "\""
                + (but == null ? "" : ",\"but\":\"" + but + "\"")
                + ",\"found\":[{\"place\":\"B2 r1 7\",\"what\":\"missing\"}]"
                + ",\"minutes\":" + minutes + ",\"at\":\"" + today.minusDays(1) + "T09:40:00Z\"}";
    }
}
