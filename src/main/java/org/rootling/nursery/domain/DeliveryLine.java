package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.math.BigDecimal;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.Found;
import org.rootling.nursery.Stock.NewDeliveryLine;
import org.rootling.platform.VineyardRow;

/** A line of a delivery as counted and looked at on arrival. */
@Entity
@Table(name = "delivery_line")
class DeliveryLine extends VineyardRow {

    private UUID deliveryId;
    private int lineNo;
    private @Nullable UUID orderLineId;
    private int bundles;
    private int bundleSize;
    private int loose;
    private @Nullable Integer billed;
    private int rejected;
    private @Nullable String rejectReason;

    @Enumerated(EnumType.STRING)
    private Found roots;

    @Enumerated(EnumType.STRING)
    private Found graft;

    @Enumerated(EnumType.STRING)
    private Found wax;

    @Enumerated(EnumType.STRING)
    private Found mould;

    @Enumerated(EnumType.STRING)
    private Found dryness;

    @Enumerated(EnumType.STRING)
    private Found label;

    private @Nullable BigDecimal priceEach;
    private @Nullable BigDecimal credited;
    private @Nullable String creditNote;

    @SuppressWarnings("NullAway.Init")
    protected DeliveryLine() {}

    UUID deliveryId() {
        return deliveryId;
    }

    int lineNo() {
        return lineNo;
    }

    @Nullable
    UUID orderLineId() {
        return orderLineId;
    }

    int bundles() {
        return bundles;
    }

    int bundleSize() {
        return bundleSize;
    }

    int loose() {
        return loose;
    }

    @Nullable
    Integer billed() {
        return billed;
    }

    int rejected() {
        return rejected;
    }

    @Nullable
    String rejectReason() {
        return rejectReason;
    }

    Found roots() {
        return roots;
    }

    Found graft() {
        return graft;
    }

    Found wax() {
        return wax;
    }

    Found mould() {
        return mould;
    }

    Found dryness() {
        return dryness;
    }

    Found label() {
        return label;
    }

    DeliveryLine(UUID deliveryId, int lineNo, NewDeliveryLine from) {
        this.deliveryId = deliveryId;
        this.lineNo = lineNo;
        this.orderLineId = from.orderLineId();
        this.bundles = from.bundles();
        this.bundleSize = from.bundleSize();
        this.loose = from.loose();
        this.billed = from.billed();
        this.rejected = from.rejected();
        this.rejectReason = from.rejected() == 0 ? null : Texts.orNull(from.rejectReason());
        this.roots = from.check().roots();
        this.graft = from.check().graft();
        this.wax = from.check().wax();
        this.mould = from.check().mould();
        this.dryness = from.check().dryness();
        this.label = from.check().label();
    }

    @Nullable
    BigDecimal priceEach() {
        return priceEach;
    }

    @Nullable
    BigDecimal credited() {
        return credited;
    }

    @Nullable
    String creditNote() {
        return creditNote;
    }

    void bill(
            @Nullable Integer onInvoice,
            @Nullable BigDecimal price,
            @Nullable BigDecimal credit,
            @Nullable String note) {
        this.billed = onInvoice;
        this.priceEach = price;
        this.credited = credit;
        this.creditNote = Texts.orNull(note);
    }

    /** Vines counted: bundles × size + loose. */
    int counted() {
        return bundles * bundleSize + loose;
    }
}
