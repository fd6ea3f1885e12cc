package org.rootling.journey;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.time.LocalDate;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Once through the whole job on a phone of 390 px, as owner and as helper, reading what a person would read. */
class WholeJobJourneyTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards days;

    private TestVineyard vineyard;

    @Test
    void fromTheDeliveredBundleToTheFirstCount() {
        vineyard = vineyards.fresh();
        LocalDate today = vineyard.inside(() -> days.today());
        try (BrowserContext owners = context(390);
                BrowserContext helpers = context(390)) {
            Page owner = signedIn(owners, vineyard, Role.OWNER);
            Page helper = helpers.newPage();
            invite(owner, helper);
            String lot = deliver(owner, today);
            heelIn(owner, lot, today);
            String row = layOut(owner);
            planPlanting(owner, lot);
            plant(helper, lot);
            walk(owner, lot, row);
            count(owner, lot);
        }
    }

    /** People: the owner makes a link, a helper joins with it, and it works once. */
    private void invite(Page owner, Page helper) {
        open(owner, "/people");
        owner.selectOption("#role", "HELPER");
        press(owner, "Make a link");
        String link = text(owner, ".secret");
        helper.navigate(link);
        assertThat(text(helper)).contains("invites you as helper");
        helper.fill("#name", "Pip Planter");
        helper.fill("#email", "pip@" + vineyard.slug() + ".example");
        helper.fill("#password", "rows and rows of vines");
        press(helper, "Make an account and join");
        helper.fill("#email", "pip@" + vineyard.slug() + ".example");
        helper.fill("#password", "rows and rows of vines");
        press(helper, "Sign in");
        helper.waitForURL("**/v/" + vineyard.slug() + "/");
        Page again = helper.context().newPage();
        again.navigate(link);
        assertThat(text(again)).contains("already used");
        again.close();
    }

    /** Delivery: three bundles of 25 and 5 loose, 2 of them rejected with a reason. */
    private String deliver(Page owner, LocalDate today) {
        open(owner, "/nurseries");
        owner.fill("#name", "Rebschule Achat");
        owner.fill("#bundleSize", "25");
        owner.locator("main form:has(#bundleSize) button").click();
        open(owner, "/deliveries/new");
        owner.selectOption(
                "#supplierId", new com.microsoft.playwright.options.SelectOption().setLabel("Rebschule Achat"));
        owner.fill("#receivedOn", today.minusDays(20).toString());
        field(owner, "variety").fill("Riesling");
        field(owner, "rootstock").fill("SO4");
        field(owner, "bundles").fill("3");
        field(owner, "bundleSize").fill("25");
        field(owner, "loose").fill("5");
        field(owner, "rejected").fill("2");
        field(owner, "rejectReason").fill("black roots");
        press(owner, "Take the delivery in");
        assertThat(text(owner)).contains("80").contains("2 of 80 rejected: black roots");
        open(owner, "/lots");
        String href = owner.locator("main a[href*='/lots/']").first().getAttribute("href");
        return href.replaceAll(".*/lots/([^/?]+).*", "$1");
    }

    /** Heel in: all into a bed 17 days ago, so that the clock presses; watered; 8 lifted. */
    private void heelIn(Page owner, String lot, LocalDate today) {
        open(owner, "/stores/new");
        owner.fill("#name", "Bed by the barn");
        owner.selectOption("#kind", "HEELED_IN");
        press(owner, "Save");
        open(owner, "/lots/" + lot + "/do/place");
        owner.selectOption("#storeId", new com.microsoft.playwright.options.SelectOption().setIndex(1));
        owner.fill("#count", "9999");
        owner.fill("#on", today.minusDays(17).toString());
        owner.locator("main form.sheet button").last().click();
        assertThat(text(owner)).contains("9,999");
        owner.fill("#count", "78");
        owner.locator("main form.sheet button").last().click();
        open(owner, "/lots");
        assertThat(text(owner)).contains("Bed by the barn").contains("78");
        // 17 of 28 days: past the warning at 14 (common practice, no source: heeled in vines wait two to four weeks).
        assertThat(loaded(owner).locator(".level.soon, .level.over").count()).isPositive();
        picture(owner, "journey-waiting");
    }

    /** Ground: a block from its corners, rows by the contract, accepted. */
    private String layOut(Page owner) {
        open(owner, "/blocks/new");
        owner.fill("#code", "B2");
        owner.fill("#name", "Long Slip");
        owner.fill("#boundary", "0 0\n30 0\n30 40\n0 40");
        press(owner, "Keep the block");
        open(owner, "/blocks/B2/layout");
        owner.fill("[id='rowSpacingM']", "2.2");
        owner.fill("[id='vineSpacingM']", "1.2");
        owner.fill("[id='headlandM']", "6");
        owner.fill("[id='sideMarginM']", "2");
        owner.fill("[id='endGapM']", "0.6");
        owner.fill("[id='rowBearingDeg']", "0");
        owner.fill("[id='firstRowOffsetM']", "0");
        press(owner, "Show the rows");
        assertThat(loaded(owner).locator("main svg").count()).isPositive();
        press(owner, "Accept: make these rows");
        // 26 m across at 2.2 m: 12 rows; 28 m long, half a vine spacing from each end post (common practice, no
        // source): floor((28 - 1.2) / 1.2) + 1 = 23 vines.
        assertThat(text(owner)).contains("12").contains("276");
        picture(owner, "journey-block");
        open(owner, "/year-one");
        return "r1";
    }

    /** Tasks: planting of the first two rows, for the helper. */
    private void planPlanting(Page owner, String lot) {
        open(owner, "/work/plan");
        owner.locator("label.tick:has(input[value='PLANT'])").click();
        owner.selectOption("#block", new com.microsoft.playwright.options.SelectOption().setIndex(1));
        owner.fill("#rows", "1-2");
        String choice = owner.locator("#lot option", new Page.LocatorOptions().setHasText(lot))
                .first()
                .getAttribute("value");
        owner.selectOption("#lot", choice);
        owner.locator("label.tick:has-text('Pip Planter')").click();
        press(owner, "Make the tasks");
        open(owner, "/work");
        assertThat(text(owner)).contains("B2 r1").contains("Pip Planter");
    }

    /** The helper plants row 1 but for places 7 and 12, finds a broken vine, undoes, and logs again. */
    private void plant(Page helper, String lot) {
        open(helper, "/my-day");
        assertThat(text(helper)).contains("B2 r1");
        picture(helper, "journey-my-day");
        helper.locator("main a:has-text('B2 r1')").first().click();
        helper.waitForURL("**/my-day/*");
        helper.fill("#places", "1-99");
        helper.fill("#minutes", "40");
        log(helper);
        assertThat(text(helper)).contains("99");
        helper.fill("#places", "1-23");
        helper.fill("#but", "7, 12");
        helper.fill("#minutes", "40");
        log(helper);
        // The row comes again with the log in its list, whether the page sent it or its script did.
        helper.waitForSelector("text=1-6, 8-11, 13-23");
        picture(helper, "journey-row");
        open(helper, "/lots/" + lot);
        assertThat(text(helper)).contains("57");
    }

    /** Year one: the row is walked, a vine's own page tells where it came from. */
    private void walk(Page owner, String lot, String row) {
        open(owner, "/year-one/B2");
        owner.locator("main table a:has-text('" + row + "')").first().click();
        owner.selectOption("#rest", "GROWING");
        owner.fill("#dead", "3");
        press(owner, "Record the walk");
        owner.waitForSelector("text=1 dead: 3");
        assertThat(text(owner)).contains("1 dead: 3");
        owner.locator("ol.vine-row li:nth-child(3) a").click();
        assertThat(text(owner))
                .contains(lot)
                .contains("Rebschule Achat")
                .contains("Pip Planter")
                .contains("dead");
        picture(owner, "journey-vine");
    }

    /** Progress: what waits, what is planted, what died. */
    private void count(Page owner, String lot) {
        open(owner, "/progress");
        assertThat(text(owner)).contains("57").contains("20").contains(lot);
        assertThat(loaded(owner).locator("main svg").count()).isPositive();
        picture(owner, "journey-count");
        open(owner, "/");
        assertThat(text(owner)).contains(lot);
        assertThat(loaded(owner).evaluate("document.documentElement.scrollWidth <= 390"))
                .isEqualTo(true);
        picture(owner, "journey-today");
    }

    private void open(Page page, String path) {
        page.navigate("/v/" + vineyard.slug() + path);
    }

    /** The log button, whether the page sends it itself or its script does and reloads. */
    private static void log(Page page) {
        page.locator("#log button.wide").click();
        page.waitForLoadState(com.microsoft.playwright.options.LoadState.NETWORKIDLE);
    }

    private static com.microsoft.playwright.Locator field(Page page, String name) {
        return page.locator("[name='lines[0]." + name + "']");
    }

    private static void press(Page page, String button) {
        page.getByRole(
                        AriaRole.BUTTON,
                        new Page.GetByRoleOptions().setName(button).setExact(true))
                .first()
                .click();
        page.waitForLoadState();
    }

    private static String text(Page page) {
        return text(page, "main");
    }
}
