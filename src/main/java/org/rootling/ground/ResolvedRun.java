package org.rootling.ground;

import java.util.Collections;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * A run of places whose row exists and has them.
 *
 * @param places numbers in the row
 */
public record ResolvedRun(Row row, SortedSet<Integer> places) {
    public ResolvedRun {
        places = Collections.unmodifiableSortedSet(new TreeSet<>(places));
    }
}
