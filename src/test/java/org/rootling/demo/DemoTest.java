package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.springframework.mock.env.MockEnvironment;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The demo as a newcomer meets it. */
class DemoTest extends DemoBrowserTest {

    @Test
    void theSignInsAreForTheirOwnerOnlyAndTheirTokensWork() throws Exception {
        Path file = home().resolve("demo-sign-ins.json");
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

    @Test
    void aNewcomerSeesHowAPhotoOfALabelIsKept() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "find?q=auxerrois");
            owner.click("main tbody a[href*='/lots/'] >> nth=0");
            Locator label = loaded(owner).locator(".kept img");
            assertThat(label.getAttribute("alt")).isEqualTo("Photo: Label");
            label.scrollIntoViewIfNeeded();
            owner.waitForFunction("document.querySelector('.kept img').naturalWidth === 320");
            assertThat(owner.locator("dl.facts").first().innerText())
                    .contains("Vitis vinifera", "FR-0000-77", "Aux-27-3");
            lookAt(owner, "lot-with-label");
            owner.navigate(owner.getAttribute(".kept a:has(img)", "href"));
            picture(owner, "label");
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
    void aLongListIsNarrowedSortedAndTakenAlong() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "vine-lists");
            String section = "section:has(h2:has-text('Varieties')) ";
            int shown = owner.locator(section + "tbody tr").count();
            assertThat(shown).isGreaterThan(40);
            owner.fill("#varieties-find", "riesling");
            owner.click(section + "button:text-is('Show')");
            owner.waitForURL("**varieties-find=riesling**");
            assertThat(loaded(owner).locator(section + "tbody tr").allTextContents())
                    .hasSizeBetween(1, shown - 1)
                    .allMatch(line -> line.toLowerCase(java.util.Locale.ROOT).contains("riesling"));
            owner.fill("#varieties-find", "");
            List<String> ends = new ArrayList<>();
            for (String order : new String[] {"1", "-1"}) {
                owner.selectOption(section + "[name=varieties-sort]", order);
                owner.click(section + "button:text-is('Show')");
                owner.waitForURL("**varieties-sort=" + order + "**");
                ends.add(loaded(owner).locator(section + "tbody tr b").first().textContent());
            }
            assertThat(ends.get(0)).isLessThan(ends.get(1));
            com.microsoft.playwright.Download file =
                    owner.waitForDownload(() -> owner.click(section + "button:has-text('CSV')"));
            List<String> lines = Files.readAllLines(file.path());
            assertThat(lines).hasSizeGreaterThanOrEqualTo(shown + 1);
            assertThat(lines.get(0)).endsWith("Source").contains("Name,Colour");
        }
    }

    @Test
    void aReaderOfGermanOrFrenchMeetsNoEnglishKeys() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page reader = signIn(desk, "owner");
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
            try (BrowserContext context = context(width);
                    BrowserContext field = context(width)) {
                Page owner = signIn(context, "owner");
                Page helper = signIn(field, "helper");
                for (Map.Entry<String, String> shown : pages.entrySet()) {
                    Page page = shown.getKey().equals("my-day") ? helper : owner;
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
}
