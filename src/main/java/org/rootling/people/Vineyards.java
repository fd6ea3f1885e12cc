package org.rootling.people;

import java.time.Instant;
import java.time.LocalDate;
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

    /** The date in its zone at an instant. */
    default LocalDate dateOf(Instant instant) {
        return instant.atZone(current().zone()).toLocalDate();
    }

    /** All open vineyards, for jobs. */
    List<UUID> all();

    /** Runs the work once as each open vineyard; one that fails is logged and does not stop the others. */
    void forEach(Consumer<UUID> work);
}
