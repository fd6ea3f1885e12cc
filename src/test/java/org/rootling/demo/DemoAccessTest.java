package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.FilePayload;
import java.io.IOException;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.ExecutionException;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.Secrets;
import org.rootling.people.domain.TestCodes;
import org.rootling.support.AccessRules;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Everybody can read and use every page: WCAG 2.2, levels A and AA, in every width, look and language. */
class DemoAccessTest extends DemoBrowserTest {

    private static final String PASSWORD = "rows and rows of vines";

    private final AccessRules rules = new AccessRules();

    @Autowired
    JdbcClient jdbc;

    /** By the axe rules, on a page of every route that a link leads to. */
    @Test
    void everyPageMeetsTheAccessibilityRulesInEveryLook() throws IOException, ExecutionException, InterruptedException {
        List<String> wrong = Collections.synchronizedList(new ArrayList<>());
        try (BrowserContext desk = context(1280)) {
            signIn(desk, "owner");
            EveryPage every = everyPage(desk);
            assertThat(every.broken()).as("links that lead to an error").isEmpty();
            List<String> paths =
                    every.pages().stream().map(EveryPage.Found::path).toList();
            eachInTwoBrowsers(paths, session("owner"), (page, path) -> wrong.addAll(rules.check(page, path)));
        }
        assertThat(wrong).isEmpty();
    }

    /** What people meet before they are in, with what it says when something is refused. */
    @Test
    void theDoorMeetsTheAccessibilityRulesInEveryLook() throws IOException {
        List<String> wrong = new ArrayList<>();
        String invitation;
        String dayLink;
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "people");
            owner.selectOption("#role", "HELPER");
            owner.click("main form:has(#role) button");
            invitation = text(owner, ".secret").replaceFirst(".*/join/", "/join/");
            wrong.addAll(rules.look(owner, "an invitation's link"));
            owner.navigate(HOME + "work/people");
            owner.click("main a:has-text('Bram')");
            owner.click("#day-link form button >> nth=0");
            dayLink = text(owner, "#day-link code.secret").replaceFirst(".*/day/", "/day/");
            wrong.addAll(rules.look(owner, "a day's link"));
        }
        try (BrowserContext nobody = context(1280)) {
            Page page = nobody.newPage();
            for (String path : List.of("/sign-in", "/forgotten", "/offline", "/day-over", invitation, dayLink)) {
                page.navigate(path);
                assertThat(loaded(page).url()).endsWith(path);
                picture(page, "door" + path.replaceAll("/([^/]*).*", "-$1"));
                wrong.addAll(rules.look(page, path));
            }
            for (String said : List.of(
                    "/sign-in?failed", "/sign-in?wait", "/sign-in?bye", "/forgotten?sent", "/join/none", "/day/none")) {
                page.navigate(said);
                assertThat(page.locator("main .alert").count()).as(said).isPositive();
                wrong.addAll(rules.look(page, said));
            }
            wrong.addAll(theNewPassword(page));
            wrong.addAll(theCode(page, invitation));
        }
        assertThat(wrong).isEmpty();
    }

    private List<String> theNewPassword(Page page) throws IOException {
        List<String> wrong = new ArrayList<>();
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
        wrong.addAll(rules.look(page, "/way-in"));
        page.fill("#password", "short");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        wrong.addAll(rules.look(page, "/way-in refused"));
        page.navigate("/way-in/none");
        wrong.addAll(rules.look(page, "/way-in not usable"));
        page.navigate("/forgotten");
        page.fill("#email", "no address");
        page.evaluate("document.querySelector('main form').noValidate = true");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        wrong.addAll(rules.look(page, "/forgotten refused"));
        return wrong;
    }

    /** Somebody joins, sets up a second factor, and comes back. */
    private List<String> theCode(Page page, String invitation) {
        List<String> wrong = new ArrayList<>();
        page.navigate(invitation);
        page.fill("#name", "Wim Fields");
        page.fill("#email", "wim@quillow.example");
        page.fill("#password", "short");
        page.click("main form button");
        assertThat(text(page, ".error")).isNotBlank();
        wrong.addAll(rules.look(page, "/join refused"));
        page.fill("#password", PASSWORD);
        page.click("main form button");
        enter(page);
        page.waitForURL("**" + HOME);
        page.navigate("/account/safety");
        page.click("#second-factor form[action$='/begin'] button");
        assertThat(loaded(page).locator("#second-factor svg.qr").count()).isOne();
        wrong.addAll(rules.look(page, "a second factor begun"));
        Instant now = Instant.now();
        String secret = text(page, "#second-factor code");
        page.fill("#code", TestCodes.at(secret, now));
        page.click("#second-factor form[action$='/confirm'] button");
        assertThat(text(page, "#second-factor .codes")).isNotBlank();
        wrong.addAll(rules.look(page, "codes on paper"));
        page.click(".foot form button");
        enter(page);
        page.waitForURL("**/sign-in/code");
        loaded(page);
        picture(page, "door-code");
        wrong.addAll(rules.look(page, "/sign-in/code"));
        page.fill("#code", "000000");
        page.click("main form button");
        assertThat(text(page, ".error, .alert.danger")).isNotBlank();
        wrong.addAll(rules.look(page, "/sign-in/code refused"));
        return wrong;
    }

    private static void enter(Page page) {
        page.waitForURL("**/sign-in?*");
        page.fill("#email", "wim@quillow.example");
        page.fill("#password", PASSWORD);
        page.click("main form button");
    }

    /** What is said when something goes wrong. */
    @Test
    void thePagesOfErrorsMeetTheAccessibilityRulesInEveryLook() throws IOException {
        List<String> wrong = new ArrayList<>();
        try (BrowserContext desk = context(1280);
                BrowserContext others = context(1280)) {
            Page owner = signIn(desk, "owner");
            for (String[] fault : new String[][] {
                {"no-such-page", "404"},
                {"faults/bug", "500"},
                {"faults/away", "503"},
                {"faults/full", "503"},
                {"faults/busy", "429"}
            }) {
                assertThat(owner.navigate(HOME + fault[0]).status())
                        .as(fault[0])
                        .isEqualTo(Integer.parseInt(fault[1]));
                if (fault[1].startsWith("50")) {
                    assertThat(text(owner, "main")).containsPattern("\\b[0-9a-f]{8}\\b");
                }
                picture(owner, "error-" + fault[0].replace('/', '-'));
                wrong.addAll(rules.look(owner, fault[0]));
            }
            Page reader = signIn(others, "reader");
            assertThat(reader.navigate(HOME + "people").status()).isEqualTo(403);
            wrong.addAll(rules.look(reader, "403"));

            owner.navigate(HOME + "settings");
            owner.evaluate("document.querySelector('[name=version]').value = '12345'");
            owner.click("main form button");
            assertThat(text(owner, "main table")).contains("Quillow Bank");
            owner.waitForSelector("main table td:nth-child(3):visible >> nth=0");
            picture(owner, "error-409");
            wrong.addAll(rules.look(owner, "409"));

            owner.navigate(HOME + "imports");
            owner.setInputFiles(
                    "main input[type=file] >> nth=0", new FilePayload("large.csv", "text/csv", new byte[15 << 20]));
            owner.click("main form:has(input[type=file]) button >> nth=0");
            assertThat(text(owner, "main")).contains("large");
            picture(owner, "error-413");
            wrong.addAll(rules.look(owner, "413"));
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void nothingIsLostWithTextOfTwiceTheSizeAndNothingMovesForWhoAskedForLessMotion() throws IOException {
        List<String> wrong = new ArrayList<>();
        for (int width : new int[] {390, 1280}) {
            try (BrowserContext context = context(width)) {
                Page owner = signIn(context, "owner");
                for (String path :
                        new String[] {"", "lots", "blocks/GP", "work/schedule", "my-day", "deliveries/new"}) {
                    wrong.addAll(rules.withTextOfTwiceTheSize(owner, HOME + path));
                    wrong.addAll(rules.moving(owner, HOME + path, true));
                }
                assertThat(rules.moving(owner, HOME, false))
                        .as("the look for motion finds it")
                        .isNotEmpty();
            }
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    void nothingIsCutOnAPhoneInAnyLanguage() throws IOException {
        List<String> wrong = new ArrayList<>();
        for (String language : new String[] {"en-GB", "de-DE", "fr-FR"}) {
            try (BrowserContext phone = context(390, language)) {
                Page owner = signIn(phone, "owner");
                for (String path : new String[] {
                    "",
                    "my-day",
                    "lots",
                    "deliveries/new",
                    "blocks/GP",
                    "blocks/GP/stake-out",
                    "work",
                    "work/schedule",
                    "year-one/GP",
                    "progress",
                    "review",
                    "weather",
                    "trellis/order",
                    "more"
                }) {
                    owner.navigate(HOME + path);
                    assertThat(owner.getAttribute("html", "lang")).isEqualTo(language.substring(0, 2));
                    wrong.addAll(rules.lost(owner, language + " " + path));
                    picture(owner, language + "-" + path.replace('/', '-'));
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** A picture has a name, and says where the same can be read: by reference, or by a link beside it. */
    @Test
    void everyDrawingHasANameAndSaysWhereTheSameIsToBeRead() throws IOException {
        List<String> wrong = new ArrayList<>();
        int drawings = 0;
        try (BrowserContext desk = context(1280)) {
            signIn(desk, "owner");
            for (EveryPage.Found found : everyPage(desk).pages()) {
                for (Element drawing : found.page().select("main svg")) {
                    boolean ornament = drawing.closest("[aria-hidden=true]") != null;
                    if (ornament && !drawing.is(".plan, .plot:not(.bar)")) {
                        continue;
                    }
                    drawings++;
                    String where = found.path() + " " + drawing.attr("class") + " ";
                    if (ornament) {
                        wrong.add(where + "is hidden from those who do not see it");
                    }
                    if (!drawing.attr("role").matches("img|group")) {
                        wrong.add(where + "has no role");
                    }
                    if (name(drawing).isBlank()) {
                        wrong.add(where + "has no name");
                    }
                    if (!drawing.hasClass("qr") && !isToldElsewhere(drawing)) {
                        wrong.add(where + "does not say where the same is to be read");
                    }
                }
                for (Element picture : found.page().select("main img")) {
                    Element around = picture.parent();
                    if (!picture.hasAttr("alt")
                            || (picture.attr("alt").isBlank() && around.text().isBlank())) {
                        wrong.add(found.path() + " " + picture.attr("src") + " has no words");
                    }
                }
            }
        }
        assertThat(wrong).isEmpty();
        assertThat(drawings).isGreaterThan(10);
    }

    private static String name(Element drawing) {
        Element named =
                drawing.ownerDocument().selectFirst("[id='" + drawing.attr("aria-labelledby") + "']:not([id=''])");
        return drawing.attr("aria-label") + drawing.select("> title").text() + (named == null ? "" : named.text());
    }

    private static boolean isToldElsewhere(Element drawing) {
        for (String id : drawing.attr("aria-details").split(" ")) {
            Element told = id.isBlank() ? null : drawing.ownerDocument().getElementById(id);
            if (told != null && (told.is("table, dl, ul, ol") || told.selectFirst("table, dl, ul, ol, a, p") != null)) {
                return !told.text().isBlank();
            }
        }
        return false;
    }
}
