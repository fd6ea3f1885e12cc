package org.rootling.trellis;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Makes plans, orders and readings without anyone at a page; for seeding. */
public interface TrellisDesk {

    /** What a plan is begun from. */
    enum Canopy {
        LOW,
        MEDIUM,
        HIGH
    }

    /**
     * One thing that plans need.
     *
     * @param key names it by kind and size
     * @param kind such as {@code GUARD}
     * @param quantity without spares, in pieces, metres or kilograms
     */
    record Need(String key, String kind, BigDecimal quantity) {}

    /** Begins the plan of a block. */
    void plan(UUID blockId, Canopy canopy);

    /** What the plans of these blocks need, in the order of the sheet. */
    List<Need> needs(Collection<String> blockCodes);

    /** How a thing is sold: by the pack of that size, at that price, with so many percent of spares. */
    void sell(String key, BigDecimal packSize, BigDecimal packPrice, BigDecimal sparePercent);

    /** Something was bought for a block. */
    void buy(String key, String blockCode, BigDecimal quantity, LocalDate on, @Nullable BigDecimal paid);

    /** Keeps the sheet of these blocks, to compare with later. */
    void keep(Collection<String> blockCodes, BigDecimal delivery, String currency);

    /**
     * Records a tension read from a gauge, newtons.
     *
     * @param wire number of the wire in the plan, from 0
     */
    void measure(UUID rowId, int wire, LocalDate on, double tensionN, double temperatureC, LocalDate due);
}
