package org.rootling.work;

/**
 * What logged work of a step does elsewhere, for instance vines moving from a lot to their places. Called inside the
 * log's transaction: a refusal here leaves neither the log nor anything else behind.
 */
public interface StepEffect {
    /** Whether this answers to a step, by its code. */
    boolean handles(String step);

    void logged(LoggedWork work);

    /** The log was taken back. */
    void undone(LoggedWork work);
}
