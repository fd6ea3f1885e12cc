package org.rootling.work;

/** Where a task stands. */
public enum TaskStatus {
    /** Nothing logged yet. */
    OPEN,
    /** Some places done. */
    STARTED,
    /** All places done. */
    DONE,
    /** Ended by a person although places are left. */
    CLOSED,
    /** Not wanted any more. */
    DROPPED;

    /** Whether work may still be logged on it. */
    public boolean isOpen() {
        return this == OPEN || this == STARTED;
    }
}
