package org.rootling.nursery.domain;

/** Why vines moved. */
public enum MovementKind {
    RECEIVED,
    REJECTED,
    PLACED,
    MOVED,
    LIFTED,
    PLANTED,
    RETURNED,
    LOST,
    FOUND,
    COUNTED,
    SPLIT_OFF,
    SPLIT_IN,
    UNDONE;

    /** Whether a person may take it back on the lot's page; planting is taken back where it was logged. */
    public boolean canBeUndone() {
        return switch (this) {
            case PLACED, MOVED, LIFTED, RETURNED, LOST, FOUND, COUNTED, REJECTED -> true;
            case RECEIVED, PLANTED, SPLIT_OFF, SPLIT_IN, UNDONE -> false;
        };
    }
}
