package org.rootling.support;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;

/**
 * The axe rules of WCAG 2.2, levels A and AA. Axe runs in the page itself and gives back nothing but what it found wrong:
 * its own Java wrapper opens a second page each time and brings every passed rule home as well, which takes seconds.
 */
public final class Axe {
    private static final String SCRIPT = script();

    private static final String RUN = """
            async rules => {
              const found = await axe.run(document, {
                runOnly: rules, resultTypes: ['violations'], preload: false, iframes: false });
              return found.violations.flatMap(v => v.nodes.slice(0, 3).map(n => v.id + ': ' + n.target.join(' ') + ' '
                + n.html.slice(0, 160) + ' ' + (n.any[0] ? n.any[0].message : n.failureSummary).slice(0, 160)));
            }""";

    /** All of them. */
    public static final List<String> EVERY_RULE = List.of("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa");

    /** Those that colours alone can break. */
    public static final List<String> COLOURS = List.of("color-contrast");

    private Axe() {}

    /** What the rules find wrong with the page as it stands, one line for each place. */
    public static List<String> violations(Page page) {
        load(page);
        return violations(page, EVERY_RULE);
    }

    /** Brings axe into the page as it was loaded. */
    public static void load(Page page) {
        page.evaluate(SCRIPT);
    }

    /** What these rules find wrong with a page that axe was brought into, one line for each place. */
    public static List<String> violations(Page page, List<String> rules) {
        return ((List<?>) page.evaluate(RUN, rules))
                .stream().map(String::valueOf).toList();
    }

    private static String script() {
        try (InputStream script = AxeBuilder.class.getResourceAsStream("/axe.min.js")) {
            return new String(Objects.requireNonNull(script).readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException unreadable) {
            throw new UncheckedIOException(unreadable);
        }
    }
}
