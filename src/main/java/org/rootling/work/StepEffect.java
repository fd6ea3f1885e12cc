package org.rootling.work;

import java.util.UUID;

/**
 * What logged work of a step does elsewhere, for instance vines moving from a lot to their places. Called inside the
 * log's transaction: a refusal here leaves neither the log nor anything else behind.
 */
public interface StepEffect {
    /** Whether this answers to a step, by its code. */
    boolean handles(String step);

    /**
     * Whether logs of a step on a row can matter to this at all; asked once for many logs of a row, so that a full outbox is
     * taken quickly. Asked again once anything happened to the row.
     */
    default boolean concerns(String step, UUID rowId) {
        return handles(step);
    }

    void logged(LoggedWork work);

    /** The log was taken back. */
    void undone(LoggedWork work);
}
