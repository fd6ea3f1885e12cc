package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.SelectOption;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;

/** Whatever is not for a place without signal works in a browser that runs no scripts. */
class DemoWithoutScriptsTest extends DemoBrowserTest {

    private static final int CLOCK_SECONDS = 60;

    @Test
    void withoutScriptsADeliveryIsTakenInAndARunIsLogged() throws IOException {
        try (BrowserContext desk = context(1280, false);
                BrowserContext phone = context(390, false)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "deliveries/new");
            owner.selectOption("#supplierId", new SelectOption().setIndex(1));
            owner.fill("[id='lines[0].variety']", "Riesling");
            owner.fill("[id='lines[0].rootstock']", "SO4");
            owner.fill("[id='lines[0].bundles']", "2");
            owner.fill("[id='lines[0].loose']", "3");
            owner.click("main form button:has-text('Take the delivery in')");
            assertThat(text(owner, "main")).contains("Riesling").contains("53");

            Page helper = signIn(phone, "helper");
            helper.navigate(HOME + "my-day");
            helper.click("a.task-card >> nth=1");
            String last = helper.getAttribute("#log", "data-all").replaceFirst(".*\\D", "");
            helper.fill("#places", last);
            helper.fill("#minutes", "4");
            helper.click("#log button.wide");
            assertThat(loaded(helper)
                            .locator(".strip li.done[data-place='" + last + "']")
                            .count())
                    .isOne();
        }
    }

    @Test
    void anOrderIsTakenInAndHeeledIn() throws IOException {
        try (BrowserContext desk = context(1280, false)) {
            Page owner = desk.newPage();
            owner.navigate("/sign-in");
            owner.fill("#email", signIns("owner").get("email").stringValue());
            owner.fill("#password", "not the password");
            owner.click("main form button");
            assertThat(text(owner, "main .alert.danger")).isNotBlank();
            owner.fill("#email", signIns("owner").get("email").stringValue());
            owner.fill("#password", signIns("owner").get("password").stringValue());
            owner.click("main form button");
            owner.waitForURL("**" + HOME);

            owner.click(".menu a[href$='/lots']");
            owner.click("main a[href$='/orders']");
            owner.click("main a[href$='/orders/new']");
            owner.selectOption("#supplierId", new SelectOption().setIndex(1));
            owner.fill("#reference", "PLAIN-1");
            owner.fill("[id='lines[0].variety']", "Pinot gris");
            owner.fill("[id='lines[0].rootstock']", "SO4");
            owner.fill("[id='lines[0].vines']", "50");
            owner.click("main form > button");
            assertThat(text(owner, "main")).contains("PLAIN-1").contains("Pinot gris / SO4");
            owner.click("main a[href*='/deliveries/new?order=']");
            owner.fill("[id='lines[0].bundles']", "2");
            owner.fill("[id='lines[0].bundleSize']", "25");
            owner.click("main form > button");
            assertThat(text(owner, "main .card .figure")).isEqualTo("50");

            owner.click("main a[href$='/do/place']");
            owner.selectOption("#storeId", new SelectOption().setIndex(1));
            owner.fill("#count", "51");
            owner.click("main form.sheet button");
            assertThat(text(owner, "main .error, main form .alert.danger")).isNotBlank();
            owner.fill("#count", "50");
            owner.click("main form.sheet button");
            assertThat(loaded(owner)
                            .locator("main form .error, main form .alert.danger")
                            .count())
                    .isZero();
            assertThat(text(owner, "main")).contains("50");
        }
    }

    @Test
    void aBlockGetsItsRowsAndIsTakenBack() throws IOException {
        try (BrowserContext desk = context(1280, false)) {
            Page owner = signIn(desk, "owner");
            owner.click(".menu a[href$='/blocks']");
            owner.click("main a[href$='/blocks/new']");
            owner.fill("#code", "PLN");
            owner.fill("#name", "Plain piece");
            owner.fill("#boundary", "0 0\n30 0\n30 40\n0 40");
            owner.click("main form > button");
            owner.click("main a[href$='/blocks/PLN/layout']");
            owner.fill("#rowSpacingM", "2.2");
            owner.fill("#vineSpacingM", "1.2");
            owner.fill("#headlandM", "6");
            owner.fill("#sideMarginM", "2");
            owner.fill("#endGapM", "0.6");
            owner.fill("#rowBearingDeg", "0");
            owner.fill("#firstRowOffsetM", "0");
            owner.click("main form.sheet button");
            assertThat(loaded(owner).locator("main svg.plan").count()).isOne();
            owner.click("main section form button");
            assertThat(text(owner, "#plan-told")).contains("276");
            owner.click("#rows details summary");
            assertThat(loaded(owner).locator("#rows details tbody tr:visible").count())
                    .isEqualTo(12);
            owner.click("main form[action$='/withdraw'] button");
            assertThat(text(owner, "main")).doesNotContain("Plain piece");
        }
    }

    /** The page of a search reads itself again until there is an answer. */
    @Test
    void aScheduleIsSearchedAndItsPageSaysWhenItIsThere() throws IOException {
        try (BrowserContext desk = context(1280, false)) {
            Page owner = signIn(desk, "owner");
            owner.click(".menu a[href$='/work']");
            owner.click("main a[href$='/work/schedule'] >> nth=0");
            owner.fill("#seconds", "5");
            owner.click("main form.sheet button >> nth=0");
            assertThat(loaded(owner).locator("form[action$='/cancel'] button").count())
                    .isOne();
            owner.waitForSelector(
                    ".day-plan >> nth=0", new Page.WaitForSelectorOptions().setTimeout(CLOCK_SECONDS * 1000.0));
            owner.waitForSelector("#seconds", new Page.WaitForSelectorOptions().setTimeout(CLOCK_SECONDS * 1000.0));
            owner.click("main a[href*='/work/week']");
            assertThat(loaded(owner).locator("svg.week").count()).isPositive();
            assertThat(owner.locator("[data-print]").count()).isOne();
            assertThat(owner.isVisible("[data-print]")).isFalse();
            assertThat(text(owner, "#plot-told")).isNotBlank();
        }
    }

    @Test
    void whatIsPackedInTheBackgroundIsFetched() throws IOException {
        try (BrowserContext desk = context(1280, false)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "archive");
            owner.click("main form[action$='/archive'] button");
            owner.waitForSelector(
                    "main a[href$='/file']", new Page.WaitForSelectorOptions().setTimeout(CLOCK_SECONDS * 1000.0));
            assertThat(owner.waitForDownload(() -> owner.click("main a[href$='/file']"))
                            .suggestedFilename())
                    .endsWith(".zip");
        }
    }

    @Test
    void theReviewIsNarrowedAndTheSettingsAreChanged() throws IOException {
        try (BrowserContext desk = context(1280, false)) {
            Page owner = signIn(desk, "owner");
            owner.click(".menu a[href$='/progress']");
            owner.click("#plan-told summary");
            assertThat(loaded(owner).locator("#plan-told tbody tr:visible").count())
                    .isPositive();
            owner.click("main a[href$='/review'] >> nth=0");
            owner.click("main nav a[href*='by=block']");
            owner.selectOption("#within", new SelectOption().setIndex(1));
            owner.click("form:has(#within) button");
            assertThat(text(owner, "#shares")).contains(":");
            owner.navigate(HOME + "settings");
            String altitude = owner.inputValue("#altitudeM");
            owner.fill("#altitudeM", "very high");
            owner.click("main form.sheet button");
            assertThat(text(owner, "main .error")).isNotBlank();
            owner.fill("#altitudeM", altitude);
            owner.click("main form.sheet button");
            assertThat(text(owner, "main .alert.good")).isNotBlank();
        }
    }

    /** Links lead on, buttons stand in forms, and what only a script can answer is not shown without one. */
    @Test
    void noPageHasAButtonThatOnlyAScriptCouldAnswer() throws IOException {
        List<String> wrong = new ArrayList<>();
        try (BrowserContext desk = context(1280)) {
            signIn(desk, "owner");
            for (EveryPage.Found found : everyPage(desk).pages()) {
                for (Element lost :
                        found.page().select("a:not([href]), button[type=button], button:not(form button)")) {
                    if (lost.closest("[hidden]") == null && !lost.hasAttr("data-print")) {
                        wrong.add(found.path() + " " + lost.outerHtml());
                    }
                }
            }
        }
        assertThat(wrong).isEmpty();
    }
}
