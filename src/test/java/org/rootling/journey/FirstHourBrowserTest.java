package org.rootling.journey;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.SelectOption;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** The guide leads a newcomer from an empty vineyard to the first delivery in its bed, and knows what is done. */
class FirstHourBrowserTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void aNewcomerFollowsTheGuideFromNothingToTheFirstDeliveryInItsBed() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.OWNER);
            page.navigate("/v/" + vineyard.slug() + "/");
            page.click("a:has-text('The first hour')");
            picture(page, "first-hour-phone");
            if (next(page).contains("where the vineyard lies")) {
                page.click(".guide li.next a.button");
                page.fill("#latitude", "50,05");
                page.fill("#longitude", "8,15");
                page.fill("#altitudeM", "140");
                page.click("main form button");
                back(page);
            }

            assertThat(next(page)).contains("Add the nursery");
            page.click(".guide li.next a.button");
            page.fill("#name", "Hill Nursery");
            page.fill("#bundleSize", "25");
            page.click("main form.sheet button");
            back(page);

            assertThat(next(page)).contains("Make the bed");
            page.click(".guide li.next a.button");
            page.fill("#name", "Bed by the wall");
            page.click("main form.sheet button");
            back(page);

            assertThat(next(page)).contains("Take the delivery in");
            page.click(".guide li.next a.button");
            page.selectOption("#supplierId", new SelectOption().setIndex(1));
            page.fill("[id='lines[0].variety']", "Riesling");
            page.fill("[id='lines[0].rootstock']", "SO4");
            page.fill("[id='lines[0].bundles']", "4");
            page.click("main form button:has-text('Take the delivery in')");
            back(page);

            assertThat(next(page)).contains("Place the vines");
            page.click(".guide li.next a.button");
            page.click("a.button:has-text('Place')");
            page.selectOption("#storeId", new SelectOption().setIndex(1));
            page.fill("#count", "100");
            page.click("main form.sheet button");
            assertThat(loaded(page).locator(".wrong").count()).isZero();
            assertThat(text(page, "main")).contains("Bed by the wall").contains("100");
            back(page);

            assertThat(text(page, "main")).contains("5 of 5 steps done").contains("its time is counted");
            assertThat(next(page)).contains("Draw the first block");
            assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= window.innerWidth"))
                    .isEqualTo(true);
        }
    }

    private static String next(Page page) {
        return text(page, ".guide li.next h3");
    }

    private static void back(Page page) {
        String path = page.url().replaceFirst("(https?://[^/]+/v/[^/]+/).*", "$1first-hour");
        page.navigate(path);
    }
}
