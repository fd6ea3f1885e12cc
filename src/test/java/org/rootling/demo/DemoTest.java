package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.Test;
import org.rootling.support.BrowserTest;
import org.springframework.mock.env.MockEnvironment;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.test.context.ContextConfiguration;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The demo as a newcomer meets it: its own home, its own database, its four people. */
@ActiveProfiles("demo")
@ContextConfiguration(inheritInitializers = false)
@DirtiesContext
class DemoTest extends BrowserTest {

    private static Path home;

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
            assertThat(JsonMapper.builder().build().readTree(answer.body()).size())
                    .isEqualTo(7);
        }
    }

    @Test
    void aNewcomerSeesAVineyardInItsPlantingSpring() throws IOException {
        try (BrowserContext desk = context(1280);
                BrowserContext phone = context(390)) {
            Page owner = signIn(desk, "owner");
            assertThat(owner.innerText("header")).contains("2027").contains("demo date");
            assertThat(owner.innerText("main")).contains("Bed by the barn");
            picture(owner, "today-desk");
            for (String path :
                    new String[] {"lots", "blocks/GP", "work", "year-one", "progress", "review", "weather"}) {
                owner.navigate("/v/quillow-bank/" + path);
                assertThat(owner.innerText("main")).as(path).isNotBlank();
                assertThat(owner.title()).as(path).doesNotContain("went wrong").doesNotContain("Nothing here");
                picture(owner, path.replace('/', '-') + "-desk");
            }
            Page helper = signIn(phone, "helper");
            helper.navigate("/v/quillow-bank/my-day");
            picture(helper, "my-day-phone");
            for (String path : new String[] {"", "lots", "progress"}) {
                helper.navigate("/v/quillow-bank/" + path);
                assertThat(helper.evaluate("document.documentElement.scrollWidth <= 390"))
                        .as(path)
                        .isEqualTo(true);
                picture(helper, (path.isEmpty() ? "today" : path) + "-phone");
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

    private Page signIn(BrowserContext context, String role) throws IOException {
        JsonNode people = JsonMapper.builder().build().readTree(Files.readString(home.resolve("demo-sign-ins.json")));
        for (JsonNode person : people) {
            if (person.get("role").stringValue().equals(role)) {
                Page page = context.newPage();
                page.navigate("/sign-in");
                page.fill("#email", person.get("email").stringValue());
                page.fill("#password", person.get("password").stringValue());
                page.click("main button");
                page.waitForURL("**/v/quillow-bank/");
                return page;
            }
        }
        throw new AssertionError("no " + role);
    }
}
