package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.VineyardRow;

/** A watering of a whole store. */
@Entity
@Table(name = "watering")
class WateringRow extends VineyardRow {

    private UUID storeId;
    private LocalDate onDay;
    private @Nullable BigDecimal mm;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected WateringRow() {}

    UUID storeId() {
        return storeId;
    }

    LocalDate onDay() {
        return onDay;
    }

    @Nullable
    BigDecimal mm() {
        return mm;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    WateringRow(UUID storeId, LocalDate onDay, @Nullable Double mm) {
        this.storeId = storeId;
        this.onDay = onDay;
        this.mm = mm == null ? null : BigDecimal.valueOf(mm);
    }

    void withdraw(Instant now) {
        this.withdrawnAt = now;
    }
}
