package org.rootling.training;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Row;
import org.rootling.planting.LotTally;
import org.rootling.planting.Vine;

/** The first year's checklist: what is due where, and what was done. */
public interface YearOne {

    /** Every block with vines, from kept tallies; does not grow with the vines. */
    List<BlockYear> blocks();

    /** The same for whoever has read the blocks and the tallies of their lots. */
    List<BlockYear> blocks(List<Block> ground, List<LotTally> planted);

    /** One block; empty where nothing was planted in it yet. */
    Optional<BlockYear> block(UUID blockId);

    /** The items of one row, by its own planting days, and its ticks. */
    RowYear row(UUID rowId);

    /** The same for whoever has read the row and what stands in it. */
    RowYear row(Row row, List<Vine> standing);

    /** How many open items each row of a block has, by row id. */
    Map<UUID, Integer> openByRow(UUID blockId);

    /**
     * Ticks items for places of rows, all or nothing; places without a living vine are let be.
     *
     * @param runs places by row id
     * @param logId the field log that it came with, if any
     * @throws org.rootling.platform.Refused if the date lies ahead or before planting, a place is outside its row, or
     *     none of a row's places holds a living vine
     */
    void tick(
            Collection<UUID> itemIds,
            Map<UUID, SortedSet<Integer>> runs,
            LocalDate on,
            @Nullable String note,
            UUID by,
            @Nullable UUID logId);

    /** Takes a tick back; it stays on record as withdrawn. */
    void untick(UUID tickId, UUID by);

    /** The ticks of a row, latest first. */
    List<CareTick> ticks(UUID rowId);
}
