package org.rootling.work;

import java.util.Set;

/** Something found at a place of a row. */
public record Found(int place, String what) {
    /** What can be found. */
    public static final Set<String> WHAT =
            Set.of("dead", "missing", "broken", "no-root", "wrong-variety", "hole-too-wet");
}
