package org.rootling.planting;

import java.util.UUID;

/** The vines of one lot in one block. */
public record LotTally(UUID blockId, UUID lotId, Tally tally) {}
