package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.people.Role;
import org.rootling.people.domain.PeopleService;
import org.rootling.support.BrowserTest;
import org.rootling.support.Signal;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.ConflictService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** Real pages in Chromium with the network off: what opens, what waits, and how it is sent. */
@Import(WorkField.class)
class OfflineBrowserTest extends BrowserTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    ConflictService conflicts;

    @Autowired
    PeopleService people;

    private TestVineyard vineyard;
    private UUID first;
    private UUID second;

    @BeforeEach
    void twoRowsToWeed() {
        vineyard = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 2, 50);
        List<UUID> both = List.of(vineyard.account(Role.HELPER), vineyard.account(Role.LEAD));
        first = vineyard.inside(
                () -> tasks.create(new NewTask("WEED", field.row(1), null, null, fields.today(vineyard), both, null)));
        second = vineyard.inside(
                () -> tasks.create(new NewTask("WEED", field.row(2), null, null, null, both, "mind the hose")));
    }

    /** Opens my day once with signal and waits until it is kept. */
    private Page keptDay(BrowserContext phone, Role role) {
        Page page = signedIn(phone, vineyard, role);
        page.navigate("/v/" + vineyard.slug() + "/my-day");
        kept(page);
        // From here on the service worker answers.
        page.waitForFunction("navigator.serviceWorker.controller !== null");
        return page;
    }

    private static void kept(Page page) {
        page.waitForSelector(
                "#outbox[data-kept=true]", new Page.WaitForSelectorOptions().setState(WaitForSelectorState.ATTACHED));
    }

    private void openRow(Page page, UUID task) {
        page.navigate("/v/" + vineyard.slug() + "/my-day/" + task);
    }

    private static void write(Page page, String places, String minutes) {
        page.fill("#places", places);
        page.fill("#minutes", minutes);
        page.click("#log button.wide");
    }

    private static String bar(Page page) {
        Locator box = page.locator("#outbox");
        box.waitFor(new Locator.WaitForOptions().setState(WaitForSelectorState.VISIBLE));
        return box.innerText();
    }

    private static void waits(Page page, String text) {
        page.waitForSelector("#outbox:has-text('" + text + "')");
    }

    private static void sent(Page page) {
        page.waitForSelector("#outbox", new Page.WaitForSelectorOptions().setState(WaitForSelectorState.HIDDEN));
        page.waitForFunction("(async () => (await Outbox.all()).length === 0)()");
    }

    private List<FieldLog.Logged> logs(UUID task) {
        return vineyard.inside(() -> log.ofTask(task));
    }

    @Test
    void tasksAndRowsOpenWithoutSignalAndLogsWaitAndAreSentInOrderWhenThereIsSignal() {
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            page.reload();
            assertThat(text(page, "main")).contains("B2 r1").contains("B2 r2").contains("mind the hose");
            page.click("a.task-card:has-text('B2 r1')");
            assertThat(loaded(page).locator(".strip li").count()).isEqualTo(20);
            write(page, "1-5", "10");
            waits(page, "One log waits to be sent, since");
            assertThat(text(page, "main")).contains("Kept on this phone");
            // What waits is marked and not offered again.
            assertThat(loaded(page).locator(".strip li.waiting").count()).isEqualTo(5);
            page.waitForFunction("document.querySelector('#places').value === '6-20'");
            picture(page, "offline-row-waiting");
            write(page, "6-8", "5");
            waits(page, "2 logs wait to be sent, since");
            openRow(page, second);
            write(page, "3", "1");
            waits(page, "3 logs wait");
            // The same page opened again, still without signal, makes a log of its own.
            openRow(page, first);
            page.waitForFunction("document.querySelector('#places').value === '9-20'");
            write(page, "9", "2");
            waits(page, "4 logs wait");
            page.navigate("/v/" + vineyard.slug() + "/lots");
            assertThat(text(page, "main")).contains("No signal");
            assertThat(bar(page)).contains("4 logs wait to be sent, since");
            picture(page, "offline-other-page");
            assertThat(logs(first)).isEmpty();
            phone.setOffline(false);
            sent(page);
            assertThat(logs(first))
                    .extracting(l -> List.copyOf(l.places()))
                    .containsExactly(List.of(1, 2, 3, 4, 5), List.of(6, 7, 8), List.of(9));
            assertThat(logs(second)).hasSize(1);
            assertThat(logs(first)).extracting(FieldLog.Logged::minutes).containsExactly(10, 5, 2);
        }
    }

    @Test
    void whatWaitsSurvivesTheBrowserBeingClosedAndTheSessionEnding(@TempDir Path storage) throws Exception {
        Path folder = Files.createDirectory(storage.resolve("phone"));
        try (Signal signal = new Signal(port)) {
            try (BrowserContext phone = phone(folder, signal.port())) {
                Page page = keptDay(phone, Role.HELPER);
                signal.off();
                openRow(page, first);
                write(page, "1-4", "7");
                waits(page, "One log waits");
            }
            try (BrowserContext phone = phone(folder, signal.port())) {
                Page page = phone.newPage();
                page.navigate("/v/" + vineyard.slug() + "/my-day");
                assertThat(text(page, "main")).contains("B2 r1");
                assertThat(bar(page)).contains("One log waits to be sent, since");
                openRow(page, first);
                write(page, "5-6", "3");
                waits(page, "2 logs wait");
                signal.on();
                phone.clearCookies();
                page.click("#outbox button:has-text('Send now')");
                waits(page, "Sign in again to send them. Nothing is lost.");
                picture(page, "offline-signed-out");
                page.click("#outbox a");
                page.waitForURL("**/sign-in");
                assertThat(bar(page)).contains("2 logs wait");
                assertThat(logs(first)).isEmpty();
                page.fill("#email", vineyard.email(Role.HELPER));
                page.fill("#password", TestVineyards.PASSWORD);
                page.click("main button");
                page.waitForURL("**/my-day*");
                sent(page);
                assertThat(logs(first)).extracting(FieldLog.Logged::minutes).containsExactly(7, 3);
            }
        }
    }

    @Test
    void aPhotoWaitsWithItsLogAndIsSentAfterIt(@TempDir Path files) throws Exception {
        Path photo = files.resolve("row.jpg");
        javax.imageio.ImageIO.write(
                new java.awt.image.BufferedImage(3000, 1500, java.awt.image.BufferedImage.TYPE_INT_RGB),
                "jpg",
                photo.toFile());
        Path tooLarge = files.resolve("film.jpg");
        Files.write(tooLarge, new byte[80 * 1024 * 1024]);
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            openRow(page, first);
            page.setInputFiles("#photo", tooLarge);
            write(page, "1-2", "3");
            page.waitForSelector(".notice:has-text('The photo has 80 MB; at most 12 MB can be kept')");
            assertThat(loaded(page).locator("#outbox").isVisible()).isFalse();
            page.setInputFiles("#photo", photo);
            page.click("#log button.wide");
            waits(page, "One log waits");
            phone.setOffline(false);
            sent(page);
            assertThat(logs(first)).hasSize(1);
            openRow(page, first);
            assertThat(loaded(page).locator("img.photo").count()).isEqualTo(1);
            page.waitForFunction("document.querySelector('img.photo').naturalWidth === 320");
            picture(page, "row-photo");
        }
    }

    @Test
    void ofTwoPhonesOnOneRowTheFirstIsTakenAndTheOtherKeptForALead() {
        try (BrowserContext one = context(390);
                BrowserContext two = context(390)) {
            Page hana = keptDay(one, Role.HELPER);
            Page lew = keptDay(two, Role.LEAD);
            one.setOffline(true);
            two.setOffline(true);
            openRow(hana, first);
            write(hana, "1-10", "20");
            waits(hana, "One log waits");
            openRow(lew, first);
            write(lew, "8-12", "9");
            waits(lew, "One log waits");
            one.setOffline(false);
            sent(hana);
            two.setOffline(false);
            lew.waitForSelector(".notice:has-text('Kept for a lead to settle')");
            picture(lew, "offline-conflict");
            sent(lew);
            assertThat(logs(first)).hasSize(1);
            List<ConflictService.Conflict> open = vineyard.inside(() -> conflicts.open());
            assertThat(open).hasSize(1);
            assertThat(open.get(0).by()).isEqualTo(vineyard.account(Role.LEAD));
            assertThat(open.get(0).stillLeft()).containsExactly(11, 12);
            lew.navigate("/v/" + vineyard.slug() + "/work/conflicts");
            lew.click("text=Take what is left");
            assertThat(logs(first)).hasSize(2);
        }
    }

    @Test
    void aPhoneWhoseClockIsADayWrongLogsAtTheRightTime() {
        try (BrowserContext phone = context(390)) {
            phone.addInitScript("const real = Date.now.bind(Date); Date.now = () => real() + 86400000;");
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            openRow(page, first);
            write(page, "1-3", "4");
            waits(page, "One log waits");
            phone.setOffline(false);
            sent(page);
            assertThat(logs(first)).hasSize(1);
            assertThat(logs(first).get(0).at())
                    .isBetween(Instant.now().minusSeconds(120), Instant.now().plusSeconds(5));
            assertThat(logs(first).get(0).on()).isEqualTo(fields.today(vineyard));
        }
    }

    @Test
    void whoIsRemovedWhileTheOutboxIsFullLosesNothing() {
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            openRow(page, first);
            write(page, "1-3", "4");
            waits(page, "One log waits");
            vineyard.run(() -> people.endMembership(vineyard.account(Role.HELPER)));
            phone.setOffline(false);
            waits(page, "You are no longer a member there");
            picture(page, "offline-removed");
            String saved = page.waitForDownload(() -> page.click("#outbox button:has-text('Save as a file')"))
                    .suggestedFilename();
            assertThat(saved).isEqualTo("field-logs.json");
            assertThat(logs(first)).isEmpty();
            String link = vineyard.inside(
                    () -> people.invite(Role.HELPER, Duration.ofDays(1), null, vineyard.account(Role.OWNER)));
            vineyard.inside(() -> people.acceptAsKnown(link, vineyard.account(Role.HELPER)));
            page.click("#outbox button:has-text('Send now')");
            sent(page);
            assertThat(logs(first)).hasSize(1);
        }
    }

    @Test
    void anotherPersonOnTheSamePhoneNeitherSeesNorSendsTheFirstOnesDay() {
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            openRow(page, first);
            write(page, "1-3", "4");
            waits(page, "One log waits");
            phone.setOffline(false);
            sent(page);
            openRow(page, first);
            phone.setOffline(true);
            write(page, "4", "1");
            waits(page, "One log waits");
            phone.clearCookies();
            phone.setOffline(false);
            waits(page, "Sign in again");
            page.navigate("/sign-in");
            page.fill("#email", vineyard.email(Role.LEAD));
            page.fill("#password", TestVineyards.PASSWORD);
            page.click("main button");
            page.waitForURL("**/v/**");
            waits(page, "made by someone else on this phone");
            assertThat(logs(first)).hasSize(1);
            phone.setOffline(true);
            page.navigate("/v/" + vineyard.slug() + "/my-day");
            assertThat(text(page, "main")).contains("No signal");
        }
    }
}
