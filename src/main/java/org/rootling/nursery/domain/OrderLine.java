package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewOrderLine;
import org.rootling.nursery.calc.DeliveryCheck.Kind;
import org.rootling.platform.VineyardRow;

/** A line of an order. */
@Entity
@Table(name = "order_line")
class OrderLine extends VineyardRow {

    /** What was agreed with the nursery. */
    record Terms(
            Kind kind,
            int vines,
            @Nullable BigDecimal priceEach,
            @Nullable LocalDate expectedWeek) {}

    private UUID orderId;
    private int lineNo;
    private String variety;
    private @Nullable String cloneName;
    private String rootstock;
    private int vines;
    private @Nullable BigDecimal priceEach;
    private @Nullable LocalDate expectedWeek;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected OrderLine() {}

    UUID orderId() {
        return orderId;
    }

    int lineNo() {
        return lineNo;
    }

    String variety() {
        return variety;
    }

    @Nullable
    String cloneName() {
        return cloneName;
    }

    String rootstock() {
        return rootstock;
    }

    int vines() {
        return vines;
    }

    @Nullable
    BigDecimal priceEach() {
        return priceEach;
    }

    @Nullable
    LocalDate expectedWeek() {
        return expectedWeek;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    OrderLine(UUID orderId, int lineNo, NewOrderLine from) {
        this.orderId = orderId;
        this.lineNo = lineNo;
        change(from);
    }

    final void change(NewOrderLine from) {
        this.variety = from.variety().strip();
        this.cloneName = Texts.orNull(from.cloneName());
        this.rootstock = from.rootstock().strip();
        this.vines = from.vines();
        this.priceEach = from.priceEach();
        LocalDate week = from.expectedWeek();
        this.expectedWeek = week == null ? null : week.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
    }

    Terms terms() {
        return new Terms(kind(), vines, priceEach == null ? null : priceEach.stripTrailingZeros(), expectedWeek);
    }

    void withdraw(Instant now) {
        this.withdrawnAt = now;
    }

    Kind kind() {
        return new Kind(variety, cloneName, rootstock);
    }
}
