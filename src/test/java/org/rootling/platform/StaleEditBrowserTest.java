package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Two people have the same form open. */
class StaleEditBrowserTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void theSecondSeesBothVersionsSideBySideAndNothingOfTheFirstIsLost() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext desk = context(1280);
                BrowserContext phone = context(390)) {
            Page first = signedIn(desk, vineyard, Role.OWNER);
            Page second = signedIn(phone, vineyard, Role.OWNER);
            String form = "/v/" + vineyard.slug() + "/settings";
            first.navigate(form);
            second.navigate(form);
            first.fill("#name", "Upper Quillow");
            first.click("main form button");
            second.fill("#name", "Lower Quillow");
            second.click("main form button");

            String line = second.locator("tr[data-name=name]").innerText();
            until(second, "!document.querySelector('[data-stands-at] [hidden]')");
            String both = second.locator("tr[data-name=name]").innerText();
            assertThat(line).contains("Lower Quillow");
            assertThat(both).contains("Lower Quillow").contains("≠ Upper Quillow");
            first.navigate(form);
            assertThat(first.inputValue("#name")).isEqualTo("Upper Quillow");
        }
    }
}
