package org.rootling.planting;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** The vines of the current vineyard: which stands where, how it was last seen, and what became of those before it. */
public interface Vines {

    /** The present vines of a row, by place. */
    List<Vine> inRow(UUID rowId);

    /** The present vine of a place. */
    Optional<Vine> at(UUID rowId, int place);

    Optional<Vine> byId(UUID id);

    /** Those that stood in this place before, latest first; undone plantings included. */
    List<Vine> formerly(UUID rowId, int place);

    /** Every row of the vineyard that has or had vines, from the kept tallies. */
    List<RowTally> tallies();

    /** Every row of a block, rows without vines included. */
    List<RowTally> tallies(UUID blockId);

    /** The row, zero counts where nothing stands. */
    Optional<RowTally> tally(UUID rowId);

    /** Every block and lot, from the kept tallies: as many lines as there are blocks times lots in them. */
    List<LotTally> lotTallies();

    /** How many vines of a block live, as last seen, by the day they were planted on; from the kept sums. */
    SortedMap<LocalDate, Integer> livingByDay(UUID blockId);

    /**
     * Puts vines of a lot into places of a row, moves them in the stock ledger and ends dead or missing vines that stood
     * there. Joins the caller's transaction.
     *
     * @throws org.rootling.platform.Refused if a place is outside its row or holds a living vine, the lot has too few, or
     *     the date lies ahead
     */
    void plant(NewPlanting planting);

    /**
     * Takes a planting back: its vines are ended as undone, those they replaced stand again, and the ledger is answered
     * by movements in the other direction.
     *
     * @throws org.rootling.platform.Refused if it was undone already, or one of its vines was replaced since
     */
    void undo(UUID plantingId, LocalDate on, UUID by);

    /** Records one state for a run of places. */
    void observe(UUID rowId, SortedSet<Integer> places, VineState state, LocalDate on, @Nullable String note, UUID by);

    /**
     * Records a walk along a row, all or nothing.
     *
     * @param note needed where a vine lives again after it was dead or missing: the reason
     * @param logId the field log it came with, if any
     */
    void walk(UUID rowId, List<Sighting> sightings, LocalDate on, @Nullable String note, UUID by, @Nullable UUID logId);

    /** Writes a note about vines without changing their state. */
    void note(UUID rowId, SortedSet<Integer> places, String note, LocalDate on, UUID by);

    /**
     * Keeps a photo with vines, with or without a note, without changing their state.
     *
     * @param picture id of the kept photo
     */
    void photo(UUID rowId, SortedSet<Integer> places, UUID picture, @Nullable String note, LocalDate on, UUID by);

    /** Everything known of a vine, oldest first. */
    List<VineEvent> history(UUID vineId);

    /** What was noted of a row's places while planting, oldest first. */
    List<PlaceNote> placeNotes(UUID rowId);
}
