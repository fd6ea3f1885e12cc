package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.ground.BlockDesk;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.request.MockMvcRequestBuilders;
import tools.jackson.databind.JsonNode;

/** What comes from the field and makes no sense: a clear answer, nothing lost, nothing doubled. */
@AppTest
@Import({WorkField.class, RecordingEffect.class})
class BadInputTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    Steps steps;

    @Autowired
    FieldLog log;

    @Autowired
    Planning planning;

    @Autowired
    BlockDesk desk;

    @Autowired
    Vineyards clock;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;
    private WorkField.Field field;
    private LocalDate today;
    private TestBrowser lead;

    @BeforeEach
    void aField() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 3, 50);
        today = fields.today(vineyard);
        lead = vineyard.as(Role.LEAD);
    }

    private UUID weed(int row) {
        return vineyard.inside(() -> tasks.create(
                new NewTask("WEED", field.row(row), null, null, today, List.of(vineyard.account(Role.HELPER)), null)));
    }

    private static String entry(UUID id, UUID task, String places, Instant at) {
        return "{\"id\":\"" + id + "\",\"task\":\"" + task + "\",\"places\":\"" + places + "\",\"minutes\":5,\"at\":\""
                + at + "\"}";
    }

    private TestApi.Answer send(List<String> entries) {
        return TestApi.post(
                vineyard, Role.HELPER, "/api/v1/field-logs", "{\"entries\":[" + String.join(",", entries) + "]}");
    }

    private Instant now() {
        return vineyard.inside(clock::now);
    }

    private int count(String table) {
        return vineyard.inside(() ->
                jdbc.sql("select count(*) from " + table).query(Integer.class).single());
    }

    @Test
    void aLogOnRowsThatAreNoMoreIsKeptForALeadAndNeverGivenToTheNewRowsOfThatNumber() {
        UUID task = weed(1);
        vineyard.run(() -> {
            tasks.drop(task, 0);
            desk.layOut("B2", 2.5, 1.0, 5, 1.5, 0.0);
        });
        UUID id = UUID.randomUUID();
        TestApi.Answer answer = send(List.of(entry(id, task, "B2 r1 1-3", now().minusSeconds(60))));
        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.json().at("/entries/0/result").asString()).isEqualTo("conflict");
        assertThat(answer.json().at("/entries/0/reason").asString())
                .contains("B2 r1")
                .contains("laid out anew");
        // The same answer when it is sent again, and to the phone's own door.
        assertThat(vineyard.as(Role.HELPER)
                        .sendJson("/outbox", "{\"entries\":[" + entry(id, task, "B2 r1 1-3", now()) + "]}")
                        .body())
                .contains("conflict");
        assertThat(count("task_log")).isZero();
        assertThat(count("log_conflict")).isEqualTo(1);
        for (String path : List.of("/my-day/" + task, "/work/tasks/" + task, "/work", "/work/conflicts")) {
            assertThat(lead.open(path).status()).as(path).isEqualTo(200);
        }
        // It cannot be taken, and says so; it can be set aside.
        String take = "/work/conflicts/" + id + "/take";
        TestBrowser.Answer refused = lead.send(take, "version", "0");
        assertThat(refused.status()).isEqualTo(422);
        assertThat(refused.page().text()).contains("laid out anew");
        assertThat(vineyard.inside(() -> tasks.byId(task)).orElseThrow().status())
                .isEqualTo(TaskStatus.DROPPED);
        lead.sendAndFollow("/work/conflicts/" + id + "/set-aside", "version", "0");
        assertThat(lead.open("/work/conflicts").page().text()).contains("Nothing to settle");
        // On the page, where the person is there to read it, nothing is kept.
        String told = vineyard.as(Role.LEAD)
                .send(
                        "/my-day/" + task + "/log",
                        "entry",
                        UUID.randomUUID().toString(),
                        "places",
                        "4",
                        "on",
                        today.toString())
                .page()
                .select(".error, .alert")
                .text();
        assertThat(told).contains("laid out anew");
        assertThat(count("task_log")).isZero();
    }

    @Test
    void fiveThousandAtOnceAreTakenOnceAndMoreAreRefusedWithTheLimit() {
        UUID task = weed(1);
        Instant at = now().minusSeconds(600);
        // Findings without places: 5,000 entries that do not contradict each other.
        List<String> many = IntStream.range(0, 5000)
                .mapToObj(i -> "{\"id\":\"" + new UUID(7, i) + "\",\"task\":\"" + task
                        + "\",\"places\":\"B2 r1 1-20\",\"but\":\"1-20\",\"found\":[{\"place\":\"" + (1 + i % 20)
                        + "\",\"what\":\"hole-too-wet\"}],\"at\":\"" + at.plusMillis(i) + "\"}")
                .collect(Collectors.toCollection(ArrayList::new));
        List<String> more = new ArrayList<>(many);
        more.add(entry(UUID.randomUUID(), task, "B2 r1 1", at));
        TestApi.Answer refused = send(more);
        assertThat(refused.status()).isIn(400, 422);
        assertThat(refused.contentType()).startsWith("application/problem+json");
        assertThat(refused.body()).contains("5000");
        assertThat(count("task_log")).isZero();
        for (String expected : List.of("taken", "already taken")) {
            JsonNode answers = send(many).json().at("/entries");
            assertThat(answers.size()).isEqualTo(5000);
            TreeSet<String> results = new TreeSet<>();
            answers.forEach(a -> results.add(a.at("/result").asString()));
            assertThat(results).containsExactly(expected);
            assertThat(count("task_log")).isEqualTo(5000);
        }
    }

    @Test
    void aClockADayBehindWritesYesterdayWhichALeadSeesAndOneAheadWaitsForThem() {
        UUID task = weed(2);
        Instant behind = now().minus(Duration.ofDays(1));
        Instant ahead = now().plus(Duration.ofDays(1));
        UUID second = UUID.randomUUID();
        JsonNode answers = send(List.of(
                        entry(UUID.randomUUID(), task, "B2 r2 1-3", behind), entry(second, task, "B2 r2 4-6", ahead)))
                .json();
        assertThat(answers.at("/entries/0/result").asString()).isEqualTo("taken");
        assertThat(answers.at("/entries/1/result").asString()).isEqualTo("conflict");
        assertThat(vineyard.inside(() -> log.ofTask(task)))
                .singleElement()
                .satisfies(l -> assertThat(l.on()).isEqualTo(today.minusDays(1)));
        assertThat(lead.open("/work/hours/logs/STEP?key=WEED")
                        .page()
                        .select("tbody tr")
                        .text())
                .contains(String.valueOf(today.minusDays(1).getDayOfMonth()));
        // The lead says which day it really was.
        lead.sendAndFollow("/work/conflicts/" + second + "/take", "version", "0", "on", today.toString());
        assertThat(vineyard.inside(() -> log.ofTask(task)))
                .extracting(FieldLog.Logged::on)
                .containsExactlyInAnyOrder(today.minusDays(1), today);
    }

    @Test
    void noPhotoAtAllIsSaidAndTheLogStays() throws Exception {
        UUID task = weed(1);
        UUID id = UUID.randomUUID();
        send(List.of(entry(id, task, "B2 r1 1-3", now().minusSeconds(60))));
        String api = "/api/v1/field-logs/" + id + "/photos/" + UUID.randomUUID();
        var bare = vineyard.mvc()
                .perform(MockMvcRequestBuilders.multipart(api)
                        .header("Authorization", "Bearer " + vineyard.token(Role.HELPER)))
                .andReturn()
                .getResponse();
        assertThat(bare.getStatus()).isEqualTo(422);
        assertThat(bare.getContentAsString()).contains("empty");
        TestBrowser.Answer none = vineyard.as(Role.HELPER)
                .upload("/outbox/" + id + "/photos/" + UUID.randomUUID(), "photo", "p.jpg", new byte[0]);
        assertThat(none.status()).isEqualTo(200);
        assertThat(none.body()).contains("refused").contains("empty");
        // A form whose file field is left empty is a log without a photo.
        vineyard.as(Role.HELPER)
                .upload(
                        "/my-day/" + task + "/log",
                        "photo",
                        "",
                        new byte[0],
                        "entry",
                        UUID.randomUUID().toString(),
                        "places",
                        "4-5",
                        "on",
                        today.toString());
        assertThat(count("task_log")).isEqualTo(2);
        assertThat(count("picture")).isZero();
    }

    private void guess(String code) {
        vineyard.run(() -> {
            Step s = steps.byCode(code).orElseThrow();
            steps.change(
                    code,
                    new Steps.Settings(null, 1, s.peopleMost(), s.tool(), null, s.after(), 0, true, BigDecimal.ONE),
                    s.version());
        });
    }

    @Test
    void aSearchThatFindsNothingNamesWhatItFoundNoTimeFor() throws InterruptedException {
        weed(1);
        guess("WEED");
        vineyard.run(() -> planning.addPerson(new Planning.NewPerson(
                null, "Idle Ida", Collections.nCopies(7, BigDecimal.ZERO), List.of(), null, "GBP")));
        TestBrowser.Answer answer = lead.send("/work/schedule", "from", today.toString(), "seconds", "1");
        // Refused with the reason, or searched and every task named: never an empty page.
        String told = answer.status() == 302
                ? settled().page().select(".alert.danger").text()
                : answer.page().select(".alert.danger").text();
        assertThat(told).contains("Weed").contains("B2 r1");
        assertThat(lead.open("/work/sheet?day=" + today).page().text()).contains("nothing for this day");
    }

    private TestBrowser.Answer settled() throws InterruptedException {
        TestBrowser.Answer page = lead.open("/work/schedule");
        for (int i = 0; i < 200 && page.page().text().contains("Searching"); i++) {
            Thread.sleep(100);
            page = lead.open("/work/schedule");
        }
        return page;
    }

    @Test
    void theApiSaysWhatItFoundNoTimeFor() {
        // One quarter of an hour, and two choices fixed on it: one of them cannot be kept.
        TestApi.Answer both = preview(
                "{\"id\":\"p1\",\"hours\":{\"MON\":0.25}}",
                "{\"id\":\"t1\",\"personHours\":0.25},{\"id\":\"t2\",\"personHours\":0.25}",
                ",\"pinned\":[{\"task\":\"t1\",\"person\":\"p1\",\"date\":\"2027-04-05\"},"
                        + "{\"task\":\"t2\",\"person\":\"p1\",\"date\":\"2027-04-05\"}]");
        assertThat(both.status()).isEqualTo(200);
        assertThat(both.json().at("/unplanned").size()).isEqualTo(1);
        assertThat(both.json().at("/assignments").size()).isEqualTo(1);
        assertThat(both.json().at("/assignments/0/task").asString())
                .isNotEqualTo(both.json().at("/unplanned/0").asString());
        TestApi.Answer idle = preview("{\"id\":\"p1\",\"hours\":{\"MON\":0}}", "{\"id\":\"t1\",\"personHours\":2}", "");
        assertThat(idle.status()).isIn(200, 422);
        assertThat(idle.body()).contains("t1");
    }

    private TestApi.Answer preview(String person, String jobs, String pinned) {
        return TestApi.post(
                vineyard,
                Role.LEAD,
                "/api/v1/schedule-previews",
                "{\"start\":\"2027-04-05\",\"people\":[" + person + "],\"tasks\":[" + jobs + "]" + pinned
                        + ",\"seconds\":1}");
    }

    @Test
    void whoWasRemovedIsAnsweredAndNothingOfTheirsIsTaken() throws Exception {
        UUID task = weed(1);
        String body = "{\"entries\":[" + entry(UUID.randomUUID(), task, "B2 r1 1-3", now().minusSeconds(60)) + "]}";
        vineyard.run(() -> jdbc.sql("update membership set ended_at = now() where account_id = :a")
                .param("a", vineyard.account(Role.HELPER))
                .update());
        assertThat(vineyard.as(Role.HELPER).sendJson("/outbox", body).status()).isIn(403, 404);
        assertThat(TestApi.post(vineyard, Role.HELPER, "/api/v1/field-logs", body)
                        .status())
                .isIn(401, 403);
        assertThat(vineyard.mvc()
                        .perform(MockMvcRequestBuilders.post("/v/" + vineyard.slug() + "/outbox")
                                .with(csrf()))
                        .andReturn()
                        .getResponse()
                        .getStatus())
                .isIn(302, 401, 403);
        assertThat(count("task_log")).isZero();
    }
}
