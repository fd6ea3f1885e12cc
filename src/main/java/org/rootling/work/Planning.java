package org.rootling.work;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Who works when, and plans made of it; for other modules. */
public interface Planning {
    /**
     * Somebody who can be given work.
     *
     * @param account null for a helper without one
     * @param hours by weekday, Monday first
     * @param wage for an hour; null for unpaid work
     * @param currency ISO 4217 code
     */
    record NewPerson(
            @Nullable UUID account,
            String name,
            List<BigDecimal> hours,
            List<String> skills,
            @Nullable BigDecimal wage,
            String currency) {
        public NewPerson {
            hours = List.copyOf(hours);
            skills = List.copyOf(skills);
        }
    }

    UUID addPerson(NewPerson person);

    /** Says how many of a tool there are. */
    void countTool(String name, int count);

    /** Searches for a schedule and waits for it; not within a transaction. */
    void schedule(LocalDate from, int seconds);

    /** Plays seasons and waits for the answer; not within a transaction. */
    void playSeasons(LocalDate from, int seasons, long seed);
}
