package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Dialog;
import com.microsoft.playwright.Page;
import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.rootling.support.Keyboard;

/** A person who has a keyboard and nothing else does the main jobs, and always sees where they are. */
class DemoKeyboardTest extends DemoBrowserTest {

    @Test
    void aHelperLogsARunOfPlacesWithTheKeyboardAlone() throws IOException {
        try (BrowserContext phone = context(390)) {
            Page page = phone.newPage();
            Keyboard keys = new Keyboard(page);
            page.navigate("/sign-in");
            keys.tabTo("#email");
            keys.type(signIns("helper").get("email").stringValue());
            keys.tabTo("#password");
            keys.type(signIns("helper").get("password").stringValue());
            keys.press("Enter");
            page.waitForURL("**" + HOME);
            keys.tabTo(".skip");
            keys.press("Enter");
            assertThat(page.evaluate("document.activeElement.id")).isEqualTo("main");
            page.navigate(HOME);
            keys.tabTo(".menu a[href$='/my-day']");
            keys.press("Enter");
            page.waitForURL("**/my-day");
            keys.tabTo("a.task-card");
            keys.press("Enter");
            page.waitForURL("**/my-day/*-*");
            String all = page.getAttribute("#log", "data-all");
            String first = all.replaceFirst("\\D.*", "");
            keys.tabTo("#places");
            keys.type(first);
            keys.tabTo("#minutes");
            keys.type("5");
            keys.tabTo("#log details summary");
            keys.press("Space");
            assertThat(page.isVisible("#note")).isTrue();
            keys.tabTo("#log button.wide");
            keys.press("Enter");
            page.waitForSelector(".notice, .alert.good[role=status]");
            assertThat(loaded(page)
                            .locator(".strip li.done[data-place='" + first + "']")
                            .count())
                    .isOne();
        }
    }

    @Test
    void anOwnerOrdersVinesAndTakesThemInWithTheKeyboardAlone() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page page = desk.newPage();
            Keyboard keys = new Keyboard(page);
            page.navigate("/sign-in");
            keys.fill("#email", signIns("owner").get("email").stringValue());
            keys.fill("#password", "not the password");
            keys.press("Enter");
            keys.arrive("**/sign-in?failed");
            assertThat(keys.isOn("#email")).isTrue();
            keys.fill("#email", signIns("owner").get("email").stringValue());
            keys.fill("#password", signIns("owner").get("password").stringValue());
            keys.press("Enter");
            keys.arrive("**" + HOME);

            keys.follow(".menu a[href$='/lots']", "**/lots");
            keys.follow("main a[href$='/orders']", "**/orders");
            keys.follow("main a[href$='/orders/new']", "**/orders/new");
            keys.tabTo("main form > button");
            keys.press("Enter");
            assertTheFocusIsOnTheFirstMistake(page);
            keys.tabBackTo("#supplierId");
            keys.press("ArrowDown");
            keys.fill("#reference", "KEYS-1");
            keys.fill("[id='lines[0].variety']", "Riesling");
            keys.fill("[id='lines[0].rootstock']", "SO4");
            keys.fill("[id='lines[0].vines']", "50");
            keys.tabTo("main form > button");
            keys.press("Space");
            keys.arrive("**/orders/*-*");
            assertThat(text(page, "main")).contains("KEYS-1").contains("Riesling / SO4");

            keys.follow("main a[href*='/deliveries/new?order=']", "**/deliveries/new?order=*");
            keys.fill("[id='lines[0].bundles']", "2");
            keys.fill("[id='lines[0].bundleSize']", "25");
            keys.tabTo("main form > button");
            keys.press("Enter");
            keys.arrive("**/deliveries/*-*");
            assertThat(text(page, "main")).contains("KEYS-1").contains("Riesling / SO4");
            assertThat(text(page, "main .card .figure")).isEqualTo("50");
        }
    }

    @Test
    void aBlockGetsItsRowsWithTheKeyboardAlone() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page page = signIn(desk, "owner");
            Keyboard keys = new Keyboard(page);
            keys.follow(".menu a[href$='/blocks']", "**/blocks");
            keys.follow("main a[href$='/blocks/new']", "**/blocks/new");
            keys.fill("#code", "KEY");
            keys.fill("#name", "By the keys");
            keys.fill("#boundary", "0 0\n30 0\n30 40");
            keys.tabTo(".corner-knob");
            keys.tabTo("main form > button");
            keys.tabBackTo("#boundary");
            keys.type("0 0\n30 0\n30 40\n0 40");
            keys.tabTo("main form > button");
            keys.press("Enter");
            keys.arrive("**/blocks/KEY");
            keys.follow("main a[href$='/blocks/KEY/layout']", "**/blocks/KEY/layout");
            keys.fill("#rowSpacingM", "much");
            keys.press("Enter");
            keys.arrive("**/layout?*");
            assertThat(keys.isOn("#rowSpacingM")).isTrue();
            assertTheFocusIsOnTheFirstMistake(page);
            keys.type("2.2");
            keys.fill("#vineSpacingM", "1.2");
            keys.fill("#headlandM", "6");
            keys.fill("#sideMarginM", "2");
            keys.fill("#endGapM", "0.6");
            keys.fill("#rowBearingDeg", "0");
            keys.fill("#firstRowOffsetM", "0");
            keys.press("Enter");
            keys.arrive("**/layout?*rowSpacingM=2.2*");
            keys.tabTo("main section form button");
            keys.press("Enter");
            keys.arrive("**/blocks/KEY");
            // 26 m across at 2.2 m: 12 rows; 28 m long, half a vine spacing from each end post (common practice, no
            // source): floor((28 - 1.2) / 1.2) + 1 = 23 vines.
            assertThat(text(page, "#plan-told")).contains("12").contains("276");
            keys.tabTo("#rows details summary");
            keys.press("Enter");
            assertThat(page.isVisible("#rows details table")).isTrue();
            keys.press("Tab");
            assertThat(keys.isOn("#rows details :is(summary, input, select, a, button)"))
                    .isTrue();
            keys.press("Shift+Tab");
            keys.press("Escape");
            assertThat(page.isVisible("#rows details table")).isFalse();
            assertThat(keys.isOn("main details summary")).isTrue();

            // The question whether one is sure, left as by Escape, and answered.
            keys.tabTo("form[data-ask] button");
            page.onceDialog(Dialog::dismiss);
            keys.press("Enter");
            assertThat(keys.isOn("form[data-ask] button")).isTrue();
            page.onceDialog(Dialog::accept);
            keys.press("Enter");
            keys.arrive("**/blocks");
            assertThat(text(page, "main")).doesNotContain("By the keys");
        }
    }

    @Test
    void aRowIsWalkedInYearOneWithTheKeyboardAlone() throws IOException {
        try (BrowserContext phone = context(390)) {
            Page page = signIn(phone, "owner");
            Keyboard keys = new Keyboard(page);
            keys.follow(".menu a[href$='/year-one']", "**/year-one");
            keys.follow("main a[href$='/year-one/GP']", "**/year-one/GP");
            keys.follow("main table a[href*='/rows/']", "**/rows/*");
            String row = page.url();
            keys.tabTo(".vine-row a");
            String place =
                    page.locator(".vine-row li:has(.mark.growing) span").first().innerText();
            String weak = ".vine-row li:nth-child(" + place + "):has(.mark.weak) a";
            keys.choose("#rest", "growing");
            keys.fill("#weak", place);
            keys.tabTo("form[data-walk] > button");
            keys.press("Enter");
            page.waitForSelector(weak);
            assertThat(loaded(page).url()).startsWith(row);
            keys.follow(weak, "**/vines/*");
            assertThat(text(page, "main")).contains("weak");
        }
    }

    @Test
    void theReviewIsReadWithTheKeyboardAlone() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page page = signIn(desk, "owner");
            Keyboard keys = new Keyboard(page);
            keys.follow(".menu a[href$='/progress']", "**/progress");
            // Each vine of the drawing is a link; who does not want them all goes past.
            keys.tabTo("a[href='#plan-told']");
            keys.press("Enter");
            keys.press("Tab");
            assertThat(keys.isOn("#plan-told summary")).isTrue();
            keys.press("Space");
            assertThat(page.isVisible("#plan-told table")).isTrue();
            keys.press("Escape");
            assertThat(page.isVisible("#plan-told table")).isFalse();
            page.navigate(HOME + "progress");
            keys.follow("main a[href$='/review']", "**/review");
            keys.follow("main nav a[href*='by=block']", "**/review?by=block*");
            assertThat(text(page, "section[aria-labelledby=shares]")).contains("GP");
            keys.choose("#within", "GP");
            keys.tabTo("form:has(#within) button");
            keys.press("Enter");
            keys.arrive("**/review?*block=GP*");
            assertThat(text(page, "#shares")).contains("GP");
        }
    }

    @Test
    void noPageHoldsTheFocusAndEachShowsItThereAndBack() throws IOException {
        try (BrowserContext desk = context(1280);
                BrowserContext phone = context(390)) {
            Page owner = signIn(desk, "owner");
            for (String path : new String[] {"", "lots", "orders/new", "work/schedule", "review", "people"}) {
                owner.navigate(HOME + path);
                assertThat(new Keyboard(loaded(owner)).thereAndBack()).as(path).isGreaterThan(10);
            }
            Page helper = signIn(phone, "helper");
            helper.navigate(HOME + "my-day");
            helper.click("a.task-card >> nth=0");
            assertThat(new Keyboard(loaded(helper)).thereAndBack()).isGreaterThan(10);
        }
    }

    private static void assertTheFocusIsOnTheFirstMistake(Page page) {
        page.waitForSelector("main .error, main form .alert.danger");
        assertThat(loaded(page).evaluate("""
                () => {
                  const first = document.querySelector('main form .alert.danger, main .wrong :is(input, select, textarea)');
                  return first !== null && document.activeElement === first;
                }"""))
                .as("the focus is on the first mistake")
                .isEqualTo(true);
    }
}
