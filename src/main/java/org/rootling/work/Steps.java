package org.rootling.work;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** The work steps of the current vineyard: those that come with the program, as changed, and its own. */
public interface Steps {
    /** In the order in which they follow each other; withdrawn ones last. */
    List<Step> all();

    Optional<Step> byCode(String code);

    /** What can be changed about a step. */
    record Settings(
            @Nullable String name,
            int peopleLeast,
            int peopleMost,
            @Nullable String tool,
            @Nullable String skill,
            List<String> after,
            int waitDays,
            boolean outdoors,
            Step.Limits limits,
            @Nullable BigDecimal guessMinutes) {
        public Settings {
            after = List.copyOf(after);
        }

        /** With the vineyard's own limits of weather. */
        public Settings(
                @Nullable String name,
                int peopleLeast,
                int peopleMost,
                @Nullable String tool,
                @Nullable String skill,
                List<String> after,
                int waitDays,
                boolean outdoors,
                @Nullable BigDecimal guessMinutes) {
            this(name, peopleLeast, peopleMost, tool, skill, after, waitDays, outdoors, Step.Limits.NONE, guessMinutes);
        }
    }

    /** Adds a step of the vineyard's own. */
    String add(Settings settings);

    void change(String code, Settings settings, int version);

    void withdraw(String code, int version);
}
