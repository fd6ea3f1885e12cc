package org.rootling.nursery.domain;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.StoreKind;
import org.rootling.platform.Refused;
import org.rootling.platform.VineyardRow;

/** A bed or store. */
@Entity
@Table(name = "store")
class StoreRow extends VineyardRow {

    private String name;

    @Enumerated(EnumType.STRING)
    private StoreKind kind;

    private @Nullable Integer capacity;

    @Column(name = "set_temperature_c")
    private @Nullable BigDecimal setTemperatureC;

    private @Nullable String soil;
    private @Nullable String whereItIs;

    @Column(name = "east_m")
    private @Nullable Double eastM;

    @Column(name = "north_m")
    private @Nullable Double northM;

    private @Nullable UUID blockId;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected StoreRow() {}

    String name() {
        return name;
    }

    StoreKind kind() {
        return kind;
    }

    @Nullable
    Integer capacity() {
        return capacity;
    }

    @Nullable
    BigDecimal setTemperatureC() {
        return setTemperatureC;
    }

    @Nullable
    String soil() {
        return soil;
    }

    @Nullable
    String whereItIs() {
        return whereItIs;
    }

    @Nullable
    Double eastM() {
        return eastM;
    }

    @Nullable
    Double northM() {
        return northM;
    }

    @Nullable
    UUID blockId() {
        return blockId;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    StoreRow(NewStore from) {
        describe(from);
    }

    final void describe(NewStore from) {
        this.name = from.name().strip();
        this.kind = from.kind();
        this.capacity = from.capacity();
        Double temperature = from.kind() == StoreKind.COLD_STORE ? from.setTemperatureC() : null;
        this.setTemperatureC = temperature == null ? null : BigDecimal.valueOf(temperature);
        this.soil = from.kind().hasSoil() ? Texts.orNull(from.soil()) : null;
        this.whereItIs = Texts.orNull(from.whereItIs());
        UUID block = from.blockId();
        if (block == null
                ? from.eastM() != null || from.northM() != null
                : from.eastM() == null || from.northM() == null) {
            throw new Refused("nursery.stores.place-whole").at(block == null ? "blockId" : "eastM");
        }
        this.blockId = block;
        this.eastM = from.eastM();
        this.northM = from.northM();
    }

    void withdraw(Instant now) {
        this.withdrawnAt = now;
    }
}
