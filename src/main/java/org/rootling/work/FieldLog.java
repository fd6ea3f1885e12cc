package org.rootling.work;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** The one door through which work is logged: by page, API, or a phone's outbox. Each entry is taken exactly once. */
public interface FieldLog {
    /** Most entries taken in one call. */
    int MOST_ENTRIES = 5000;

    /**
     * An entry as written down in the field.
     *
     * @param id made where it was written; the same id is the same entry
     * @param run the places, as in {@code B2 r7 3-18}
     * @param but exceptions, as in {@code 7, 12}
     * @param minutes person minutes; null where nobody took the time
     * @param at when it was done
     * @param person helper without an account who did it, when a lead writes it down; null for the author's own work
     */
    record Entry(
            UUID id,
            UUID task,
            String run,
            @Nullable String but,
            List<Found> found,
            @Nullable Integer minutes,
            Instant at,
            @Nullable String note,
            @Nullable UUID person) {
        public Entry {
            found = List.copyOf(found);
        }

        /** The author's own work. */
        public Entry(
                UUID id,
                UUID task,
                String run,
                @Nullable String but,
                List<Found> found,
                @Nullable Integer minutes,
                Instant at,
                @Nullable String note) {
            this(id, task, run, but, found, minutes, at, note, null);
        }
    }

    /** What became of an entry. */
    enum Outcome {
        TAKEN,
        ALREADY_TAKEN,
        /** Not understood or not allowed; to be corrected where it was written. */
        REFUSED,
        /** Contradicts what is known; kept for a person to settle. */
        CONFLICT
    }

    /**
     * The answer to one entry.
     *
     * @param reason message key, for a refusal or conflict
     * @param against the log that stands against it, where there is one
     */
    record Result(
            UUID id,
            Outcome outcome,
            @Nullable String reason,
            List<String> args,
            @Nullable UUID against) {
        public Result {
            args = List.copyOf(args);
        }
    }

    /**
     * A log as it stands.
     *
     * @param helper name of the helper without an account who did it; null where the author did
     */
    record Logged(
            UUID id,
            UUID taskId,
            String step,
            String stepName,
            String row,
            SortedSet<Integer> places,
            List<Found> found,
            @Nullable Integer minutes,
            LocalDate on,
            Instant at,
            UUID by,
            @Nullable String note,
            @Nullable String helper,
            @Nullable Instant undoneAt,
            @Nullable UUID undoneBy) {
        public boolean standing() {
            return undoneAt == null;
        }
    }

    /** Takes one entry of a person. */
    Result record(Entry entry, UUID by);

    /** Takes entries in the order of their times, whatever order they came in; answers in the order they came. */
    List<Result> record(List<Entry> entries, UUID by);

    /**
     * Takes one entry, or refuses it with nothing kept; for a page, where the person is there to correct it.
     *
     * @throws org.rootling.platform.Refused with the same words that a refusal or conflict would have
     */
    void take(Entry entry, UUID by);

    /** Takes an entry that a lead settled, whoever the task is given to and although its id is known as a conflict. */
    void settle(Entry entry, UUID by);

    /** Takes a log back; the log stays, with who undid it and when. */
    void undo(UUID logId, UUID by, @Nullable String reason);

    Optional<Logged> byId(UUID logId);

    /** All logs of a task, oldest first, taken back ones too. */
    List<Logged> ofTask(UUID taskId);

    /** What a person logged on a day, newest first. */
    List<Logged> ofPerson(UUID account, LocalDate on);
}
