package org.rootling.work.domain;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/** What the rules say about one entry, before anything is written. */
sealed interface Verdict {
    /** May be written. */
    record Good(LogStore.Stored log) implements Verdict {}

    /** Is there already. */
    record There() implements Verdict {}

    /** Is not understood or not allowed. */
    record Bad(String reason, List<String> args, @Nullable String field) implements Verdict {
        static Bad of(String field, String reason, @Nullable Object... args) {
            return new Bad(reason, strings(args), field);
        }

        static Bad of(Refused refused) {
            return new Bad(refused.key(), strings(refused.args()), refused.field());
        }
    }

    /** Contradicts what is known; {@code log} is what would have been written. */
    record Against(
            Kind kind,
            LogStore.Stored log,
            String reason,
            List<String> args,
            @Nullable UUID against) implements Verdict {}

    /** Is kept as a conflict that nobody has settled yet. */
    record Open(
            @Nullable String reason,
            List<String> args,
            @Nullable UUID against) implements Verdict {}

    /** How an entry contradicts. */
    enum Kind {
        PLACES_DONE,
        TASK_ENDED,
        CLOCK_AHEAD,
        CLOCK_BEHIND,
        NOT_POSSIBLE
    }

    static List<String> strings(@Nullable Object... args) {
        return Arrays.stream(args).map(a -> Objects.toString(a, "")).toList();
    }
}
