package org.rootling.nursery;

import java.time.LocalDate;
import java.util.UUID;
import org.rootling.platform.VineyardEvent;

/** Vines of a lot were put into a bed or store. */
public record LotHeeledIn(UUID vineyardId, UUID lotId, UUID holdId, int count, LocalDate since)
        implements VineyardEvent {}
