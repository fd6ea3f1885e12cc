package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewDelivery;
import org.rootling.platform.VineyardRow;

/** What came on one day from one nursery. */
@Entity
@Table(name = "delivery")
class Delivery extends VineyardRow {

    private UUID supplierId;
    private @Nullable UUID orderId;
    private LocalDate receivedOn;
    private @Nullable Integer daysInTransit;
    private @Nullable String deliveryNoteNo;
    private @Nullable String invoiceNo;
    private @Nullable String note;
    private @Nullable String currency;

    @SuppressWarnings("NullAway.Init")
    protected Delivery() {}

    UUID supplierId() {
        return supplierId;
    }

    @Nullable
    UUID orderId() {
        return orderId;
    }

    LocalDate receivedOn() {
        return receivedOn;
    }

    @Nullable
    Integer daysInTransit() {
        return daysInTransit;
    }

    @Nullable
    String deliveryNoteNo() {
        return deliveryNoteNo;
    }

    @Nullable
    String invoiceNo() {
        return invoiceNo;
    }

    @Nullable
    String note() {
        return note;
    }

    @Nullable
    String currency() {
        return currency;
    }

    void papers(@Nullable String noteNo, @Nullable String invoice, String moneyOf) {
        this.deliveryNoteNo = Texts.orNull(noteNo);
        this.invoiceNo = Texts.orNull(invoice);
        this.currency = moneyOf;
    }

    Delivery(NewDelivery from) {
        this.supplierId = from.supplierId();
        this.orderId = from.orderId();
        this.receivedOn = from.receivedOn();
        this.daysInTransit = from.daysInTransit();
        this.deliveryNoteNo = Texts.orNull(from.deliveryNoteNo());
        this.invoiceNo = Texts.orNull(from.invoiceNo());
        this.note = Texts.orNull(from.note());
    }
}
