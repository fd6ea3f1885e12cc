package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.FilePayload;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** An owner takes an archive out of one vineyard and puts it into another, in a browser. */
class RestorePagesTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void anArchiveGoesOutAndIn() {
        TestVineyard from = vineyards.fresh();
        TestVineyard into = vineyards.fresh();
        byte[] archive;
        try (BrowserContext desk = context(1280)) {
            Page page = signedIn(desk, from, Role.OWNER);
            archive = desk.request().get("/v/" + from.slug() + "/archive.zip").body();
            page.navigate("/v/" + from.slug() + "/archive");
            picture(page, "archive-desk");
        }
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, into, Role.OWNER);
            page.navigate("/v/" + into.slug() + "/archive/restore");
            picture(page, "restore-phone");
            page.setInputFiles("#file", new FilePayload("archive.zip", "application/zip", archive));
            page.click("main form button");
            page.waitForSelector("form[action$='/start'] button");
            assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= 390"))
                    .isEqualTo(true);
            picture(page, "restore-found-phone");
            page.setViewportSize(1280, 900);
            picture(page, "restore-found-desk");
            page.click("form[action$='/start'] button");
            page.waitForSelector("text=Open the vineyard");
            picture(page, "restore-done-desk");
        }
    }

    @Test
    void largeBodiesAreRefusedBeforeTheyAreRead() throws Exception {
        HttpClient client = HttpClient.newHttpClient();
        String form = "password=" + "x".repeat(80_000);
        HttpResponse<String> answer = client.send(
                HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/sign-in"))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .header("Accept", "text/html")
                        .POST(HttpRequest.BodyPublishers.ofString(form))
                        .build(),
                HttpResponse.BodyHandlers.ofString());
        assertThat(answer.statusCode()).isEqualTo(413);
        assertThat(answer.body()).contains("too large");
        HttpResponse<String> unknown = client.send(
                HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/sign-in"))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(HttpRequest.BodyPublishers.ofInputStream(
                                () -> new java.io.ByteArrayInputStream(form.getBytes(StandardCharsets.UTF_8))))
                        .build(),
                HttpResponse.BodyHandlers.ofString());
        assertThat(unknown.statusCode()).isEqualTo(411);
    }
}
