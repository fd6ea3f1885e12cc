package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewOrder;
import org.rootling.platform.Refused;
import org.rootling.platform.VineyardRow;

/** An order with a nursery; its lines stand on their own. */
@Entity
@Table(name = "nursery_order")
class NurseryOrder extends VineyardRow {

    private UUID supplierId;
    private String reference;
    private LocalDate orderedOn;

    @Enumerated(EnumType.STRING)
    private OrderStatus status;

    private String currency;
    private @Nullable String note;

    @SuppressWarnings("NullAway.Init")
    protected NurseryOrder() {}

    UUID supplierId() {
        return supplierId;
    }

    String reference() {
        return reference;
    }

    LocalDate orderedOn() {
        return orderedOn;
    }

    OrderStatus status() {
        return status;
    }

    String currency() {
        return currency;
    }

    @Nullable
    String note() {
        return note;
    }

    NurseryOrder(NewOrder from) {
        this.supplierId = from.supplierId();
        this.status = OrderStatus.PLACED;
        describe(from);
    }

    final void describe(NewOrder from) {
        if (status == OrderStatus.CANCELLED) {
            throw new Refused("nursery.order.is-cancelled");
        }
        this.reference = from.reference().strip();
        this.orderedOn = from.orderedOn();
        this.currency = from.currency();
        this.note = Texts.orNull(from.note());
    }

    void confirm() {
        change(OrderStatus.CONFIRMED);
    }

    /** What was confirmed is no longer what is ordered. */
    void linesChanged() {
        if (status == OrderStatus.CONFIRMED) {
            change(OrderStatus.PLACED);
        }
    }

    void cancel() {
        change(OrderStatus.CANCELLED);
    }

    private void change(OrderStatus to) {
        if (!status.mayBecome(to)) {
            throw new Refused(
                    status == OrderStatus.CANCELLED ? "nursery.order.is-cancelled" : "nursery.order.is-confirmed");
        }
        this.status = to;
    }
}
