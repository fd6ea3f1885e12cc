package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.VineyardRow;

/** One placing of one lot into one store; its count is in the ledger. */
@Entity
@Table(name = "hold")
class HoldRow extends VineyardRow {

    private UUID lotId;
    private UUID storeId;
    private LocalDate since;
    private @Nullable UUID cameFrom;

    @SuppressWarnings("NullAway.Init")
    protected HoldRow() {}

    UUID lotId() {
        return lotId;
    }

    UUID storeId() {
        return storeId;
    }

    LocalDate since() {
        return since;
    }

    @Nullable
    UUID cameFrom() {
        return cameFrom;
    }

    HoldRow(UUID lotId, UUID storeId, LocalDate since, @Nullable UUID cameFrom) {
        this.lotId = lotId;
        this.storeId = storeId;
        this.since = since;
        this.cameFrom = cameFrom;
    }
}
