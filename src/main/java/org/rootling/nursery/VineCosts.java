package org.rootling.nursery;

import java.math.BigDecimal;
import java.util.Collection;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** What vines cost, for modules that reckon with the vines they put into the ground. */
public interface VineCosts {

    /**
     * What one vine of a lot cost.
     *
     * @param currency ISO 4217 code
     * @param paid for each good vine taken in, by the invoice or else by the order, less what was credited
     * @param ordered price of the order; null without one in this currency
     */
    record Price(String currency, BigDecimal paid, @Nullable BigDecimal ordered) {}

    /** The prices of these lots, split ones by the line they came on; lots of which no price is known are missing. */
    Map<UUID, Price> pricesOf(Collection<UUID> lotIds);
}
