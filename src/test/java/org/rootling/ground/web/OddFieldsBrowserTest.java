package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Three odd fields through the pages, each with its fullest rows; their pictures are those of the README. */
class OddFieldsBrowserTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void threeOddFieldsAreFilledAndPictured() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext desk = context(1280)) {
            Page page = signedIn(desk, vineyard, Role.LEAD);
            fill(page, vineyard, "BEND", "0 0\n64 0\n64 22\n30 26\n28 70\n0 66", "12 45 3");
            fill(page, vineyard, "WEDGE", "0 0\n80 6\n74 14\n22 58\n9 40", "");
            fill(page, vineyard, "BAY", "0 0\n30 -4\n44 14\n58 -2\n88 6\n92 44\n60 58\n46 40\n26 62\n-6 36", "70 30 4");
        }
    }

    private static void fill(Page page, TestVineyard vineyard, String code, String corners, String tree) {
        String blocks = "/v/" + vineyard.slug() + "/blocks";
        page.navigate(blocks + "/new");
        page.fill("#code", code);
        page.fill("#name", "Odd");
        page.fill("#boundary", corners);
        page.click("main form.sheet button:has-text('Keep the block')");
        if (!tree.isEmpty()) {
            page.fill("#name", "Old pear");
            page.fill("#exclusions", tree);
            page.click("button:has-text('Keep it free')");
        }
        page.navigate(blocks + "/" + code + "/layout?show=1&rowSpacingM=2&vineSpacingM=1.1&headlandM=4&sideMarginM=1.5"
                + "&minVinesPerRow=3&alignment=ROW&version=0");
        Matcher found = Pattern.compile("([\\d,]+) vines in (\\d+) rows").matcher(text(page, ".figure"));
        assertThat(found.matches()).isTrue();
        page.click("button:has-text('Accept: make these rows')");
        assertThat(text(page, "main")).contains(found.group(1));
        page.locator("svg.plan")
                .screenshot(new Locator.ScreenshotOptions()
                        .setPath(Path.of(
                                "target", "screenshots", "field-" + code.toLowerCase(java.util.Locale.ROOT) + ".png")));
    }
}
