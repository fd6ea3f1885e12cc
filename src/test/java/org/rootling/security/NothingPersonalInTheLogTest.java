package org.rootling.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestLog;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import tools.jackson.databind.JsonNode;

/** The log names requests by number and people not at all, also where things go wrong. */
@AppTest
class NothingPersonalInTheLogTest {

    private static final String PLACE = "203.0.113.77";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    JdbcClient jdbc;

    private TestLog log;
    private TestVineyard vineyard;

    @BeforeEach
    void listen() {
        vineyard = vineyards.fresh();
        log = TestLog.open();
    }

    @AfterEach
    void stop() {
        log.close();
    }

    private static MockHttpServletRequest fromThere(MockHttpServletRequest request) {
        request.setRemoteAddr(PLACE);
        return request;
    }

    private void strangers(MockHttpServletRequestBuilder request) throws Exception {
        mvc.perform(request.with(csrf()).with(NothingPersonalInTheLogTest::fromThere));
    }

    /** Every line is JSON, and none says who it was, what they typed, where they were or what opens a door. */
    private void namesNobody(String... more) {
        for (JsonNode line : log.parsed()) {
            assertThat(line.path("@timestamp").asString("")).isNotEmpty();
        }
        String all = String.join("\n", log.lines());
        for (Role role : Role.values()) {
            assertThat(all).doesNotContain(vineyard.email(role), vineyard.token(role));
        }
        assertThat(all)
                .doesNotContain(TestVineyards.PASSWORD, "Secret", "secret-", PLACE, "wrong grape")
                .doesNotContain("Lew Lead", "Ada Owner", "Hana Helper", "Rudi Reader");
        for (String text : more) {
            assertThat(all).doesNotContain(text);
        }
    }

    @Test
    void neitherSigningInNorJoiningNorAFaultWritesWhoItWas() throws Exception {
        String email = vineyard.email(Role.LEAD);
        for (String password : new String[] {"wrong grape xyz", TestVineyards.PASSWORD}) {
            strangers(post("/sign-in").param("email", email).param("password", password));
        }
        TestBrowser owner = vineyard.as(Role.OWNER);
        owner.send("/people/invitations", "role", "HELPER", "days", "7", "note", "for Wilhelmina Secret");
        owner.send("/tokens", "name", "my phone Secret", "role", "READER");
        owner.send("/settings", "name", "Secret Hill", "zone", "Europe/London", "version", "0");
        // The database itself refuses a row that carries a name.
        vineyard.run(() -> {
            try {
                jdbc.sql("insert into own_variety (id, name, colour) values (:id, :name, 'PURPLE')")
                        .param("id", UUID.randomUUID())
                        .param("name", "Wilhelmina Secret")
                        .update();
            } catch (org.springframework.dao.DataIntegrityViolationException refused) {
                LoggerFactory.getLogger("org.rootling.test").warn("the database refused", refused);
            }
        });
        assertThat(String.join("", log.lines())).contains("the database refused", "signed in: account");
        namesNobody();
    }

    @Test
    void invitationsForgottenPasswordsAndLinksThatOpenNothingWriteNoLinkAndNoAddress() throws Exception {
        TestBrowser owner = vineyard.as(Role.OWNER);
        TestBrowser.Answer made = owner.send("/people/invitations", "role", "HELPER", "days", "7", "note", "x");
        String link = String.valueOf(made.raw().getFlashMap().get("link"));
        String secret = link.replaceAll(".*/join/", "");
        strangers(get("/join/" + secret));
        for (String password : new String[] {"short", "a long enough Secret"}) {
            strangers(post("/join/" + secret)
                    .param("name", "Wilhelmina Secret")
                    .param("email", "wilhelmina@secret-" + vineyard.slug() + ".example")
                    .param("password", password));
        }
        strangers(post("/join/" + secret)
                .param("name", "Wilhelmina Secret")
                .param("email", "no address")
                .param("password", "a long enough Secret"));
        strangers(post("/forgotten").param("email", vineyard.email(Role.LEAD)));
        strangers(post("/forgotten").param("email", "wilhelmina@secret-nowhere.example"));
        strangers(get("/way-in/secret-that-opens-nothing"));
        strangers(post("/way-in/secret-that-opens-nothing").param("password", "a long enough Secret"));
        strangers(get("/day/secret-that-opens-nothing"));
        strangers(get("/calendar/secret-that-opens-nothing.ics"));
        strangers(get("/join/secret-that-opens-nothing/and/more"));
        namesNobody(secret);
    }

    @Test
    void tablesWithNamesAndRefusedFormsWriteNoneOfWhatWasTyped() {
        TestBrowser owner = vineyard.as(Role.OWNER);
        String csv = "Name,Role,Hours a day\nWilhelmina Secret,helper,\nOtto Secret,king,\nPaul Secret,,999\n";
        owner.follow(owner.upload(
                "/imports", "file", "Secret people.csv", csv.getBytes(StandardCharsets.UTF_8), "kind", "people"));
        owner.upload("/imports", "file", "Secret.xlsx", new byte[] {'P', 'K', 3, 4, 1}, "kind", "people");
        owner.upload("/archive/restore", "file", "Secret.zip", "Secret".getBytes(StandardCharsets.UTF_8));
        owner.upload(
                "/weather/import",
                "file",
                "Secret.csv",
                "Secret,of\nWilhelmina,Secret\n".getBytes(StandardCharsets.UTF_8));
        owner.send("/settings", "name", "Secret", "zone", "Secret/Place", "version", "Secret");
        owner.send("/settings", "name", "Secret", "zone", "Europe/London", "latitude", "Secret", "version", "0");
        owner.send("/people/Secret/role", "role", "Secret");
        owner.send("/nurseries", "name", "Secret \u0000 name", "country", "Secret");
        owner.open("/lots/Secret");
        owner.open("/find?q=Wilhelmina%20Secret%0d%0aforged:%20line");
        owner.open("/blocks/Secret/stake-out?tapeM=Secret");
        owner.open("/Secret");
        namesNobody("forged");
    }

    @Test
    void theApiWritesNeitherTokensNorBodies() throws Exception {
        for (String token : new String[] {"rtl_secret-token", vineyard.token(Role.LEAD)}) {
            for (String body : new String[] {"{\"name\":\"Wilhelmina Secret\"", "{\"entries\":\"Secret\"}", "Secret"}) {
                for (String path : new String[] {"field-logs", "schedule-previews", "layout-previews", "Secret"}) {
                    mvc.perform(post("/api/v1/" + path)
                            .header("Authorization", "Bearer " + token)
                            .contentType(MediaType.APPLICATION_JSON)
                            .with(NothingPersonalInTheLogTest::fromThere)
                            .content(body));
                }
            }
            mvc.perform(get(URI.create("/api/v1/lots/Secret?of=Wilhelmina%20Secret"))
                    .header("Authorization", "Bearer " + token)
                    .with(NothingPersonalInTheLogTest::fromThere));
        }
        namesNobody();
    }

    /** A line break typed into a form must not become a line of the log (CWE-117). */
    @Test
    void nobodyCanForgeALine() throws Exception {
        strangers(post("/sign-in")
                .param("email", "a\r\n{\"message\":\"forged\"}@x.example")
                .param("password", "x\nforged"));
        vineyard.as(Role.OWNER).send("/settings", "name", "N\nforged", "zone", "Europe/London\nforged", "version", "0");
        namesNobody("forged");
        for (String line : log.lines()) {
            assertThat(line.strip()).doesNotContain("\n");
        }
    }
}
