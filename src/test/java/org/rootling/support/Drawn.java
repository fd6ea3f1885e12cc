package org.rootling.support;

import org.jsoup.nodes.Element;

/** What a plan shows. */
public final class Drawn {
    private Drawn() {}

    /** How many marks the paths have that this selects: each begins with a move to its own spot. */
    public static int marks(Element page, String paths) {
        return page.select(paths).stream()
                .map(path -> path.attr("d"))
                .mapToInt(d -> (int) d.chars().filter(c -> c == 'M').count())
                .sum();
    }
}
