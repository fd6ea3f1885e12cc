package org.rootling.planting;

import java.time.LocalDate;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;

/**
 * Vines of one lot to be put into places of one row.
 *
 * @param reference becomes the planting's id; the stock ledger and {@link Vines#undo} know it by this
 * @param by account
 */
public record NewPlanting(UUID reference, UUID rowId, SortedSet<Integer> places, UUID lotId, LocalDate on, UUID by) {

    public NewPlanting {
        places = java.util.Collections.unmodifiableSortedSet(new TreeSet<>(places));
    }
}
