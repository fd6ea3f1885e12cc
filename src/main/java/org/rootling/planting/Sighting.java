package org.rootling.planting;

import java.util.SortedSet;
import java.util.TreeSet;

/** The same state, seen at these places. */
public record Sighting(VineState state, SortedSet<Integer> places) {

    public Sighting {
        places = java.util.Collections.unmodifiableSortedSet(new TreeSet<>(places));
    }
}
