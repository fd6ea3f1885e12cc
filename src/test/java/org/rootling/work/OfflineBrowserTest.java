package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.TimeoutError;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.people.Role;
import org.rootling.people.domain.PeopleService;
import org.rootling.support.BrowserTest;
import org.rootling.support.Signal;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.ConflictService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.context.annotation.Import;

/** Real pages in Chromium with the network off: what opens, what waits, and how it is sent. */
@Import({WorkField.class, OutboxDoor.class})
class OfflineBrowserTest extends BrowserTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    OutboxDoor door;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    ConflictService conflicts;

    @Autowired
    PeopleService people;

    @Autowired
    MessageSource messages;

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
        until(page, "navigator.serviceWorker.controller !== null");
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
        outboxEmpty(page);
    }

    private static void offers(Page page, String places) {
        PlaywrightAssertions.assertThat(page.locator("#places")).hasValue(places);
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
            offers(page, "6-20");
            picture(page, "offline-row-waiting");
            write(page, "6-8", "5");
            waits(page, "2 logs wait to be sent, since");
            openRow(page, second);
            write(page, "3", "1");
            waits(page, "3 logs wait");
            // The same page opened again, still without signal, makes a log of its own.
            openRow(page, first);
            offers(page, "9-20");
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
            until(page, "document.querySelector('img.photo').naturalWidth === 320");
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
            lew.click("button:has-text('Take what is left')");
            assertThat(logs(first)).hasSize(2);
        }
    }

    @Test
    void aPhoneWhoseClockIsADayWrongEitherWayLogsAtTheRightTime() {
        for (int days : new int[] {1, -1}) {
            UUID row = days > 0 ? first : second;
            try (BrowserContext phone = context(390)) {
                phone.addInitScript(
                        "const real = Date.now.bind(Date); Date.now = () => real() + " + days + " * 86400000;");
                Page page = keptDay(phone, Role.HELPER);
                phone.setOffline(true);
                openRow(page, row);
                write(page, "1-3", "4");
                waits(page, "One log waits");
                phone.setOffline(false);
                sent(page);
                assertThat(logs(row)).hasSize(1);
                assertThat(logs(row).get(0).at())
                        .isBetween(
                                Instant.now().minusSeconds(120), Instant.now().plusSeconds(5));
                assertThat(logs(row).get(0).on()).isEqualTo(fields.today(vineyard));
            }
        }
    }

    /** Findings without places, so that none stands against another; put into the phone's store as its page would. */
    private void fillOutbox(Page page, int entries) {
        page.evaluate(
                """
                async ([prefix, account, task, many]) => {
                  const db = await new Promise((done, failed) => { const r = indexedDB.open("rootling-outbox", 1);
                    r.onsuccess = () => done(r.result); r.onerror = () => failed(r.error); });
                  await new Promise((done, failed) => {
                    const t = db.transaction("entries", "readwrite");
                    const start = Date.now() - 3600000;
                    for (let i = 0; i < many; i += 1) {
                      t.objectStore("entries").put({ id: crypto.randomUUID(), prefix, account, task, row: "B2 r1", run: "",
                        places: "B2 r1 1-20", but: "1-20", found: [{ place: String(1 + i % 20), what: "hole-too-wet" }],
                        minutes: 1, at: new Date(start + i * 1000).toISOString(), note: null, person: "",
                        madeAt: start + i * 1000, state: "waiting" });
                    }
                    t.oncomplete = done; t.onerror = () => failed(t.error);
                  });
                  db.close();
                }""",
                List.of("/v/" + vineyard.slug(), vineyard.account(Role.HELPER).toString(), first.toString(), entries));
    }

    @Test
    void aFullOutboxGoesInBatchesAndAnswersThatAreLostDoubleNothing(@TempDir Path storage) throws Exception {
        try (Signal signal = new Signal(port);
                BrowserContext phone = phone(Files.createDirectory(storage.resolve("phone")), signal.port())) {
            Page page = keptDay(phone, Role.HELPER);
            signal.off();
            fillOutbox(page, 1050);
            openRow(page, first);
            waits(page, "1050 logs wait to be sent, since");
            // The server has them; of one answer the phone hears nothing, of the other half.
            door.lose(signal, Map.of(2, 0, 4, 4000));
            signal.on();
            sendUntilSent(page);
            // Six batches hold them all; the two lost went once more, and what a reload of the page cut off may have.
            assertThat(door.batches()).hasSizeBetween(8, 11).allMatch(n -> n > 0 && n <= 200);
            assertThat(door.batches().subList(0, 4)).containsOnly(200);
            assertThat(door.batches().stream().mapToInt(n -> n).sum()).isGreaterThanOrEqualTo(1450);
            assertThat(logs(first)).hasSize(1050);
        }
    }

    /** As somebody who sees that something still waits: again and again. */
    private static void sendUntilSent(Page page) {
        Locator send = page.locator("#outbox button:has-text('Send now')");
        for (int i = 0; i < 120 && page.locator("#outbox").isVisible(); i++) {
            try {
                send.click(new Locator.ClickOptions().setTimeout(1000));
            } catch (TimeoutError goneMeanwhile) {
                // It goes when all is sent.
            }
            page.waitForTimeout(500);
        }
        sent(page);
    }

    @Test
    void whoIsRemovedBetweenTwoBatchesKeepsTheRestAndSendsItOnceBack() {
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            phone.setOffline(true);
            fillOutbox(page, 450);
            door.watch(batch -> {
                if (batch == 2) {
                    vineyard.run(() -> people.endMembership(vineyard.account(Role.HELPER)));
                }
            });
            openRow(page, first);
            waits(page, "450 logs wait");
            phone.setOffline(false);
            waits(page, "You are no longer a member there");
            waits(page, "250 logs wait");
            assertThat(logs(first)).hasSize(200);
            String link = vineyard.inside(
                    () -> people.invite(Role.HELPER, Duration.ofDays(1), null, vineyard.account(Role.OWNER)));
            vineyard.inside(() -> people.acceptAsKnown(link, vineyard.account(Role.HELPER)));
            page.click("#outbox button:has-text('Send now')");
            sent(page);
            assertThat(logs(first)).hasSize(450);
        }
    }

    @Test
    void aPhotoOfEightyMegabytesIsRefusedInWordsWithoutScriptsToo(@TempDir Path files) throws Exception {
        Path film = files.resolve("film.jpg");
        Files.write(film, new byte[80 * 1024 * 1024]);
        try (BrowserContext phone = context(390, false)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            openRow(page, first);
            page.fill("#places", "1-2");
            page.setInputFiles("#photo", film);
            page.click("#log button.wide");
            page.waitForSelector("main:has-text('too large')");
            picture(page, "row-photo-too-large");
            assertThat(logs(first)).isEmpty();
            openRow(page, first);
            page.fill("#places", "1-2");
            page.click("#log button.wide");
            page.waitForSelector(".alert.good");
            assertThat(logs(first)).hasSize(1);
        }
    }

    @Test
    void aHelperReadsTheLogAndWhatWaitsInTheirOwnLanguage() throws Exception {
        for (String language : new String[] {"de", "fr"}) {
            speak(language);
            UUID row = language.equals("de") ? first : second;
            try (BrowserContext phone = context(390)) {
                Page page = keptDay(phone, Role.HELPER);
                openRow(page, row);
                assertThat(loaded(page).locator("html").getAttribute("lang")).isEqualTo(language);
                String shown = text(page, "main");
                for (String key : List.of(
                        "work.step.WEED",
                        "work.row.places",
                        "work.row.but",
                        "work.row.minutes-help",
                        "work.row.log",
                        "work.row.start",
                        "work.found.hole-too-wet",
                        "work.help")) {
                    assertThat(page.content()).as(key).contains(in(language, key));
                }
                assertThat(shown).doesNotContain("Places done").doesNotContain("Log it");
                picture(page, "row-" + language);
                phone.setOffline(true);
                openRow(page, row);
                page.click("[data-clock]");
                assertThat(page.locator("[data-clock]").innerText()).isEqualTo(in(language, "work.row.stop"));
                write(page, "1-3", "4");
                String one = in(language, "work.outbox.one");
                waits(page, one.substring(0, one.indexOf('{')).strip());
                assertThat(text(page, ".notice")).isEqualTo(in(language, "work.outbox.stored"));
                assertThat(text(page, "#outbox button")).isEqualTo(in(language, "work.outbox.send"));
                picture(page, "row-waiting-" + language);
                phone.setOffline(false);
                sent(page);
                assertThat(logs(row)).hasSize(1);
                openRow(page, row);
                write(page, "99", "");
                page.waitForSelector(".notice.danger");
                assertThat(text(page, ".notice"))
                        .isEqualTo(messages.getMessage(
                                "ground.run.outside", new Object[] {99, 1, 20}, Locale.forLanguageTag(language)));
            }
        }
    }

    private void speak(String language) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement set = owner.prepareStatement("update account set locale = ? where id = ?")) {
            set.setString(1, language);
            set.setObject(2, vineyard.account(Role.HELPER));
            set.executeUpdate();
        }
    }

    @Test
    void whoChoosesAnotherLanguageReadsItWithoutSignalToo() throws Exception {
        try (BrowserContext phone = context(390)) {
            Page page = keptDay(phone, Role.HELPER);
            for (String language : new String[] {"fr", "de", "en"}) {
                phone.setOffline(false);
                speak(language);
                page.navigate("/v/" + vineyard.slug() + "/my-day");
                kept(page);
                phone.setOffline(true);
                page.navigate("/v/" + vineyard.slug() + "/lots");
                assertThat(text(page, "h1")).isEqualTo(in(language, "work.offline.title"));
                assertThat(page.getAttribute("html", "lang")).isEqualTo(language);
            }
        }
    }

    private String in(String language, String key) {
        return messages.getMessage(key, new Object[] {"{0}", "{1}"}, Locale.forLanguageTag(language));
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
