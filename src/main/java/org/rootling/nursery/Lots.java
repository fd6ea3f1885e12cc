package org.rootling.nursery;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** The lots of the current vineyard, what stands where, and how long it may. */
public interface Lots {

    /** All lots, oldest first. */
    List<Lot> all();

    Optional<Lot> byCode(String code);

    Optional<Lot> byId(UUID id);

    Map<UUID, Lot> byIds(Collection<UUID> ids);

    /** All holds that stand now with their clock today, most pressing first. */
    List<Hold> holds();

    /** The holds of one lot that stand now. */
    List<Hold> holds(UUID lotId);

    /** The holds of one lot as they stood, or will if nothing is done, at the start of a day. */
    List<Hold> holds(UUID lotId, LocalDate on);

    /**
     * The day by which a lot must be planted: the earliest run-out of its holds by what watering cannot renew; empty where
     * nothing runs out within a year.
     */
    Optional<LocalDate> plantBy(UUID lotId);

    /**
     * Plants vines of a lot: lifted ones first, then those placed nowhere, then from the hold that must be planted soonest. Joins
     * the caller's transaction.
     *
     * @param reference what the planting belongs to; {@link #undoPlant} takes it back by this
     * @return id of the first movement
     * @throws org.rootling.platform.Refused if the lot has fewer
     */
    UUID plant(UUID lotId, int count, LocalDate on, UUID reference);

    /**
     * The one store that the vines of a planting stood in before they were lifted for it, taking the first lifted as the
     * first planted; empty where they stood in none or came from several.
     *
     * @param reference of the planting
     */
    Optional<UUID> storeBefore(UUID reference);

    /** Puts the vines of a planting back to where they were taken, by movements in the other direction. */
    void undoPlant(UUID reference, LocalDate on);

    /** Why a vine meant for a place did not get there. */
    enum Loss {
        LOST,
        REJECTED
    }

    /**
     * Books vines out that were found no good while planting, taken as {@link #plant} takes them; {@link #undoPlant} takes
     * it back by the same reference.
     *
     * @throws org.rootling.platform.Refused if the lot has fewer
     */
    void lose(UUID lotId, int count, LocalDate on, Loss loss, String reason, UUID reference);
}
