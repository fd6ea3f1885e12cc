package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.ExecutionException;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;
import org.rootling.support.AccessRules;

/** Everybody can read and use every page: WCAG 2.2, levels A and AA, in every width, look and language. */
class DemoAccessTest extends DemoBrowserTest {

    private final AccessRules rules = new AccessRules();

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
