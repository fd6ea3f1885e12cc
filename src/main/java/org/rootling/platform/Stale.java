package org.rootling.platform;

/** Someone else changed the same thing since the form was opened. */
public class Stale extends RuntimeException {

    private final int expected;
    private final int actual;

    public Stale(int expected, int actual) {
        super("version " + expected + " is stale, now " + actual);
        this.expected = expected;
        this.actual = actual;
    }

    public int expected() {
        return expected;
    }

    public int actual() {
        return actual;
    }
}
