package org.rootling.training;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.rootling.training.calc.Due;

/**
 * An item in a block or row: when it is due and how far it is.
 *
 * @param done places with a living vine that its current round has covered
 * @param of places with a living vine
 * @param afterName name of the item it waits for, if it does
 */
public record CareLine(
        CareItem item, Due due, int done, int of, @Nullable String afterName) {

    /** Where the item stands, what was done included; in the order in which a list shows them. */
    public enum Standing {
        LATE,
        DUE,
        AHEAD,
        WAITING,
        DONE,
        OVER;

        /** Name in message keys and style classes. */
        public String key() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }

    public Standing standing() {
        if (of == 0) {
            return Standing.OVER;
        }
        boolean finished = done >= of;
        return switch (due.status()) {
            case OVER -> Standing.OVER;
            case WAITING -> finished ? Standing.DONE : Standing.WAITING;
            case AHEAD -> finished ? Standing.DONE : Standing.AHEAD;
            case DUE -> finished ? Standing.DONE : afterName != null ? Standing.WAITING : Standing.DUE;
            case LATE -> finished ? Standing.DONE : afterName != null ? Standing.WAITING : Standing.LATE;
        };
    }

    public boolean open() {
        Standing standing = standing();
        return standing == Standing.DUE || standing == Standing.LATE;
    }

    public @Nullable LocalDate from() {
        return due.from();
    }
}
