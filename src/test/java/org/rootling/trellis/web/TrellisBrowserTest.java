package org.rootling.trellis.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.deque.html.axecore.results.AxeResults;
import com.deque.html.axecore.results.Rule;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Download;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.SelectOption;
import java.nio.file.Files;
import java.util.List;
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
            look(page, "trellis-list");
            page.getByLabel("a medium canopy").check();
            click(page, "Begin the plan");
            assertThat(text(page, "h1")).isEqualTo("Trellis of B1");
            assertThat(text(page, "main")).contains("Guide board", "130");
            look(page, "trellis-plan");

            link(page, "Change the numbers");
            page.getByLabel("Lean from upright").fill("46");
            look(page, "trellis-edit");
            click(page, "Save");
            assertThat(text(page, "[id='end.leanDeg-error']")).contains("no longer works as a post");
            page.getByLabel("Lean from upright").fill("15");
            click(page, "Save");
            assertThat(text(page, "main")).contains("15° from upright");

            link(page, "Loads");
            assertThat(text(page, "main")).contains("Anchor in the ground", "ask an engineer");
            look(page, "trellis-loads");

            page.navigate(at + "/blocks/B1/tension");
            page.locator("#row").selectOption(new SelectOption().setLabel("Row 2"));
            page.locator("#scaleKg").fill("3,4");
            page.locator("#asideCm").fill("6");
            click(page, "Record the reading");
            assertThat(text(page, "main")).contains("Saved.").contains("tight");
            look(page, "trellis-tension");

            page.navigate(at + "/order?block=B1&delivery=80");
            link(page, "Guard");
            page.getByLabel("Pack size").fill("50");
            page.getByLabel("Price of a pack").fill("41,25");
            click(page, "Save");
            page.getByLabel("Quantity").fill("700");
            click(page, "Record the purchase");
            assertThat(text(page, "main")).contains("700 pcs");
            look(page, "trellis-item");
            page.navigate(at + "/order?block=B1&delivery=80");
            assertThat(text(page, "tr:has(th:has-text('Guard'))")).contains("1 × 50", "41.25");
            look(page, "trellis-order");
            Download csv = page.waitForDownload(() -> link(page, "Download CSV"));
            assertThat(Files.readString(csv.path())).contains("Guard,pcs,700,2,714,");
        }
        try (BrowserContext desk = context(1280)) {
            Page page = signedIn(desk, vineyard, Role.READER);
            for (String path : List.of("", "/blocks/B1", "/blocks/B1/loads", "/blocks/B1/tension", "/order")) {
                page.navigate(at + path);
                look(page, "trellis-desk" + path.replace('/', '-'));
            }
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

    /** A picture to be looked at, the accessibility rules, and no sideways scrolling of the page. */
    private static void look(Page page, String name) {
        picture(page, name);
        AxeResults results = new AxeBuilder(page)
                .withTags(List.of("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"))
                .analyze();
        assertThat(results.getViolations())
                .as(name)
                .extracting(Rule::getId, r -> r.getNodes().get(0).getHtml())
                .isEmpty();
        assertThat((Boolean)
                        page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth"))
                .as(name + " scrolls sideways")
                .isTrue();
    }
}
