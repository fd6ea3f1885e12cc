package org.rootling.nursery.calc;

/** How pressing a hold is. The order is from calm to pressing. */
public enum HoldLevel {
    /** Nothing to do yet. */
    EASY,
    /** An allowance is nearly used up. */
    SOON,
    /** An allowance is used up. */
    OVER
}
