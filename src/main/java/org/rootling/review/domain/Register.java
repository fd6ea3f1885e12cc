package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.planting.LotTally;
import org.rootling.planting.Tally;
import org.rootling.planting.Vines;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The planted area by block, variety and rootstock, in the terms that vineyard registers ask for. */
@Service
@Transactional(readOnly = true)
public class Register {

    /**
     * One kind of vine in one block.
     *
     * @param years year of planting, or first and last
     * @param vines vines in place, dead and missing ones not counted
     * @param standAreaM2 vines times the ground that one takes by row and vine spacing
     * @param blockShareM2 the block's area within its boundary, shared out by the vines of each kind
     * @param perHectare vines on a hectare at the block's spacing
     */
    public record Line(
            String block,
            String blockName,
            String variety,
            String colour,
            String rootstock,
            String years,
            int vines,
            double standAreaM2,
            double blockShareM2,
            double perHectare) {}

    private record Kind(UUID block, String variety, String colour, String rootstock) {}

    private final Ground ground;
    private final Lots lots;
    private final Vines vines;

    Register(Ground ground, Lots lots, Vines vines) {
        this.ground = ground;
        this.lots = lots;
        this.vines = vines;
    }

    public List<Line> lines() {
        Map<UUID, Lot> byId = new HashMap<>();
        lots.all().forEach(lot -> byId.put(lot.id(), lot));
        Map<Kind, Tally> sums = new HashMap<>();
        Map<UUID, Integer> inBlock = new HashMap<>();
        for (LotTally tally : vines.lotTallies()) {
            Lot lot = byId.get(tally.lotId());
            if (lot != null && tally.tally().alive() > 0) {
                sums.merge(
                        new Kind(tally.blockId(), lot.variety(), lot.varietyColour(), lot.rootstock()),
                        tally.tally(),
                        Tally::plus);
                inBlock.merge(tally.blockId(), tally.tally().alive(), Integer::sum);
            }
        }
        Map<UUID, Block> blocks = new TreeMap<>();
        ground.blocks().forEach(block -> blocks.put(block.id(), block));
        List<Line> lines = new ArrayList<>();
        sums.forEach((kind, tally) -> {
            Block block = blocks.get(kind.block());
            if (block != null && block.rowSpacingM() > 0 && block.vineSpacingM() > 0) {
                lines.add(line(block, kind, tally, inBlock.getOrDefault(kind.block(), 1)));
            }
        });
        lines.sort(
                Comparator.comparing(Line::block).thenComparing(Line::variety).thenComparing(Line::rootstock));
        return lines;
    }

    private static Line line(Block block, Kind kind, Tally tally, int aliveInBlock) {
        double each = block.rowSpacingM() * block.vineSpacingM();
        int alive = tally.alive();
        return new Line(
                block.code(),
                block.name(),
                kind.variety(),
                kind.colour(),
                kind.rootstock(),
                years(tally.firstPlanted(), tally.lastPlanted()),
                alive,
                alive * each,
                block.areaM2() * alive / aliveInBlock,
                10_000 / each);
    }

    private static String years(@Nullable LocalDate first, @Nullable LocalDate last) {
        if (first == null || last == null) {
            return "";
        }
        return first.getYear() == last.getYear()
                ? Integer.toString(first.getYear())
                : first.getYear() + "–" + last.getYear();
    }
}
