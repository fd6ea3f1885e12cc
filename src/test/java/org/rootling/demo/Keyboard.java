package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;

/** A person who has a keyboard and nothing else, and who always wants to see where they are. */
final class Keyboard {

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
              if (!own && !beside) return 'no focus to see: ' + e.outerHTML.slice(0, 120);
              const r = e.getBoundingClientRect();
              if (r.bottom <= 0 || r.top >= innerHeight) return 'focus out of sight: ' + e.outerHTML.slice(0, 120);
              const top = document.elementFromPoint(Math.min(innerWidth - 1, Math.max(0, r.left + r.width / 2)),
                Math.min(innerHeight - 1, Math.max(0, r.top + Math.min(r.height / 2, 12))));
              const covered = top !== null && !e.contains(top) && !top.contains(e) && !(e.labels && [...e.labels].some(l => l.contains(top)));
              return covered ? 'focus is covered: ' + e.outerHTML.slice(0, 120) : '';
            }""";

    private final Page page;

    Keyboard(Page page) {
        this.page = page;
    }

    /** Tabs on until the focus is on what is meant; everything passed on the way shows its focus. */
    void tabTo(String selector) {
        for (int i = 0; i < FAR; i++) {
            if (Boolean.TRUE.equals(page.evaluate("s => document.activeElement.matches(s)", selector))) {
                return;
            }
            page.keyboard().press("Tab");
            assertThat((String) page.evaluate(SEEN))
                    .as("on the way to " + selector)
                    .isEmpty();
        }
        throw new AssertionError("the keyboard does not reach " + selector + " on " + page.url());
    }

    void type(String text) {
        page.keyboard().press("Control+A");
        page.keyboard().type(text);
    }

    void press(String key) {
        page.keyboard().press(key);
    }
}
