package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.ZipInputStream;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class ArchiveTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void the_owner_gets_every_table_the_people_and_a_readme() throws IOException {
        TestVineyard vineyard = vineyards.fresh();
        vineyards.fresh();

        Map<String, String> files = archive(vineyard);

        assertThat(files)
                .containsKeys(
                        "README.txt",
                        "people.csv",
                        "tables/membership.csv",
                        "tables/audit_entry.csv",
                        "blocks.geojson",
                        "manifest.json");
        assertThat(files.get("people.csv"))
                .startsWith("account_id,name,email,role,ended_at\r\n")
                .contains("Ada Owner");
        assertThat(files.get("people.csv").lines()).hasSize(5);
        assertThat(files.get("tables/membership.csv").lines()).hasSize(5);
        assertThat(files.get("README.txt")).contains("Test " + vineyard.slug(), "tables/membership.csv: 4", "{[3,19)}");
    }

    @Test
    void no_way_in_and_no_secret_is_in_it() throws IOException {
        TestVineyard vineyard = vineyards.fresh();

        Map<String, String> files = archive(vineyard);

        assertThat(files)
                .doesNotContainKeys("tables/api_token.csv", "tables/invitation.csv", "tables/calendar_feed.csv");
        assertThat(String.join("\n", files.values())).doesNotContain("_hash", vineyard.token(Role.OWNER));
    }

    @Test
    void nobody_but_the_owner_gets_it() {
        TestVineyard vineyard = vineyards.fresh();

        for (Role role : new Role[] {Role.READER, Role.HELPER, Role.LEAD}) {
            assertThat(vineyard.as(role).open("/archive.zip").status()).isEqualTo(403);
        }
        assertThat(vineyard.as(Role.OWNER).open("/archive").page().select("main form[action$=/archive]"))
                .hasSize(1);
    }

    @Test
    void it_is_made_in_the_background_and_fetched_by_who_asked_for_it_alone() throws IOException {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);

        TestBrowser.Answer ready = owner.sendAndFollow("/archive");
        String fetch = ready.page().select("main a[href$=/file]").attr("href").replaceFirst("^/v/[^/]+", "");

        assertThat(ready.page().select("[data-state]").attr("data-state")).isEqualTo("DONE");
        TestBrowser.Answer file = owner.open(fetch);
        assertThat(file.raw().getResponse().getContentType()).isEqualTo("application/zip");
        assertThat(unpacked(file)).containsKeys("README.txt", "manifest.json");
        assertThat(vineyard.as(Role.LEAD).open(fetch).status()).isEqualTo(404);
        assertThat(vineyard.as(Role.LEAD).send("/archive").status()).isEqualTo(403);
    }

    private static Map<String, String> archive(TestVineyard vineyard) throws IOException {
        var answer = vineyard.as(Role.OWNER).open("/archive.zip");
        assertThat(answer.status()).isEqualTo(200);
        return unpacked(answer);
    }

    private static Map<String, String> unpacked(TestBrowser.Answer answer) throws IOException {
        Map<String, String> files = new LinkedHashMap<>();
        try (var zip = new ZipInputStream(
                new ByteArrayInputStream(answer.raw().getResponse().getContentAsByteArray()))) {
            for (var entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                files.put(entry.getName(), new String(zip.readAllBytes(), StandardCharsets.UTF_8));
            }
        }
        return files;
    }
}
