package org.rootling.work;

import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A work step on some places of one row.
 *
 * @param step code of the step
 * @param stepName its name in the reader's language
 * @param quantity number of places
 * @param done of these, done
 * @param due last day on which it is in time; null when nothing presses
 * @param people accounts it is given to
 */
public record Task(
        UUID id,
        String step,
        String stepName,
        UUID rowId,
        String blockCode,
        int rowNumber,
        @Nullable UUID lotId,
        @Nullable String lotCode,
        SortedSet<Integer> places,
        SortedSet<Integer> donePlaces,
        int quantity,
        int done,
        @Nullable LocalDate due,
        @Nullable String note,
        List<UUID> people,
        TaskStatus status,
        int version) {
    public Task {
        people = List.copyOf(people);
    }

    /** Places still to do. */
    public SortedSet<Integer> left() {
        SortedSet<Integer> left = new TreeSet<>(places);
        left.removeAll(donePlaces);
        return Collections.unmodifiableSortedSet(left);
    }

    /** The row as in {@code B2 r7}. */
    public String row() {
        return blockCode + " r" + rowNumber;
    }

    /** Share done, 0 to 100. */
    public int percent() {
        return (int) (100L * done / quantity);
    }

    /** Whether it should have been done before a day. */
    public boolean lateOn(LocalDate today) {
        return due != null && status.isOpen() && due.isBefore(today);
    }
}
