package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StoreKind;
import org.rootling.platform.VineyardRow;

/** A limit that the vineyard has set in place of the published one. */
@Entity
@Table(name = "store_limit")
class StoreLimit extends VineyardRow {

    @Enumerated(EnumType.STRING)
    private StoreKind kind;

    private String allowance;
    private @Nullable BigDecimal warnAt;
    private BigDecimal limitValue;
    private String source;

    @SuppressWarnings("NullAway.Init")
    protected StoreLimit() {}

    StoreKind kind() {
        return kind;
    }

    String allowance() {
        return allowance;
    }

    @Nullable
    BigDecimal warnAt() {
        return warnAt;
    }

    BigDecimal limitValue() {
        return limitValue;
    }

    String source() {
        return source;
    }

    StoreLimit(StoreKind kind, String allowance, @Nullable BigDecimal warnAt, BigDecimal limitValue, String source) {
        this.kind = kind;
        this.allowance = allowance;
        set(warnAt, limitValue, source);
    }

    final void set(@Nullable BigDecimal newWarnAt, BigDecimal newLimit, String newSource) {
        this.warnAt = newWarnAt;
        this.limitValue = newLimit;
        this.source = newSource.strip();
    }
}
