package org.rootling.nursery.calc;

/** What runs out while vines wait. */
public enum AllowanceKind {
    /** Days of waiting, whatever the weather. */
    DAYS,
    /** Degree days, against the sum at which buds move. */
    WARMTH,
    /** Drying out since the last water. */
    DRYNESS
}
