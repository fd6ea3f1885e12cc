package org.rootling.ground.calc;

/** How the vines of neighbouring rows stand to each other. */
public enum Alignment {
    /** Each row counts from its own start. */
    ROW,
    /** The vines stand square across the block: in line from row to row. */
    SQUARE
}
