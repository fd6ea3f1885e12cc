package org.rootling.planting;

import java.time.LocalDate;
import java.util.UUID;
import org.rootling.platform.VineyardEvent;

/** Vines of a lot were put into places of a row. */
public record VinesPlanted(UUID vineyardId, UUID plantingId, UUID rowId, UUID lotId, int vines, LocalDate on)
        implements VineyardEvent {}
