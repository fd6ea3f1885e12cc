package org.rootling.nursery;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.VineyardEvent;

/** A hold has come to a more pressing level; raised once for each level by the daily job. */
public record HoldRanShort(
        UUID vineyardId,
        UUID holdId,
        UUID lotId,
        String lotCode,
        String store,
        Level level,
        @Nullable LocalDate runsOutOn)
        implements VineyardEvent {}
