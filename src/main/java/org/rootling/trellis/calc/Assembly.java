package org.rootling.trellis.calc;

/** How the end of a row is held. */
public enum Assembly {
    /** A leaning post tied back to an anchor outside the row. */
    ANCHORED,
    /** A post with a strut on the row's side that pushes against it. */
    STRUT,
    /** Two upright posts with a rail between their heads and a diagonal brace wire. */
    H_BRACE
}
