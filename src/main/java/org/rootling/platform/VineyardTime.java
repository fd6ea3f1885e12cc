package org.rootling.platform;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;

/** The instant at which the vineyard stands: real time, or in the demo real time shifted by whole days. */
public final class VineyardTime {

    private final Clock real;
    private volatile Duration shift = Duration.ZERO;

    public VineyardTime(Clock real) {
        this.real = real;
    }

    public Instant now() {
        return real.instant().plus(shift);
    }

    /** An instant of the real clock, by which ways in end and changes are kept, as the vineyard's clock shows it. */
    public Instant shown(Instant at) {
        return at.plus(shift);
    }

    public boolean isShifted() {
        return !shift.isZero();
    }

    /** Moves the vineyard's time; only the demo and tests do. */
    public void shiftBy(Duration by) {
        this.shift = by;
    }
}
