package org.rootling.demo;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.Media;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.rootling.support.Axe;

/**
 * The axe rules of WCAG 2.2, levels A and AA, on one page in one look; and that nothing sticks out to the side, with
 * text of twice the size on a phone and on paper.
 */
final class AccessRules {

    /** How a page is looked at: its width in pixels, and light, dark or high contrast. */
    record Look(int width, String theme) {}

    /** Ordered so that a look and the one three behind it differ in width and in theme. */
    static final List<Look> LOOKS = List.of(
            new Look(390, "light"),
            new Look(390, "dark"),
            new Look(390, "contrast"),
            new Look(1280, "dark"),
            new Look(1280, "contrast"),
            new Look(1280, "light"));

    /** What reaches beyond the right edge of the page, if the page can be moved sideways. */
    private static final String OUTSIDE = """
            () => {
              const width = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= width) return null;
              return [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > width + 1)
                .slice(-3).map(e => e.tagName + ' ' + e.className + ' ' + e.textContent.trim().slice(0, 30)).join(' | ');
            }""";

    /** What the rules find wrong with a page. */
    List<String> check(Map<Integer, BrowserContext> widths, String path, Look look) {
        BrowserContext context = widths.get(look.width());
        Page page = context.pages().get(0);
        page.emulateMedia(new Page.EmulateMediaOptions()
                .setColorScheme(look.theme().equals("dark") ? ColorScheme.DARK : ColorScheme.LIGHT));
        page.navigate(path);
        page.evaluate(
                "on => document.documentElement.classList.toggle('contrast', on)",
                look.theme().equals("contrast"));
        List<String> wrong = new ArrayList<>();
        for (String line : Axe.violations(page)) {
            wrong.add(path + " " + look.width() + " " + look.theme() + " " + line);
        }
        outside(page, wrong, path + " " + look.width());
        if (look.width() == 390) {
            page.evaluate("document.documentElement.style.fontSize = '200%'");
            outside(page, wrong, path + " with text of 200 %");
        } else {
            // An A4 page less its margins is 182 mm wide, a Letter page 188 mm.
            page.setViewportSize(688, 900);
            page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
            outside(page, wrong, path + " printed");
            page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));
            page.setViewportSize(look.width(), 900);
        }
        return wrong;
    }

    private static void outside(Page page, List<String> wrong, String what) {
        Object over = page.evaluate(OUTSIDE);
        if (over != null) {
            wrong.add(what + " sticks out: " + over);
        }
    }
}
