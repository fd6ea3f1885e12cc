package org.rootling.nursery;

/** How pressing a hold is, from calm to pressing. */
public enum Level {
    /** Nothing to do yet. */
    EASY,
    /** An allowance is nearly used up. */
    SOON,
    /** An allowance is used up. */
    OVER
}
