package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StoreKind;

/**
 * A hold as it is kept, before its clock is read.
 *
 * @param cameFrom the hold its vines stood in before
 * @param daysInTransit of its lot's delivery
 */
record Standing(
        UUID id,
        UUID lotId,
        String lotCode,
        String variety,
        String rootstock,
        UUID storeId,
        String store,
        StoreKind kind,
        @Nullable BigDecimal setTemperatureC,
        @Nullable String soil,
        LocalDate since,
        @Nullable UUID cameFrom,
        @Nullable Integer daysInTransit,
        int count) {}
