package org.rootling.trellis.calc;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.jspecify.annotations.Nullable;

/**
 * One line of an order: what is needed, with spares, less what was bought, in whole packs.
 *
 * @param item what, and how much the plans need
 * @param terms how it is sold
 * @param needed with spares; pieces are whole
 * @param bought already bought
 * @param toBuy still to buy, never below zero
 * @param packs whole packs that hold it
 * @param cost price of those packs, null while no price is known
 */
public record OrderLine(
        Item item,
        Terms terms,
        BigDecimal needed,
        BigDecimal bought,
        BigDecimal toBuy,
        long packs,
        @Nullable BigDecimal cost) {

    /**
     * How a thing is sold.
     *
     * @param packSize how much is in a pack, in the item's unit
     * @param packPrice price of a pack, null while unknown
     * @param sparePercent extra against breakage and loss
     */
    public record Terms(BigDecimal packSize, @Nullable BigDecimal packPrice, BigDecimal sparePercent) {
        public Terms {
            if (packSize.signum() <= 0 || sparePercent.signum() < 0 || (packPrice != null && packPrice.signum() < 0)) {
                throw new IllegalArgumentException("pack " + packSize + " at " + packPrice + " + " + sparePercent);
            }
        }

        /** Packs and spares to start from; all are rules of thumb and meant to be changed. */
        public static Terms usual(Item item) {
            return switch (item.kind()) {
                case END_POST, STRUT, RAIL, ANCHOR -> of("1", "0");
                case LINE_POST, STAKE, GUARD -> of("1", "2");
                case WIRE, TIE_WIRE ->
                    new Terms(BigDecimal.valueOf(Math.round(item.lengthM())), null, BigDecimal.valueOf(2));
                case TENSIONER, JOINER -> of("10", "5");
                case STAPLE -> of("5", "10");
                case CLIP -> of("500", "5");
            };
        }

        private static Terms of(String pack, String spare) {
            return new Terms(new BigDecimal(pack), null, new BigDecimal(spare));
        }
    }

    public static OrderLine of(Item item, Terms terms, BigDecimal bought) {
        BigDecimal factor = BigDecimal.ONE.add(terms.sparePercent().movePointLeft(2));
        int decimals = item.kind().unit() == Item.Unit.PIECE ? 0 : 1;
        // rounding to the micro first keeps 70.0000000001 pieces from becoming 71
        BigDecimal needed = BigDecimal.valueOf(item.quantity())
                .multiply(factor)
                .setScale(6, RoundingMode.HALF_UP)
                .setScale(decimals, RoundingMode.CEILING);
        BigDecimal toBuy = needed.subtract(bought).max(BigDecimal.ZERO);
        long packs = toBuy.divide(terms.packSize(), 0, RoundingMode.CEILING).longValueExact();
        BigDecimal price = terms.packPrice();
        BigDecimal cost =
                price == null ? null : price.multiply(BigDecimal.valueOf(packs)).setScale(2, RoundingMode.HALF_UP);
        return new OrderLine(item, terms, needed, bought, toBuy, packs, cost);
    }
}
