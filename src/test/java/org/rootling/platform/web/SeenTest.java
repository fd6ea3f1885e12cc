package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Jobs;
import org.rootling.support.AppTest;
import org.rootling.support.TestLog;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.http.HttpHeaders;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.stereotype.Controller;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What whoever runs the server sees of it: lines of JSON with the number that a page of a fault shows, and figures. */
@AppTest
class SeenTest {

    private static final String TOKEN = "a token for the measurements";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping routes;

    @Autowired
    Jobs jobs;

    private final JsonMapper json = JsonMapper.builder().build();

    /** A page with a bug: one that the controllers' advice sees, and one in the page itself. */
    @Controller
    static class Faulty {
        @Needs(Role.READER)
        public String broken() {
            throw new IllegalStateException("Wilhelmina Secret lives here");
        }

        @Needs(Role.READER)
        public String unwritable() {
            return "people/no-such-template";
        }
    }

    @Test
    void theNumberOnThePageOfAFaultIsInEveryLineOfTheLogAboutIt() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Faulty faulty = new Faulty();
        for (String which : List.of("broken", "unwritable")) {
            RequestMappingInfo route = RequestMappingInfo.paths("/v/{vineyard}/" + which)
                    .options(routes.getBuilderConfiguration())
                    .build();
            routes.registerMapping(route, faulty, Faulty.class.getMethod(which));
            try (TestLog log = TestLog.open()) {
                MockHttpServletResponse answer = mvc.perform(
                                get("/v/" + vineyard.slug() + "/" + which).with(TestRequests.as(vineyard, Role.READER)))
                        .andReturn()
                        .getResponse();
                assertThat(answer.getStatus()).as(which).isEqualTo(500);
                String number = answer.getHeader("X-Request-Number");
                assertThat(number).matches("[0-9a-f]{8}");
                List<JsonNode> about = log.parsed().stream()
                        .filter(line -> line.at("/log/level").asString("").equals("ERROR"))
                        .toList();
                assertThat(about).as(which).hasSize(1);
                assertThat(about.get(0).path("request").asString()).isEqualTo(number);
                assertThat(about.get(0).path("message").asString()).contains(number);
                assertThat(about.get(0).at("/error/stack_trace").asString())
                        .contains("Exception")
                        .doesNotContain("Wilhelmina");
                if (which.equals("broken")) {
                    assertThat(about.get(0).at("/error/stack_trace").asString())
                            .contains("IllegalStateException", "SeenTest$Faulty.broken");
                    assertThat(Jsoup.parse(answer.getContentAsString())
                                    .select("main")
                                    .text())
                            .contains(number)
                            .doesNotContain("Wilhelmina", "Exception");
                }
            } finally {
                routes.unregisterMapping(route);
            }
        }
    }

    @Test
    void workInTheBackgroundIsLoggedUnderTheNumberOfTheRequestThatBeganIt() {
        TestVineyard vineyard = vineyards.fresh();
        try (TestLog log = TestLog.open()) {
            org.slf4j.MDC.put(RequestNumber.KEY, "0123abcd");
            UUID id;
            try {
                id = vineyard.inside(() -> jobs.start("Broken work", "/", progress -> {
                    throw new IOException("Wilhelmina Secret has no room");
                }));
            } finally {
                org.slf4j.MDC.remove(RequestNumber.KEY);
            }
            assertThat(vineyard.inside(() -> jobs.soon(id, java.time.Duration.ofSeconds(20)))
                            .state())
                    .isEqualTo("FAILED");
            List<JsonNode> lines = log.parsed().stream()
                    .filter(line -> line.path("message").asString("").contains("background"))
                    .toList();
            assertThat(lines).hasSize(1);
            assertThat(lines.get(0).path("request").asString()).isEqualTo("0123abcd");
            assertThat(lines.get(0).toString()).contains("IOException").doesNotContain("Wilhelmina");
        }
    }

    @Test
    void measurementsAnswerTheBearerOfTheTokenAloneAndNameNobody() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        vineyard.as(Role.OWNER).open("/people");
        UUID job = vineyard.inside(() -> jobs.start("Work", "/", progress -> Jobs.Ended.answer("/", "done")));
        vineyard.inside(() -> jobs.soon(job, java.time.Duration.ofSeconds(20)));
        System.setProperty("rootling.metrics-token", TOKEN);
        try {
            for (String wrong :
                    new String[] {"", "Bearer ", "Bearer " + TOKEN + "x", "Bearer " + vineyard.token(Role.OWNER)}) {
                assertThat(ask("/actuator/metrics", wrong).getStatus())
                        .as(wrong)
                        .isIn(302, 401, 403);
            }
            assertThat(mvc.perform(get("/actuator/metrics").with(TestRequests.as(vineyard, Role.OWNER)))
                            .andReturn()
                            .getResponse()
                            .getStatus())
                    .isEqualTo(403);
            List<String> names = new ArrayList<>();
            read("/actuator/metrics").path("names").forEach(name -> names.add(name.asString()));
            assertThat(names)
                    .contains(
                            "http.server.requests",
                            "hikaricp.connections.active",
                            "hikaricp.connections.pending",
                            "jvm.memory.used",
                            "rootling.jobs.running",
                            "rootling.jobs.waiting",
                            "rootling.jobs.ended");
            assertThat(value("/actuator/metrics/rootling.jobs.ended?tag=state:DONE"))
                    .isPositive();
            assertThat(value("/actuator/metrics/hikaricp.connections")).isPositive();
            StringBuilder all = new StringBuilder();
            for (String name : names) {
                all.append(ask("/actuator/metrics/" + name, "Bearer " + TOKEN).getContentAsString());
            }
            assertThat(all.toString())
                    .contains("/v/{vineyard}/people")
                    .doesNotContain(
                            vineyard.slug(), "@", "Ada Owner", vineyard.id().toString())
                    .doesNotContain(vineyard.account(Role.OWNER).toString());
        } finally {
            System.clearProperty("rootling.metrics-token");
        }
        assertThat(ask("/actuator/metrics", "Bearer " + TOKEN).getStatus()).isIn(302, 401, 403);
    }

    private double value(String path) throws Exception {
        return read(path).at("/measurements/0/value").asDouble();
    }

    private JsonNode read(String path) throws Exception {
        MockHttpServletResponse answer = ask(path, "Bearer " + TOKEN);
        assertThat(answer.getStatus()).as(path).isEqualTo(200);
        return json.readTree(answer.getContentAsString());
    }

    private MockHttpServletResponse ask(String path, String authorization) throws Exception {
        return mvc.perform(get(path).header(HttpHeaders.AUTHORIZATION, authorization))
                .andReturn()
                .getResponse();
    }
}
