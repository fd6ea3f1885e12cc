package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Response;
import com.microsoft.playwright.options.FilePayload;
import java.io.IOException;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.people.domain.Secrets;
import org.rootling.people.domain.TestCodes;
import org.rootling.support.AccessRules;
import org.rootling.support.Spoken;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * What people meet outside of a vineyard, and what is said when something goes wrong, can be read and used by everybody
 * (WCAG 2.2, levels A and AA) in the language that their browser asks for, and says nothing in another.
 */
class DemoDoorTest extends DemoBrowserTest {

    private static final String PASSWORD = "rows and rows of vines";

    private final AccessRules rules = new AccessRules();

    @Autowired
    JdbcClient jdbc;

    @Autowired
    MessageSource messages;

    /** One language's look at pages. */
    private final class Look {
        private final String language;
        private final Spoken spoken;
        private final List<String> wrong = new ArrayList<>();

        Look(String locale) {
            language = locale.substring(0, 2);
            spoken = new Spoken(
                    language,
                    "Rootling",
                    "Bram from the village",
                    "Quillow Bank",
                    "= Quillow Bank",
                    "Europe/Berlin",
                    "= Europe/Berlin");
        }

        String words(String key) {
            return messages.getMessage(key, null, Locale.forLanguageTag(language));
        }

        /** The page that is open, in every look. */
        void at(Page page, String name) {
            wrong.addAll(spoken.otherwise(loaded(page), name));
            wrong.addAll(rules.look(page, language + " " + name));
        }

        /** The same, with pictures at the width of a phone and of a desk. */
        void pictured(Page page, String name) {
            loaded(page);
            for (int width : new int[] {390, 1280}) {
                page.setViewportSize(width, 844);
                picture(page, language + "-" + name + "-" + width);
            }
            at(page, name);
        }

        /** A page inside a vineyard has names and days of its own: only by the rules. */
        void inside(Page page, String name) {
            wrong.addAll(rules.look(loaded(page), language + " " + name));
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"en-GB", "de-DE", "fr-FR"})
    void theDoorIsForEverybody(String locale) throws IOException {
        Look look = new Look(locale);
        String invitation;
        String dayLink;
        try (BrowserContext desk = context(1280, locale)) {
            Page owner = signIn(desk, "owner");
            owner.navigate("/vineyards");
            look.pictured(owner, "vineyards");
            owner.evaluate("document.querySelector('main details').open = true");
            owner.evaluate("document.querySelector('main form').noValidate = true");
            owner.click("main form.sheet button");
            loaded(owner).waitForSelector("main .error:visible");
            look.at(owner, "vineyards-refused");
            owner.navigate(HOME + "people");
            owner.selectOption("#role", "HELPER");
            owner.click("main form:has(#role) button");
            invitation = text(owner, ".secret").replaceFirst(".*/join/", "/join/");
            look.inside(owner, "an invitation's link");
            owner.navigate(invitation);
            look.at(owner, "join-as-me");
            owner.navigate(HOME + "work/people");
            owner.click("main tr:has-text('Bram') a[href*='/work/people/']:not([href*='#'])");
            owner.click("#day-link form button >> nth=0");
            dayLink = text(owner, "#day-link code.secret").replaceFirst(".*/day/", "/day/");
            look.inside(owner, "a day's link");
        }
        try (BrowserContext nobody = context(1280, locale)) {
            Page page = nobody.newPage();
            for (String path : List.of("/sign-in", "/forgotten", "/offline", "/day-over", invitation, dayLink)) {
                page.navigate(path);
                assertThat(loaded(page).url()).endsWith(path);
                look.pictured(page, "door" + path.replaceAll("/([^/]*).*", "-$1"));
            }
            for (String said : List.of(
                    "/sign-in?failed",
                    "/sign-in?wait",
                    "/sign-in?bye",
                    "/sign-in?joined",
                    "/sign-in?ready",
                    "/forgotten?sent",
                    "/join/none",
                    "/day/none")) {
                page.navigate(said);
                assertThat(page.locator("main .alert").count()).as(said).isPositive();
                look.at(page, said);
            }
            page.navigate("/sign-in");
            nobody.clearCookies();
            enter(page, "wim@quillow.example");
            page.waitForSelector("main .button");
            look.pictured(page, "door-lapsed");
            theNewPassword(page, look);
            theCode(page, invitation, look);
        }
        assertThat(look.wrong).isEmpty();
    }

    private void theNewPassword(Page page, Look look) throws IOException {
        String secret = Secrets.next();
        jdbc.sql("select email from rootling_make_way_in(:email, :hash, :now, :expires)")
                .param("email", signIns("reader").get("email").stringValue())
                .param("hash", Secrets.hash(secret))
                .param("now", Timestamp.from(Instant.now()))
                .param("expires", Timestamp.from(Instant.now().plus(Duration.ofMinutes(30))))
                .query(String.class)
                .single();
        page.navigate("/way-in/" + secret);
        assertThat(page.locator("#password").count()).isOne();
        look.pictured(page, "way-in");
        page.fill("#password", "short");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        look.at(page, "way-in refused");
        page.navigate("/way-in/none");
        look.at(page, "way-in not usable");
        page.navigate("/forgotten");
        page.fill("#email", "no address");
        page.evaluate("document.querySelector('main form').noValidate = true");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        look.at(page, "forgotten refused");
    }

    /** Somebody joins, sets up a second factor, and comes back. */
    private void theCode(Page page, String invitation, Look look) {
        String email = "wim-" + look.language + "@quillow.example";
        page.navigate(invitation);
        page.fill("#name", "Wim Fields");
        page.fill("#email", email);
        page.fill("#password", "short");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        look.pictured(page, "join-refused");
        page.fill("#password", PASSWORD);
        page.click("main form button");
        page.waitForURL("**/sign-in?*");
        enter(page, email);
        page.waitForURL("**" + HOME);
        page.navigate("/account/safety");
        page.click("#second-factor form[action$='/begin'] button");
        assertThat(loaded(page).locator("#second-factor svg.qr").count()).isOne();
        look.inside(page, "a second factor begun");
        Instant now = Instant.now();
        String secret = text(page, "#second-factor code");
        page.fill("#code", TestCodes.at(secret, now));
        page.click("#second-factor form[action$='/confirm'] button");
        assertThat(text(page, "#second-factor .codes")).isNotBlank();
        look.inside(page, "codes on paper");
        page.click(".foot form button");
        page.waitForURL("**/sign-in?*");
        enter(page, email);
        page.waitForURL("**/sign-in/code");
        look.pictured(page, "door-code");
        page.fill("#code", "000000");
        page.click("main form button");
        assertThat(text(page, ".error, .alert.danger")).isNotBlank();
        look.at(page, "door-code refused");
    }

    private static void enter(Page page, String email) {
        page.fill("#email", email);
        page.fill("#password", PASSWORD);
        page.click("main form button");
    }

    /** What is said when something goes wrong; the menu and the foot of the page are the vineyard's as ever. */
    @ParameterizedTest
    @ValueSource(strings = {"en-GB", "de-DE", "fr-FR"})
    void thePagesOfErrorsAreForEverybody(String locale) throws IOException {
        Look look = new Look(locale);
        try (BrowserContext desk = context(1280, locale);
                BrowserContext others = context(1280, locale)) {
            Page owner = signIn(desk, "owner");
            for (String[] fault : new String[][] {
                {"no-such-page", "404"},
                {"people/no-id", "404"},
                {"trellis/order/item", "400"},
                {"lots?on=%zz", "400"},
                {"settings/nothing", "404"},
                {"people/codes", "404"},
                {"trellis/order/keep", "405"},
                {"faults/bug", "500"},
                {"faults/away", "503"},
                {"faults/full", "503"},
                {"faults/busy", "429"}
            }) {
                Response answer = owner.navigate(HOME + fault[0]);
                assertThat(answer.status()).as(fault[0]).isEqualTo(Integer.parseInt(fault[1]));
                if (fault[1].startsWith("50")) {
                    assertThat(text(owner, "main")).containsPattern("\\b[0-9a-f]{8}\\b");
                }
                if (fault[1].startsWith("4")) {
                    assertThat(text(owner, "h1")).isNotEqualTo(look.words("platform.error.500.title"));
                }
                look.pictured(owner, "error-" + fault[0].replaceAll("[/?%]", "-"));
            }
            Page reader = signIn(others, "reader");
            assertThat(reader.navigate(HOME + "people").status()).isEqualTo(403);
            look.pictured(reader, "error-403");

            owner.navigate(HOME + "settings");
            owner.evaluate("document.querySelector('[name=version]').value = '12345'");
            owner.click("main form button");
            assertThat(text(owner, "main table")).contains("Quillow Bank");
            owner.waitForSelector("main table td:nth-child(3):visible >> nth=0");
            look.pictured(owner, "error-409");

            owner.navigate(HOME + "imports");
            owner.setInputFiles(
                    "main input[type=file] >> nth=0", new FilePayload("large.csv", "text/csv", new byte[15 << 20]));
            owner.click("main form:has(input[type=file]) button >> nth=0");
            owner.waitForSelector("main .alert.danger");
            look.pictured(owner, "error-413");
        }
        assertThat(look.wrong).isEmpty();
    }

    /** Who chose a language reads it here too, whatever the browser asks for. */
    @Test
    void whoChoseALanguageIsToldInItWhatWentWrong() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page reader = signIn(desk, "reader");
            choose(reader, "fr");
            try {
                for (String path : List.of(
                        "/offline",
                        "/vineyards",
                        "/join/none",
                        "/no-such-page",
                        HOME + "no-such-page",
                        HOME + "people",
                        HOME + "lots?on=%zz",
                        HOME + "trellis/order/keep",
                        HOME + "faults/bug",
                        HOME + "faults/busy",
                        HOME + "faults/away")) {
                    reader.navigate(path);
                    assertThat(loaded(reader).getAttribute("html", "lang"))
                            .as(path)
                            .isEqualTo("fr");
                }
            } finally {
                choose(reader, "auto");
            }
        }
    }

    private static void choose(Page page, String language) {
        page.navigate("/account");
        page.selectOption("#locale", language);
        page.click("main form.sheet button >> nth=0");
        page.waitForURL("**/account?saved");
    }

    /** The check itself: of a page in German every sentence is foreign to who reads French. */
    @ParameterizedTest
    @ValueSource(strings = {"/sign-in", "/offline"})
    void whatIsSaidInAnotherLanguageIsFound(String path) {
        try (BrowserContext nobody = context(390, "de-DE")) {
            Page page = nobody.newPage();
            page.navigate(path);
            assertThat(new Spoken("fr", "Rootling").otherwise(page, path))
                    .contains(path + " says it is in de, not fr")
                    .hasSizeGreaterThan(3);
        }
    }
}
