package org.rootling.demo;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Cookie;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.rootling.support.BrowserTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.ContextConfiguration;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The demo with its own home, its own database and its four people. It starts once: all classes that look at it share it, and
 * leave what is there, though they may add to it.
 */
@ActiveProfiles("demo")
@ContextConfiguration(inheritInitializers = false)
@Import(Faults.class)
abstract class DemoBrowserTest extends BrowserTest {

    static final String HOME = "/v/quillow-bank/";

    private static final Map<String, List<Cookie>> SESSIONS = new HashMap<>();

    private static Path home;

    private static EveryPage everyPage;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping mapping;

    @DynamicPropertySource
    static void ownHome(DynamicPropertyRegistry registry) throws IOException {
        home = Files.createTempDirectory("rootling-demo");
        registry.add("rootling.home", () -> home.toString());
        // A server that can mail a new password, so that its pages are there; no mail is read here, nor gets anywhere.
        registry.add("spring.mail.host", () -> "127.0.0.1");
        registry.add("spring.mail.port", () -> "9");
        registry.add("rootling.url", () -> "http://localhost");
    }

    static Path home() {
        return home;
    }

    /** Walked once for all tests, as the owner. */
    EveryPage everyPage(BrowserContext owners) {
        if (everyPage == null) {
            everyPage = new EveryPage(mapping, owners, HOME);
        }
        return everyPage;
    }

    /** The page of this route that a link leads to. */
    String path(BrowserContext owners, String route) {
        return everyPage(owners).pages().stream()
                .filter(found -> found.route().equals("/v/{vineyard}" + route))
                .map(EveryPage.Found::path)
                .findFirst()
                .orElseThrow(() -> new AssertionError("no link leads to " + route));
    }

    /** Signs in the first time, and goes on with that session in every further browser. */
    Page signIn(BrowserContext context, String role) throws IOException {
        context.addCookies(session(role));
        Page page = context.newPage();
        page.navigate(HOME);
        return page;
    }

    /** The cookies of somebody who has signed in. */
    List<Cookie> session(String role) throws IOException {
        List<Cookie> known = SESSIONS.get(role);
        if (known == null) {
            try (BrowserContext context = context(1280)) {
                Page page = context.newPage();
                page.navigate("/sign-in");
                page.fill("#email", signIns(role).get("email").stringValue());
                page.fill("#password", signIns(role).get("password").stringValue());
                page.click("main button");
                page.waitForURL("**" + HOME);
                known = context.cookies();
                SESSIONS.put(role, known);
            }
        }
        return known;
    }

    static JsonNode signIns(String role) throws IOException {
        JsonNode people = JsonMapper.builder().build().readTree(Files.readString(home.resolve("demo-sign-ins.json")));
        for (JsonNode person : people) {
            if (person.get("role").stringValue().equals(role)) {
                return person;
            }
        }
        throw new AssertionError("no " + role);
    }
}
