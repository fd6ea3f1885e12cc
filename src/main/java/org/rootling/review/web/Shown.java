package org.rootling.review.web;

import java.util.List;

/** What of a list a page shows where a link leads to the rest. */
final class Shown {
    private Shown() {}

    /** The first lines, at most so many. */
    static <T> List<T> first(int most, List<T> all) {
        return all.subList(0, Math.min(most, all.size()));
    }
}
