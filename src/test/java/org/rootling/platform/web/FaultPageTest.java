package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.List;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.rootling.Rootling;
import org.rootling.support.TestDatabaseInitializer;
import org.rootling.support.TestLog;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.stereotype.Controller;
import org.springframework.test.context.ContextConfiguration;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import tools.jackson.databind.JsonNode;

/** A page cannot be written, on the server as it runs: what the visitor reads has the number of the one line about it. */
@SpringBootTest(
        classes = Rootling.class,
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        properties = "rootling.setup-code=test-code")
@ContextConfiguration(initializers = TestDatabaseInitializer.class)
@Import(TestVineyards.class)
class FaultPageTest {

    private static final String PATH = "/css/unwritable";

    @LocalServerPort
    int port;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping routes;

    @Controller
    static class Faulty {
        public String unwritable() {
            return "people/no-such-template";
        }
    }

    @Test
    void aFaultThatNoControllerSawHasItsNumberOnThePageAndInTheLog() throws Exception {
        RequestMappingInfo route = RequestMappingInfo.paths(PATH)
                .options(routes.getBuilderConfiguration())
                .build();
        routes.registerMapping(route, new Faulty(), Faulty.class.getMethod("unwritable"));
        try (TestLog log = TestLog.open()) {
            HttpResponse<String> answer = HttpClient.newHttpClient()
                    .send(
                            HttpRequest.newBuilder(URI.create("http://localhost:" + port + PATH))
                                    .header("Accept", "text/html")
                                    .build(),
                            HttpResponse.BodyHandlers.ofString());
            assertThat(answer.statusCode()).isEqualTo(500);
            String number = answer.headers().firstValue("X-Request-Number").orElseThrow();
            assertThat(Jsoup.parse(answer.body()).select("main").text())
                    .contains(number)
                    .doesNotContain("Exception", "template");
            List<JsonNode> about = log.parsed().stream()
                    .filter(line -> line.at("/log/level").asString("").equals("ERROR"))
                    .toList();
            assertThat(about).hasSize(1);
            assertThat(about.get(0).path("request").asString()).isEqualTo(number);
            assertThat(about.get(0).toString())
                    .contains("TemplateInputException")
                    .doesNotContain("no-such-template");
        } finally {
            routes.unregisterMapping(route);
        }
    }
}
