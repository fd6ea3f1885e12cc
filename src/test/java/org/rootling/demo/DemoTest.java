package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Cookie;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.rootling.support.BrowserTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.mock.env.MockEnvironment;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.ContextConfiguration;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The demo as a newcomer meets it: its own home, its own database, its four people. */
@ActiveProfiles("demo")
@ContextConfiguration(inheritInitializers = false)
@DirtiesContext
class DemoTest extends BrowserTest {

    private static final String HOME = "/v/quillow-bank/";

    private static Path home;

    private final Map<String, List<Cookie>> sessions = new HashMap<>();

    private EveryPage everyPage;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping mapping;

    @DynamicPropertySource
    static void ownHome(DynamicPropertyRegistry registry) throws IOException {
        home = Files.createTempDirectory("rootling-demo");
        registry.add("rootling.home", () -> home.toString());
    }

    @Test
    void theSignInsAreForTheirOwnerOnlyAndTheirTokensWork() throws Exception {
        Path file = home.resolve("demo-sign-ins.json");
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                .isEqualTo("rw-------");
        JsonNode people = JsonMapper.builder().build().readTree(Files.readString(file));
        assertThat(people.size()).isEqualTo(4);
        HttpClient client = HttpClient.newHttpClient();
        for (JsonNode person : people) {
            HttpResponse<String> answer = client.send(
                    HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/api/v1/lots"))
                            .header(
                                    "Authorization",
                                    "Bearer " + person.get("apiToken").stringValue())
                            .build(),
                    HttpResponse.BodyHandlers.ofString());
            assertThat(answer.statusCode()).isEqualTo(200);
            // Another test may have taken a delivery in.
            assertThat(JsonMapper.builder().build().readTree(answer.body()).size())
                    .isGreaterThanOrEqualTo(7);
        }
    }

    @Test
    void aNewcomerSeesAVineyardInItsPlantingSpring() throws IOException {
        try (BrowserContext desk = context(1280);
                BrowserContext phone = context(390)) {
            Page owner = signIn(desk, "owner");
            assertThat(text(owner, "header")).contains("2027").contains("demo date");
            assertThat(text(owner, "main")).contains("Bed by the barn");
            picture(owner, "today-desk");
            for (String path :
                    new String[] {"lots", "blocks/GP", "work", "year-one", "progress", "review", "weather"}) {
                owner.navigate("/v/quillow-bank/" + path);
                assertThat(text(owner, "main")).as(path).isNotBlank();
                assertThat(owner.title()).as(path).doesNotContain("went wrong").doesNotContain("Nothing here");
                picture(owner, path.replace('/', '-') + "-desk");
            }
            Page helper = signIn(phone, "helper");
            helper.navigate("/v/quillow-bank/my-day");
            picture(helper, "my-day-phone");
            for (String path : new String[] {"", "lots", "progress"}) {
                helper.navigate("/v/quillow-bank/" + path);
                assertThat(loaded(helper).evaluate("document.documentElement.scrollWidth <= 390"))
                        .as(path)
                        .isEqualTo(true);
                picture(helper, (path.isEmpty() ? "today" : path) + "-phone");
            }
        }
    }

    /** WCAG 2.2 A and AA by the axe rules, on a page of every route that a link leads to. */
    @Test
    void everyPageMeetsTheAccessibilityRulesInEveryLook() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            assertThat(everyPage(desk).broken())
                    .as("links that lead to an error")
                    .isEmpty();
            AccessRules rules = new AccessRules();
            List<String> wrong = new ArrayList<>();
            for (EveryPage.Found found : everyPage(desk).pages()) {
                wrong.addAll(rules.check(owner, found.path()));
            }
            assertThat(wrong).isEmpty();
        }
    }

    @Test
    void everyPageThatIsNotOfOneRecordIsAtMostTwoLinksFromHome() throws IOException {
        try (BrowserContext desk = context(1280)) {
            signIn(desk, "owner");
            assertThat(everyPage(desk).pages().stream()
                            .filter(found -> found.steps() > 2)
                            .filter(found ->
                                    !found.route().replace("{vineyard}", "").contains("{"))
                            .map(EveryPage.Found::path)
                            // What is asked for beside the path is one record's too.
                            .filter(path -> !path.contains("?")))
                    .isEmpty();
        }
    }

    @Test
    void nothingIsLostWithTextOfTwiceTheSizeAndNothingMovesForWhoAskedForLessMotion() throws IOException {
        AccessRules rules = new AccessRules();
        List<String> wrong = new ArrayList<>();
        for (int width : new int[] {390, 1280}) {
            try (BrowserContext context = context(width)) {
                Page owner = signIn(context, "owner");
                for (String path :
                        new String[] {"", "lots", "blocks/GP", "work/schedule", "my-day", "deliveries/new"}) {
                    wrong.addAll(rules.withTextOfTwiceTheSize(owner, HOME + path));
                    wrong.addAll(rules.moving(owner, HOME + path, true));
                }
                assertThat(rules.moving(owner, HOME, false))
                        .as("the look for motion finds it")
                        .isNotEmpty();
            }
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void aHelperLogsARunOfPlacesWithTheKeyboardAlone() throws IOException {
        try (BrowserContext phone = context(390)) {
            Page page = phone.newPage();
            Keyboard keys = new Keyboard(page);
            page.navigate("/sign-in");
            keys.tabTo("#email");
            keys.type(signIns("helper").get("email").stringValue());
            keys.tabTo("#password");
            keys.type(signIns("helper").get("password").stringValue());
            keys.press("Enter");
            page.waitForURL("**" + HOME);
            keys.tabTo(".skip");
            keys.press("Enter");
            assertThat(page.evaluate("document.activeElement.id")).isEqualTo("main");
            page.navigate(HOME);
            keys.tabTo(".menu a[href$='/my-day']");
            keys.press("Enter");
            page.waitForURL("**/my-day");
            keys.tabTo("a.task-card");
            keys.press("Enter");
            page.waitForURL("**/my-day/*-*");
            String all = page.getAttribute("#log", "data-all");
            String first = all.replaceFirst("\\D.*", "");
            keys.tabTo("#places");
            keys.type(first);
            keys.tabTo("#minutes");
            keys.type("5");
            keys.tabTo("#log details summary");
            keys.press("Space");
            assertThat(page.isVisible("#note")).isTrue();
            keys.tabTo("#log button.wide");
            keys.press("Enter");
            page.waitForSelector(".notice, .alert.good[role=status]");
            assertThat(loaded(page)
                            .locator(".strip li.done[data-place='" + first + "']")
                            .count())
                    .isOne();
        }
    }

    @Test
    void everyDrawingHasItsTableOrItsListBesideIt() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            for (String path : new String[] {"blocks/GP", "progress", "review", "weather", "trellis/blocks/GP"}) {
                owner.navigate(HOME + path);
                if (owner.locator("main svg.plan, main svg.plot").count() > 0) {
                    assertThat(loaded(owner)
                                    .locator("main table, main dl.facts")
                                    .count())
                            .as(path + " has a drawing and nothing to read instead")
                            .isPositive();
                }
                assertThat(loaded(owner)
                                .locator("main svg.plan:not([role]), main svg.plot:not([role])")
                                .count())
                        .as(path + " has a drawing without a role")
                        .isZero();
            }
        }
    }

    @Test
    void withoutScriptsADeliveryIsTakenInAndARunIsLogged() throws IOException {
        try (BrowserContext desk = context(1280, false);
                BrowserContext phone = context(390, false)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "deliveries/new");
            owner.selectOption("#supplierId", new com.microsoft.playwright.options.SelectOption().setIndex(1));
            owner.fill("[id='lines[0].variety']", "Riesling");
            owner.fill("[id='lines[0].rootstock']", "SO4");
            owner.fill("[id='lines[0].bundles']", "2");
            owner.fill("[id='lines[0].loose']", "3");
            owner.click("main form button:has-text('Take the delivery in')");
            assertThat(text(owner, "main")).contains("Riesling").contains("53");

            Page helper = signIn(phone, "helper");
            helper.navigate(HOME + "my-day");
            helper.click("a.task-card >> nth=1");
            String last = helper.getAttribute("#log", "data-all").replaceFirst(".*\\D", "");
            helper.fill("#places", last);
            helper.fill("#minutes", "4");
            helper.click("#log button.wide");
            assertThat(loaded(helper)
                            .locator(".strip li.done[data-place='" + last + "']")
                            .count())
                    .isOne();
        }
    }

    @Test
    void aLongListIsNarrowedSortedAndTakenAlong() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "vine-lists");
            String rows = "section:has(h2:has-text('Varieties')) tbody tr:visible";
            String every = "section:has(h2:has-text('Varieties')) tbody tr";
            int all = owner.locator(every).count();
            assertThat(owner.locator(rows).count()).isEqualTo(Math.min(all, 50));
            assertThat(all).isGreaterThan(40);
            owner.fill("section:has(h2:has-text('Varieties')) input[type=search]", "riesling");
            assertThat(loaded(owner).locator(rows).count()).isBetween(1, all - 1);
            assertThat(loaded(owner).locator(rows).first().innerText().toLowerCase(java.util.Locale.ROOT))
                    .contains("riesling");
            owner.fill("section:has(h2:has-text('Varieties')) input[type=search]", "");
            String sort = "section:has(h2:has-text('Varieties')) th:has-text('Name') button.sort";
            owner.click(sort);
            String first = owner.locator(every).first().textContent();
            owner.click(sort);
            assertThat(owner.locator(every).last().textContent()).isEqualTo(first);
            assertThat(loaded(owner).locator("th[aria-sort=descending]").count())
                    .isOne();
            com.microsoft.playwright.Download file = owner.waitForDownload(
                    () -> owner.click("section:has(h2:has-text('Varieties')) button:has-text('CSV')"));
            List<String> lines = Files.readAllLines(file.path());
            assertThat(lines).hasSize(all + 1);
            assertThat(lines.get(0)).endsWith("Source").contains("Name,Colour");
        }
    }

    @Test
    void mainPagesPrintOnA4AndOnLetter() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            for (String path : new String[] {
                "",
                "lots",
                "orders",
                "blocks/GP",
                "blocks/GP/stake-out",
                "work",
                "work/schedule",
                "year-one/GP",
                "progress",
                "review",
                "weather",
                "trellis/order"
            }) {
                owner.navigate(HOME + path);
                for (String paper : new String[] {"A4", "Letter"}) {
                    byte[] printed = owner.pdf(new Page.PdfOptions().setFormat(paper));
                    String name = "print-" + paper + "-" + path.replace('/', '-');
                    try (PDDocument document = Loader.loadPDF(printed)) {
                        assertThat(document.getNumberOfPages()).as(name).isBetween(1, 12);
                        String text = new PDFTextStripper().getText(document);
                        assertThat(text).as(name).contains("Quillow Bank").doesNotContain("Sign out");
                        assertThat(PaperEdge.beyond(document)).as(name).isEmpty();
                        if (paper.equals("A4")) {
                            Path file = Path.of("target", "screenshots", name + ".png");
                            Files.createDirectories(file.getParent());
                            ImageIO.write(new PDFRenderer(document).renderImageWithDPI(0, 60), "png", file.toFile());
                        }
                    }
                }
            }
        }
    }

    @Test
    void aLongTableRepeatsItsHeadingOnEverySheet() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "vine-lists");
            String heading = owner.locator("main thead th")
                    .first()
                    .textContent()
                    .replace("⇅", "")
                    .strip();
            for (String paper : new String[] {"A4", "Letter"}) {
                try (PDDocument document = Loader.loadPDF(owner.pdf(new Page.PdfOptions().setFormat(paper)))) {
                    assertThat(document.getNumberOfPages()).as(paper).isGreaterThan(1);
                    for (int sheet = 1; sheet < document.getNumberOfPages(); sheet++) {
                        PDFTextStripper text = new PDFTextStripper();
                        text.setStartPage(sheet);
                        text.setEndPage(sheet);
                        assertThat(text.getText(document))
                                .as(paper + " " + sheet)
                                .contains(heading);
                    }
                }
            }
        }
    }

    @Test
    void aReaderOfGermanOrFrenchMeetsNoEnglishKeysAndNoSidewaysScrolling() throws IOException {
        try (BrowserContext desk = context(1280);
                BrowserContext phone = context(390)) {
            Page reader = signIn(desk, "owner");
            Page small = signIn(phone, "owner");
            List<EveryPage.Found> pages = everyPage(desk).pages();
            for (String language : new String[] {"fr", "de"}) {
                speak(reader, language);
                for (EveryPage.Found found : pages) {
                    Document page = EveryPage.read(desk, found.path());
                    assertThat(page.selectFirst("html").attr("lang"))
                            .as(found.path())
                            .isEqualTo(language);
                    assertThat(page.text()).as(found.path()).doesNotContain("??");
                }
                for (String path :
                        new String[] {"", "lots", "blocks/GP", "blocks/GP/stake-out", "work", "year-one/GP", "review"
                        }) {
                    small.navigate(HOME + path);
                    picture(small, language + "-" + path.replace('/', '-') + "-phone");
                    assertThat(loaded(small).evaluate("document.documentElement.scrollWidth <= 390"))
                            .as(language + " " + path)
                            .isEqualTo(true);
                }
            }
            speak(reader, "auto");
        }
    }

    private static void speak(Page page, String language) {
        page.navigate("/account");
        page.selectOption("#locale", language);
        page.click("main form.sheet button >> nth=0");
        page.waitForURL("**/account?saved");
    }

    /** Six pages on a phone and at a desk; with -Drootling.docs=true they replace those in src/docs. */
    @Test
    void sixPagesArePicturedOnAPhoneAndAtADesk() throws IOException {
        Path folder = Boolean.getBoolean("rootling.docs") ? Path.of("src", "docs") : Path.of("target", "screenshots");
        Map<String, String> pages = Map.of(
                "today", "",
                "waiting", "lots",
                "plan", "blocks/GP",
                "my-day", "my-day",
                "year-one", "year-one",
                "review", "review");
        for (int width : new int[] {390, 1280}) {
            try (BrowserContext context = context(width)) {
                Page page = signIn(context, "owner");
                for (Map.Entry<String, String> shown : pages.entrySet()) {
                    page.navigate(HOME + shown.getValue());
                    Path file = folder.resolve(shown.getKey() + (width == 390 ? "-phone.png" : "-desk.png"));
                    page.screenshot(new Page.ScreenshotOptions().setPath(file));
                    assertThat(Files.size(file)).as(shown.getKey()).isGreaterThan(10_000);
                }
            }
        }
    }

    @Test
    void itRefusesToBindAnythingButLoopback() {
        for (String address : new String[] {"0.0.0.0", "192.168.1.20", "::"}) {
            assertThatThrownBy(() -> new LoopbackOnly(new MockEnvironment().withProperty("server.address", address)))
                    .as(address)
                    .hasMessageContaining("this machine only");
        }
        assertThatThrownBy(() -> new LoopbackOnly(new MockEnvironment())).hasMessageContaining("this machine only");
        new LoopbackOnly(new MockEnvironment().withProperty("server.address", "127.0.0.1"));
    }

    /** Walked once for all tests of the class, as the owner. */
    private EveryPage everyPage(BrowserContext owners) {
        if (everyPage == null) {
            everyPage = new EveryPage(mapping, owners, HOME);
        }
        return everyPage;
    }

    /** Signs in the first time, and goes on with that session in every further browser. */
    private Page signIn(BrowserContext context, String role) throws IOException {
        Page page = context.newPage();
        List<Cookie> known = sessions.get(role);
        if (known != null) {
            context.addCookies(known);
            page.navigate(HOME);
            return page;
        }
        page.navigate("/sign-in");
        page.fill("#email", signIns(role).get("email").stringValue());
        page.fill("#password", signIns(role).get("password").stringValue());
        page.click("main button");
        page.waitForURL("**" + HOME);
        sessions.put(role, context.cookies());
        return page;
    }

    private static JsonNode signIns(String role) throws IOException {
        JsonNode people = JsonMapper.builder().build().readTree(Files.readString(home.resolve("demo-sign-ins.json")));
        for (JsonNode person : people) {
            if (person.get("role").stringValue().equals(role)) {
                return person;
            }
        }
        throw new AssertionError("no " + role);
    }
}
