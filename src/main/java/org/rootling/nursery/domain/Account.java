package org.rootling.nursery.domain;

/** An account of a lot in the stock ledger. Only {@link #OUTSIDE} may go below zero: it is where vines come from. */
public enum Account {
    OUTSIDE(false),
    UNPLACED(true),
    HOLD(true),
    LIFTED(true),
    PLANTED(false),
    REJECTED(false),
    RETURNED(false),
    LOST(false),
    /** Vines that went over to a lot split off from this one. */
    SPLIT(false);

    private final boolean waiting;

    Account(boolean waiting) {
        this.waiting = waiting;
    }

    /** Whether vines in it still wait to be planted. */
    public boolean isWaiting() {
        return waiting;
    }
}
