package org.rootling.work;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** The tasks of the current vineyard. */
public interface Tasks {
    /**
     * Makes a task.
     *
     * @throws org.rootling.platform.Refused if the step or people are unknown, the places lie outside the row, or an
     *     open task of the same step already covers some of them
     */
    UUID create(NewTask task);

    Optional<Task> byId(UUID id);

    /** All open tasks: by due day (none last), block, row, and the order of the steps. */
    List<Task> open();

    /** All tasks of a row, ended ones too, in the order of the steps. */
    List<Task> inRow(UUID rowId);

    /** Open tasks given to a person: what is due by today first. */
    List<Task> forHelper(UUID accountId, LocalDate today);

    /** Tasks of any status, by id; unknown ids are left out. */
    List<Task> byIds(Collection<UUID> ids);

    /** Changes who does it, until when, and the note. */
    void change(UUID id, List<UUID> people, @Nullable LocalDate due, @Nullable String note, int version);

    /** Ends it with some places left undone. */
    void close(UUID id, int version);

    /** Takes it off the list; only while nothing is logged on it. */
    void drop(UUID id, int version);

    /** Takes up again what was closed or dropped. */
    void reopen(UUID id, int version);
}
