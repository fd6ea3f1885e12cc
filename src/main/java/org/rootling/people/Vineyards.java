package org.rootling.people;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import java.util.function.Consumer;

/** The current vineyard and its day; and for jobs, all of them. */
public interface Vineyards {

    /** The vineyard that the current thread works for. */
    Vineyard current();

    /** Its date now, in its own zone. */
    LocalDate today();

    /** The vineyard's instant now; shifted in the demo. */
    Instant now();

    /** An instant on a day of which no more is known: now on its date now, noon on another. */
    default Instant during(LocalDate day) {
        Instant now = now();
        return dateOf(now).equals(day)
                ? now
                : day.atTime(LocalTime.NOON).atZone(current().zone()).toInstant();
    }

    /** The date in its zone at an instant. */
    default LocalDate dateOf(Instant instant) {
        return instant.atZone(current().zone()).toLocalDate();
    }

    /** All open vineyards, for jobs. */
    List<UUID> all();

    /** Runs the work once as each open vineyard; one that fails is logged and does not stop the others. */
    void forEach(Consumer<UUID> work);
}
