package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.TestCodes;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Someone makes their account safer on a phone, and signs in with a code. */
class SafetyPagesTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void aSecondFactorIsSetUpAndAskedFor() {
        TestVineyard vineyard = vineyards.fresh();
        String secret;
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.OWNER);
            page.navigate("/account/safety");
            page.click("#second-factor form button");
            secret = text(page, "#second-factor code");
            assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= 390"))
                    .isEqualTo(true);
            picture(page, "safety-set-up-phone");
            page.fill("#code", TestCodes.at(secret, Instant.ofEpochMilli(System.currentTimeMillis())));
            page.click("form[action$='/confirm'] button");
            PlaywrightAssertions.assertThat(page.locator(".codes li")).hasCount(10);
            picture(page, "safety-codes-phone");
            page.setViewportSize(1280, 900);
            picture(page, "safety-codes-desk");
            page.navigate("/v/" + vineyard.slug() + "/delete");
            picture(page, "delete-desk");
        }
        try (BrowserContext desk = context(1280)) {
            Page page = desk.newPage();
            page.navigate("/v/" + vineyard.slug() + "/lots");
            page.fill("#email", vineyard.email(Role.OWNER));
            page.fill("#password", TestVineyards.PASSWORD);
            page.click("main button");
            page.waitForURL("**/sign-in/code");
            picture(page, "code-desk");
            page.fill("#code", TestCodes.at(secret, Instant.ofEpochMilli(System.currentTimeMillis() + 30_000)));
            page.click("main button");
            page.waitForURL("**/lots**");
            page.navigate("/account/safety");
            assertThat(loaded(page).locator("#main table tbody tr").count()).isEqualTo(2);
            picture(page, "safety-desk");
        }
    }
}
