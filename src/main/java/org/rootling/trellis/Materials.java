package org.rootling.trellis;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** What posts, wire, stakes and guards cost, for modules that add it to the cost of planting. */
public interface Materials {

    /**
     * What was bought on one day for one block.
     *
     * @param blockId null for the vineyard as a whole
     * @param paid sum of the prices told
     * @param untold purchases whose price nobody told
     */
    record Bought(@Nullable UUID blockId, LocalDate on, BigDecimal paid, int untold) {}

    /**
     * What a block's plan needs, spares and whole packs included, at the prices set.
     *
     * @param unpriced things without a price, which are not in the cost
     */
    record Planned(BigDecimal cost, int unpriced) {}

    /** Purchases that stand, oldest first. */
    List<Bought> bought();

    /** The need of a block by its plan; empty without a plan or rows. */
    Optional<Planned> planned(UUID blockId);

    /** ISO 4217 code of all these prices, where one was named. */
    Optional<String> currency();
}
