package org.rootling.trellis.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.OrderLine;

/**
 * What a mix of blocks needs, what was bought, what is still to buy and what it costs.
 *
 * @param planned blocks that could be on a sheet: those with a plan and rows
 * @param blocks the blocks on the sheet
 * @param lines one for each thing needed
 * @param extras things bought that no plan on the sheet needs any more
 * @param vines places on the sheet
 * @param areaM2 area of the blocks
 * @param delivery price of delivery
 * @param currency ISO 4217 code of all prices, null where none was named
 * @param kept the last kept sheet, null while there is none
 */
public record OrderSheet(
        List<Block> planned,
        List<Block> blocks,
        List<Line> lines,
        List<Extra> extras,
        int vines,
        double areaM2,
        BigDecimal delivery,
        @Nullable String currency,
        @Nullable Kept kept) {

    /**
     * @param before needed when the sheet was last kept; null when nothing is kept or it covered other blocks
     */
    public record Line(OrderLine order, @Nullable BigDecimal before) {
        /** Change since the kept sheet, or null where there is nothing to compare with. */
        public @Nullable BigDecimal change() {
            return before == null ? null : order.needed().subtract(before);
        }
    }

    /** Bought, but not needed by the plans on this sheet. */
    public record Extra(Item item, BigDecimal bought) {}

    /** A kept sheet. */
    public record Kept(
            LocalDate on,
            UUID by,
            Set<UUID> blockIds,
            BigDecimal delivery,
            @Nullable String currency) {}

    /** Price of everything still to buy that has a price, with delivery. */
    public BigDecimal total() {
        BigDecimal sum = delivery;
        for (Line line : lines) {
            BigDecimal cost = line.order().cost();
            if (cost != null) {
                sum = sum.add(cost);
            }
        }
        return sum;
    }

    /** How many things to buy have no price yet and are missing from the total. */
    public int unpriced() {
        return (int) lines.stream()
                .filter(l -> l.order().cost() == null && l.order().packs() > 0)
                .count();
    }

    /** Whether the total says anything: something has a price, or nothing is left to buy. */
    public boolean totalKnown() {
        return unpriced() == 0
                || delivery.signum() > 0
                || lines.stream()
                        .anyMatch(l -> l.order().cost() != null && l.order().packs() > 0);
    }

    /** Total for each vine, or null without vines or while the total is not known. */
    public @Nullable BigDecimal perVine() {
        return vines == 0 || !totalKnown() ? null : total().divide(BigDecimal.valueOf(vines), 2, RoundingMode.HALF_UP);
    }

    /** Total for each hectare of the blocks, or null without area or while the total is not known. */
    public @Nullable BigDecimal perHectare() {
        return areaM2 <= 0 || !totalKnown()
                ? null
                : total().divide(BigDecimal.valueOf(areaM2 / 10_000), 2, RoundingMode.HALF_UP);
    }
}
