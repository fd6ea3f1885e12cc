package org.rootling.support;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.Media;
import com.microsoft.playwright.options.ReducedMotion;
import java.util.ArrayList;
import java.util.List;

/**
 * The axe rules of WCAG 2.2, levels A and AA, on one page in both widths and in light and dark, and in high contrast; and that
 * nothing sticks out to the side, with text of twice the size on a phone and on paper.
 *
 * <p>Every rule sees the whole page once, at a desk in light. What a rule could find in another look it finds in one of a
 * hundred lines of the same form as well, so that only three of each are left for the others: that is most of the time.
 */
public final class AccessRules {

    private static final int PHONE = 390;
    private static final int DESK = 1280;
    private static final int HEIGHT = 900;

    /** Takes away what has the form of three brothers and sisters before it: same elements, classes, roles and states. */
    private static final String THREE_OF_A_FORM = """
            () => {
              const says = ['class', 'role', 'type', 'disabled', 'hidden', 'open', 'scope', 'fill', 'stroke',
                'aria-current', 'aria-invalid', 'aria-sort', 'aria-hidden', 'aria-disabled'];
              const form = e => e.tagName + says.map(a => e.getAttribute(a) ?? '').join()
                + (e.children.length ? [...e.children].map(form).join() : e.textContent.trim() ? 'text' : '') + ';';
              for (const parent of document.querySelectorAll('main, main *')) {
                const seen = new Map();
                for (const child of parent.children.length > 6 ? [...parent.children] : []) {
                  const one = form(child);
                  seen.set(one, (seen.get(one) ?? 0) + 1);
                  if (seen.get(one) > 3) child.remove();
                }
              }
            }""";

    /** What reaches beyond the right edge of the page, if the page can be moved sideways. */
    private static final String OUTSIDE = """
            () => {
              const width = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= width) return null;
              return [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > width + 1)
                .slice(-3).map(e => e.tagName + ' ' + e.className + ' ' + e.textContent.trim().slice(0, 30)).join(' | ');
            }""";

    /** Words that are cut off by their box, and buttons and fields that something else lies on. */
    private static final String LOST = """
            () => {
              const lost = [];
              const shown = e => e.checkVisibility() && e.getBoundingClientRect().width > 1;
              for (const e of document.querySelectorAll('header *, main *, nav *')) {
                if (e instanceof SVGElement || !shown(e) || !e.textContent.trim()) continue;
                const style = getComputedStyle(e);
                const cut = v => v === 'hidden' || v === 'clip';
                if ((cut(style.overflowX) && e.scrollWidth > e.clientWidth + 1)
                    || (cut(style.overflowY) && e.scrollHeight > e.clientHeight + 1)) {
                  lost.push('cut off: ' + e.outerHTML.slice(0, 120));
                }
              }
              for (const e of document.querySelectorAll('main button, main select, main input:not([type=hidden])')) {
                if (!shown(e)) continue;
                e.scrollIntoView({ block: 'center', inline: 'nearest' });
                const r = e.getBoundingClientRect();
                const top = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
                if (!top || !(e.contains(top) || top.contains(e) || [...(e.labels || [])].some(l => l.contains(top)))) {
                  lost.push('covered: ' + e.outerHTML.slice(0, 120) + ' by ' + (top ? top.outerHTML.slice(0, 80) : 'nothing'));
                }
              }
              return lost.slice(0, 5);
            }""";

    /** Whatever moves or would move, also with rules that ask everything and its surroundings to move. */
    private static final String MOVING = """
            () => {
              const sheet = [...document.styleSheets].find(s => s.href && s.href.startsWith(location.origin));
              sheet.insertRule('body, button, a::before { transition: opacity 5s; animation: moving 5s infinite }', 0);
              sheet.insertRule('@keyframes moving { to { opacity: .5 } }', 0);
              document.body.style.opacity = '.9';
              getComputedStyle(document.body).opacity;
              return document.getAnimations().map(a => (a.animationName || a.transitionProperty) + ' of '
                + a.effect.target.tagName).slice(0, 5);
            }""";

    /** What the rules find wrong with a page: loaded once, looked at in every look. */
    public List<String> check(Page page, String path) {
        light(page);
        page.navigate(path);
        return look(page, path);
    }

    /** The same for the page that is open, however it was reached. */
    public List<String> look(Page page, String name) {
        List<String> wrong = new ArrayList<>();
        light(page);
        page.setViewportSize(DESK, HEIGHT);
        Axe.load(page);
        rules(page, Axe.EVERY_RULE, wrong, name + " desk light ");
        outside(page, wrong, name + " desk");
        page.setViewportSize(PHONE, HEIGHT);
        outside(page, wrong, name + " phone");
        page.evaluate("document.documentElement.style.fontSize = '200%'");
        outside(page, wrong, name + " phone with text of 200 %");
        page.evaluate("document.documentElement.style.fontSize = ''");
        // An A4 page less its margins is 182 mm wide, a Letter page 188 mm.
        page.setViewportSize(688, HEIGHT);
        page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
        outside(page, wrong, name + " printed");
        page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));

        page.evaluate(THREE_OF_A_FORM);
        page.setViewportSize(PHONE, HEIGHT);
        rules(page, Axe.EVERY_RULE, wrong, name + " phone light ");
        page.evaluate("document.documentElement.classList.add('contrast')");
        rules(page, Axe.COLOURS, wrong, name + " phone contrast ");
        page.evaluate("document.documentElement.classList.remove('contrast')");
        page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.DARK));
        rules(page, Axe.COLOURS, wrong, name + " phone dark ");
        page.setViewportSize(DESK, HEIGHT);
        rules(page, Axe.COLOURS, wrong, name + " desk dark ");
        light(page);
        return wrong;
    }

    /** What sticks out, is cut off or covered on the page that is open, in its own width. */
    public List<String> lost(Page page, String name) {
        List<String> wrong = new ArrayList<>();
        for (Object lost : (List<?>) page.evaluate(LOST)) {
            wrong.add(name + " " + lost);
        }
        outside(page, wrong, name);
        return wrong;
    }

    /** What is lost of a page when its text is twice as large (WCAG 2.2, 1.4.4). */
    public List<String> withTextOfTwiceTheSize(Page page, String path) {
        page.navigate(path);
        page.evaluate("document.documentElement.style.fontSize = '200%'");
        return lost(page, path + " with text of 200 %");
    }

    /** What moves on a page for a person who did, or did not, ask their device for less motion (WCAG 2.2, 2.3.3). */
    public List<String> moving(Page page, String path, boolean lessMotion) {
        page.emulateMedia(new Page.EmulateMediaOptions()
                .setReducedMotion(lessMotion ? ReducedMotion.REDUCE : ReducedMotion.NO_PREFERENCE));
        page.navigate(path);
        List<String> moving = new ArrayList<>();
        for (Object one : (List<?>) page.evaluate(MOVING)) {
            moving.add(path + " " + one);
        }
        return moving;
    }

    private static void light(Page page) {
        page.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.LIGHT));
    }

    private static void rules(Page page, List<String> rules, List<String> wrong, String where) {
        for (String line : Axe.violations(page, rules)) {
            wrong.add(where + line);
        }
    }

    private static void outside(Page page, List<String> wrong, String what) {
        Object over = page.evaluate(OUTSIDE);
        if (over != null) {
            wrong.add(what + " sticks out: " + over);
        }
    }
}
