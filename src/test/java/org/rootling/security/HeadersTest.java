package org.rootling.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;

/** What goes along with every answer, and where redirects may lead. */
@AppTest
class HeadersTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Test
    void pagesCarryAStrictPolicyAndAreNotKeptByOthers() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        MockHttpServletResponse page = mvc.perform(
                        get("/v/" + vineyard.slug() + "/").with(TestRequests.as(vineyard, Role.OWNER)))
                .andReturn()
                .getResponse();
        assertThat(page.getHeader("Content-Security-Policy"))
                .contains("default-src 'none'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'")
                .doesNotContain("unsafe", "*", "http:");
        assertThat(page.getHeader("X-Content-Type-Options")).isEqualTo("nosniff");
        assertThat(page.getHeader("X-Frame-Options")).isEqualTo("DENY");
        assertThat(page.getHeader("Referrer-Policy")).isEqualTo("same-origin");
        assertThat(page.getHeader("Cache-Control")).contains("no-store");
        assertThat(page.getHeader("Cross-Origin-Opener-Policy")).isEqualTo("same-origin");
        assertThat(page.getHeader("Cross-Origin-Resource-Policy")).isEqualTo("same-origin");
        assertThat(page.getHeader("X-Request-Number")).matches("[0-9a-f]{8}");
        assertThat(page.getHeader("Server")).isNull();
    }

    /** Not only pages: what is not found, refused, static, a problem of the API or a file may neither be framed nor guessed at. */
    @Test
    void everyKindOfAnswerForbidsFramesAndGuessing() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String inside = "/v/" + vineyard.slug();
        for (String path : List.of(
                "/sign-in",
                "/forgotten",
                "/css/rootling.css",
                "/manifest.webmanifest",
                "/service-worker.js",
                "/nothing-here",
                inside + "/nothing-here",
                inside + "/lots",
                inside + "/passports/trace.csv",
                "/join/unknown",
                "/way-in/unknown",
                "/calendar/unknown.ics",
                "/api/v1/lots",
                "/actuator/health",
                "/v3/api-docs")) {
            MockHttpServletResponse answer = mvc.perform(get(path).with(TestRequests.as(vineyard, Role.OWNER)))
                    .andReturn()
                    .getResponse();
            assertThat(answer.getHeader("X-Content-Type-Options")).as(path).isEqualTo("nosniff");
            assertThat(answer.getHeader("X-Frame-Options")).as(path).isEqualTo("DENY");
            if (!path.startsWith("/api/")) {
                assertThat(answer.getHeader("Content-Security-Policy"))
                        .as(path)
                        .contains("default-src 'none'", "frame-ancestors 'none'");
            }
            if (path.startsWith("/v/") || path.startsWith("/api/") || path.startsWith("/way-in/")) {
                assertThat(answer.getHeader("Cache-Control")).as(path).contains("no-store");
            }
        }
    }

    @Test
    void behindTlsTheBrowserIsToldToStayThere() throws Exception {
        MockHttpServletResponse plain = mvc.perform(get("/sign-in")).andReturn().getResponse();
        assertThat(plain.getHeader("Strict-Transport-Security")).isNull();
        MockHttpServletResponse secure =
                mvc.perform(get("/sign-in").secure(true)).andReturn().getResponse();
        assertThat(secure.getHeader("Strict-Transport-Security")).contains("max-age=31536000", "includeSubDomains");
    }

    /** After signing in, and wherever a parameter could name an aim, the way leads to this site only. */
    @Test
    void noRedirectLeadsElsewhere() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        for (String aim :
                List.of("https://evil.example/", "//evil.example/", "/\\evil.example", "javascript:alert(1)")) {
            for (String name : List.of("redirect", "url", "next", "continue", "return", "from", "target")) {
                String location = mvc.perform(post("/sign-in")
                                .with(csrf())
                                .header("Referer", aim.startsWith("http") ? aim : "https://evil.example" + aim)
                                .param("email", vineyard.email(Role.OWNER))
                                .param("password", TestVineyards.PASSWORD)
                                .param(name, aim))
                        .andReturn()
                        .getResponse()
                        .getRedirectedUrl();
                assertThat(location).as(name + "=" + aim).isEqualTo("/");
            }
        }
        for (String path : List.of("//evil.example/", "/%2f%2fevil.example", "/%5cevil.example", "/v//evil.example/")) {
            MockHttpServletResponse answer = mvc.perform(get(URI.create("http://localhost" + path)))
                    .andReturn()
                    .getResponse();
            String location = answer.getRedirectedUrl();
            assertThat(location == null || location.endsWith("/sign-in"))
                    .as(path + " to " + location)
                    .isTrue();
        }
    }

    /** Every XML reader of the program is made in a class that forbids document types. */
    @Test
    void noXmlReaderTakesEntities() throws Exception {
        try (Stream<Path> sources = Files.walk(Path.of("src/main/java"))) {
            for (Path source :
                    sources.filter(p -> p.toString().endsWith(".java")).toList()) {
                String text = Files.readString(source);
                if (text.contains("DocumentBuilderFactory.newInstance")
                        || text.contains("SAXParserFactory.newInstance")
                        || text.contains("XMLInputFactory.new")
                        || text.contains("newDefaultInstance")) {
                    assertThat(text).as(source.toString()).containsAnyOf("disallow-doctype-decl", "SUPPORT_DTD");
                }
            }
        }
    }

    @Test
    void measurementsAreForNobodyUnlessATokenWasSet() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        for (String path : List.of("/actuator", "/actuator/metrics", "/actuator/env", "/actuator/heapdump")) {
            int owner = mvc.perform(get(path).with(TestRequests.as(vineyard, Role.OWNER)))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            assertThat(owner).as(path).isIn(403, 404);
        }
        assertThat(mvc.perform(get("/actuator/health"))
                        .andReturn()
                        .getResponse()
                        .getContentAsString())
                .isEqualTo("{\"groups\":[\"liveness\",\"readiness\"],\"status\":\"UP\"}");
    }
}
