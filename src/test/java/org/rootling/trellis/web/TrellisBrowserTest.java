package org.rootling.trellis.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Download;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.SelectOption;
import java.nio.file.Files;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.trellis.TrellisBlocks;
import org.springframework.beans.factory.annotation.Autowired;

class TrellisBrowserTest extends BrowserTest {
    @Autowired
    TestVineyards vineyards;

    @Test
    void fromThePlanToTheOrderSheetOnAPhone() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TrellisBlocks.block(vineyard, "B1", 10);
        String at = "/v/" + vineyard.slug() + "/trellis";
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.OWNER);
            page.navigate(at);
            lookAt(page, "trellis-list");
            page.navigate(at + "/blocks/B1");
            lookAt(page, "trellis-begin");
            page.getByLabel("a medium canopy").check();
            click(page, "Begin the plan");
            assertThat(text(page, "h1")).isEqualTo("Trellis of B1");
            assertThat(text(page, "main")).contains("Guide board", "130");
            lookAt(page, "trellis-plan");

            link(page, "Change the numbers");
            page.getByLabel("Lean from upright").fill("46");
            lookAt(page, "trellis-edit");
            click(page, "Save");
            assertThat(text(page, "[id='end.leanDeg-error']")).contains("no longer works as a post");
            page.getByLabel("Lean from upright").fill("15");
            click(page, "Save");
            assertThat(text(page, "main")).contains("15° from upright");

            link(page, "Loads");
            assertThat(text(page, "main")).contains("Anchor in the ground", "ask an engineer");
            lookAt(page, "trellis-loads");

            page.navigate(at + "/blocks/B1/tension");
            page.locator("#row").selectOption(new SelectOption().setLabel("Row 2"));
            page.locator("#scaleKg").fill("3,4");
            page.locator("#asideCm").fill("6");
            click(page, "Record the reading");
            assertThat(text(page, "main")).contains("Saved.").contains("tight");
            lookAt(page, "trellis-tension");

            page.navigate(at + "/order?block=B1&delivery=80");
            link(page, "Guard");
            page.getByLabel("Pack size").fill("50");
            page.getByLabel("Price of a pack").fill("41,25");
            click(page, "Save");
            page.getByLabel("Quantity").fill("700");
            click(page, "Record the purchase");
            assertThat(text(page, "main")).contains("700 pcs");
            lookAt(page, "trellis-item");
            page.navigate(at + "/order?block=B1&delivery=80");
            assertThat(text(page, "tr:has(th:has-text('Guard'))")).contains("1 × 50", "41.25");
            lookAt(page, "trellis-order");
            page.click("details.list-fold summary");
            Download csv = page.waitForDownload(() -> click(page, "Take along as CSV"));
            assertThat(Files.readString(csv.path())).contains("Guard,pcs,700,2,714,");
        }
    }

    private static void click(Page page, String button) {
        page.getByRole(
                        AriaRole.BUTTON,
                        new Page.GetByRoleOptions().setName(button).setExact(true))
                .click();
    }

    private static void link(Page page, String name) {
        page.locator("main")
                .getByRole(
                        AriaRole.LINK,
                        new Locator.GetByRoleOptions().setName(name).setExact(true))
                .first()
                .click();
    }
}
