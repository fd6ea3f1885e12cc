package org.rootling.support;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.LoadState;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** A person who has a keyboard and nothing else, and who always wants to see where they are. */
public final class Keyboard {

    private static final int FAR = 150;

    /** Where the focus is, and what is wrong with how it shows; empty where nothing is. */
    private static final String SEEN = """
            () => {
              const e = document.activeElement;
              if (!e || e === document.body || e.id === 'main') return '';
              const style = getComputedStyle(e);
              const own = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
              const next = e.nextElementSibling ? getComputedStyle(e.nextElementSibling) : null;
              const beside = next !== null && next.outlineStyle !== 'none' && parseFloat(next.outlineWidth) >= 2;
              const drawn = e instanceof SVGElement && style.stroke !== 'none' && parseFloat(style.strokeWidth) >= 2;
              if (!own && !beside && !drawn) return 'no focus to see: ' + e.outerHTML.slice(0, 120);
              const r = e.getBoundingClientRect();
              if (r.bottom <= 0 || r.top >= innerHeight) return 'focus out of sight: ' + e.outerHTML.slice(0, 120);
              const top = document.elementFromPoint(Math.min(innerWidth - 1, Math.max(0, r.left + r.width / 2)),
                Math.min(innerHeight - 1, Math.max(0, r.top + Math.min(r.height / 2, 12))));
              const drawing = e.ownerSVGElement;
              const covered = top !== null && !e.contains(top) && !top.contains(e) && !(drawing && drawing.contains(top)) && !(e.labels && [...e.labels].some(l => l.contains(top)));
              return covered ? 'focus is covered: ' + e.outerHTML.slice(0, 120) : '';
            }""";

    /** The number of the element with the focus, in the order of the page; nothing where the page has none. */
    private static final String WHERE = """
            () => {
              const e = document.activeElement;
              return !e || e === document.body ? null : [...document.querySelectorAll('*')].indexOf(e);
            }""";

    private final Page page;

    public Keyboard(Page page) {
        this.page = page;
    }

    /** Goes on with Tab until the focus is on what is meant; everything passed on the way shows its focus. */
    public void tabTo(String selector) {
        go("Tab", selector);
    }

    /** The same backwards. */
    public void tabBackTo(String selector) {
        go("Shift+Tab", selector);
    }

    private void go(String key, String selector) {
        for (int i = 0; i < FAR; i++) {
            if (isOn(selector)) {
                return;
            }
            page.keyboard().press(key);
            assertThat((String) page.evaluate(SEEN))
                    .as("on the way to " + selector)
                    .isEmpty();
        }
        throw new AssertionError("the keyboard does not reach " + selector + " on " + page.url());
    }

    /** Whether the focus is on what is meant. */
    public boolean isOn(String selector) {
        return Boolean.TRUE.equals(page.evaluate("s => document.activeElement.matches(s)", selector));
    }

    /** Goes to a link and follows it, and waits for the page it leads to. */
    public void follow(String link, String to) {
        tabTo(link);
        press("Enter");
        arrive(to);
    }

    /** Waits until the page that was asked for is there, the whole of it. */
    public void arrive(String to) {
        page.waitForURL(to);
        page.waitForLoadState(LoadState.DOMCONTENTLOADED);
    }

    /** Goes to a field and types over what it holds. */
    public void fill(String field, String text) {
        tabTo(field);
        type(text);
    }

    /** Goes to a choice and moves on with the arrow until the option is chosen. */
    public void choose(String choice, String option) {
        tabTo(choice);
        for (int i = 0; i < FAR; i++) {
            Object chosen = page.evaluate("s => document.querySelector(s).selectedOptions[0].textContent", choice);
            if (String.valueOf(chosen).contains(option)) {
                return;
            }
            press("ArrowDown");
        }
        throw new AssertionError("the arrows do not reach " + option + " in " + choice);
    }

    /**
     * Goes through the whole page, there and back again; what cannot be left, is passed on one way only, or does not show its
     * focus, is wrong.
     *
     * @return how many places the focus stops at
     */
    public int thereAndBack() {
        page.evaluate("document.activeElement.blur(); getSelection().removeAllRanges(); scrollTo(0, 0)");
        List<Object> there = places("Tab");
        List<Object> back = places("Shift+Tab");
        Collections.reverse(back);
        assertThat(back).as(page.url()).isEqualTo(there);
        return there.size();
    }

    private List<Object> places(String key) {
        List<Object> stops = new ArrayList<>();
        for (int i = 0; i < 10 * FAR; i++) {
            page.keyboard().press(key);
            Object at = page.evaluate(WHERE);
            if (at == null || (stops.size() > 1 && stops.get(0).equals(at))) {
                return stops;
            }
            assertThat((String) page.evaluate(SEEN)).as(page.url()).isEmpty();
            // The parts of a date are one field.
            if (stops.isEmpty() || !stops.get(stops.size() - 1).equals(at)) {
                stops.add(at);
            }
        }
        throw new AssertionError("the keyboard does not get out of " + page.url());
    }

    public void type(String text) {
        page.keyboard().press("Control+A");
        page.keyboard().type(text);
    }

    public void press(String key) {
        page.keyboard().press(key);
    }
}
