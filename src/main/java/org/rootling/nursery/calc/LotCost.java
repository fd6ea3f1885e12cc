package org.rootling.nursery.calc;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.jspecify.annotations.Nullable;

/**
 * What the vines of one delivery line cost, in one currency, and what that is for each vine that lives. All sums have two
 * decimals, halves rounded up.
 *
 * @param charged price each times the vines on the invoice
 * @param credited what the nursery credited for short or bad vines
 * @param good vines that were taken in: counted less rejected
 * @param living of these, vines that live in their place or still wait
 */
public record LotCost(BigDecimal charged, BigDecimal credited, int good, int living) {

    /** The cost of so many vines at a price, less a credit. */
    public static LotCost of(BigDecimal priceEach, int vinesCharged, BigDecimal credited, int good, int living) {
        return new LotCost(cents(priceEach.multiply(BigDecimal.valueOf(vinesCharged))), cents(credited), good, living);
    }

    /** What was paid in the end. */
    public BigDecimal net() {
        return charged.subtract(credited);
    }

    /** For each vine taken in; null when there was none. */
    public @Nullable BigDecimal perVine() {
        return each(good);
    }

    /** For each vine that lives; null when none does. */
    public @Nullable BigDecimal perLivingVine() {
        return each(living);
    }

    /** Two lines of the same currency together. */
    public LotCost plus(LotCost other) {
        return new LotCost(
                charged.add(other.charged), credited.add(other.credited), good + other.good, living + other.living);
    }

    private @Nullable BigDecimal each(int vines) {
        return vines == 0 ? null : net().divide(BigDecimal.valueOf(vines), 2, RoundingMode.HALF_UP);
    }

    private static BigDecimal cents(BigDecimal amount) {
        return amount.setScale(2, RoundingMode.HALF_UP);
    }
}
