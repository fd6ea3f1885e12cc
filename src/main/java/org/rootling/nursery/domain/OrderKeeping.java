package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewOrder;
import org.rootling.nursery.Stock.NewOrderLine;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** An order after it was placed, and the money: confirming, changing, ending lines, invoices and credit. */
@Service
@Transactional
public class OrderKeeping {

    /**
     * A line of an order as it shall be.
     *
     * @param field where it stands in the form, before the name of its parts
     * @param id the line that is changed; null for a new one
     * @param to what it becomes; null to end it
     */
    public record LineChange(
            String field, @Nullable UUID id, @Nullable NewOrderLine to) {}

    /** What the papers of a delivery say: their numbers, the currency, and the money of each line. */
    public record Bill(
            @Nullable String deliveryNoteNo, @Nullable String invoiceNo, String currency, List<BilledLine> lines) {}

    /**
     * The money of one delivery line.
     *
     * @param field where it stands in the form
     * @param billed vines on the invoice; null for as many as were counted
     * @param priceEach null for the order's price
     * @param credited what the nursery gave back; null for nothing
     */
    public record BilledLine(
            String field,
            UUID id,
            @Nullable Integer billed,
            @Nullable BigDecimal priceEach,
            @Nullable BigDecimal credited,
            @Nullable String creditNote) {}

    private final NurseryOrders orders;
    private final OrderLines orderLines;
    private final Deliveries deliveries;
    private final DeliveryLines deliveryLines;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;

    OrderKeeping(
            NurseryOrders orders,
            OrderLines orderLines,
            Deliveries deliveries,
            DeliveryLines deliveryLines,
            Vineyards vineyards,
            JdbcClient jdbc) {
        this.orders = orders;
        this.orderLines = orderLines;
        this.deliveries = deliveries;
        this.deliveryLines = deliveryLines;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
    }

    /** The nursery has confirmed an order. */
    public void confirm(UUID orderId, int version) {
        order(orderId, version).confirm();
        orders.flush();
    }

    /** An order will not come. Where a part has come already, its lines are ended instead. */
    public void cancel(UUID orderId, int version) {
        NurseryOrder order = order(orderId, version);
        if (!cameOn(orderId).isEmpty()) {
            throw new Refused("nursery.order.vines-came");
        }
        order.cancel();
        orders.flush();
    }

    /**
     * Changes an order. A line on which vines came keeps its kind, so that what came is still judged by what was ordered;
     * it can be ended, and then nothing more is expected on it. A confirmed order whose lines change waits for
     * confirmation again.
     */
    public void change(UUID orderId, int version, NewOrder to, List<LineChange> changes) {
        NurseryOrder order = orders.findForChangeById(orderId).orElseThrow(() -> new NotFound("order"));
        order.requireVersion(version);
        boolean taken = orders.findAll().stream()
                .anyMatch(o -> !o.getId().equals(orderId)
                        && o.supplierId().equals(order.supplierId())
                        && o.reference().equalsIgnoreCase(to.reference().strip()));
        if (taken) {
            throw new Refused("nursery.order.reference-taken", to.reference().strip()).at("reference");
        }
        order.describe(to);
        Set<UUID> came = cameOn(orderId);
        Map<UUID, OrderLine> known = new HashMap<>();
        int last = 0;
        for (OrderLine line : orderLines.findAllByOrderIdOrderByLineNo(orderId)) {
            known.put(line.getId(), line);
            last = Math.max(last, line.lineNo());
        }
        boolean changed = false;
        for (LineChange change : changes) {
            NewOrderLine wanted = change.to();
            if (wanted != null) {
                StockRules.requireWeek(to.orderedOn(), wanted.expectedWeek());
            }
            if (change.id() != null) {
                OrderLine line = known.get(change.id());
                if (line == null || line.withdrawnAt() != null) {
                    throw new NotFound("order line");
                }
                changed |= change(line, wanted, came.contains(line.getId()), change.field());
            } else if (wanted != null) {
                OrderLine added = orderLines.save(new OrderLine(orderId, ++last, wanted));
                known.put(added.getId(), added);
                changed = true;
            }
        }
        if (came.isEmpty() && known.values().stream().allMatch(l -> l.withdrawnAt() != null)) {
            throw new Refused("nursery.order.no-lines");
        }
        if (changed) {
            order.linesChanged();
        }
        orderLines.flush();
        orders.flush();
    }

    private boolean change(OrderLine line, @Nullable NewOrderLine wanted, boolean came, String field) {
        if (wanted == null) {
            line.withdraw(vineyards.now());
            return true;
        }
        OrderLine.Terms before = line.terms();
        line.change(wanted);
        if (came && !line.kind().equals(before.kind())) {
            throw new Refused("nursery.order.kind-came").at(field + "variety");
        }
        return !line.terms().equals(before);
    }

    /** Lines of an order on which vines came. */
    private Set<UUID> cameOn(UUID orderId) {
        return new HashSet<>(
                jdbc.sql("""
                        select distinct ol.id from order_line ol
                          join delivery_line dl on dl.vineyard_id = ol.vineyard_id and dl.order_line_id = ol.id
                         where ol.order_id = :order
                        """).param("order", orderId).query(UUID.class).list());
    }

    /** Notes what the papers of a delivery say and what was credited. */
    public void bill(UUID deliveryId, int version, Bill bill) {
        Delivery delivery = deliveries.findForChangeById(deliveryId).orElseThrow(() -> new NotFound("delivery"));
        delivery.requireVersion(version);
        delivery.papers(bill.deliveryNoteNo(), bill.invoiceNo(), bill.currency());
        Map<UUID, DeliveryLine> known = new HashMap<>();
        deliveryLines.findAllByDeliveryIdOrderByLineNo(deliveryId).forEach(l -> known.put(l.getId(), l));
        for (BilledLine billed : bill.lines()) {
            DeliveryLine line = known.get(billed.id());
            if (line == null) {
                throw new NotFound("delivery line");
            }
            requireCredit(line, billed);
            line.bill(billed.billed(), billed.priceEach(), billed.credited(), billed.creditNote());
        }
        deliveryLines.flush();
        deliveries.saveAndFlush(delivery);
    }

    private void requireCredit(DeliveryLine line, BilledLine billed) {
        BigDecimal credited = billed.credited();
        if (credited == null || credited.signum() == 0) {
            return;
        }
        BigDecimal price = billed.priceEach();
        UUID orderLine = line.orderLineId();
        if (price == null && orderLine != null) {
            price = orderLines.findById(orderLine).orElseThrow().priceEach();
        }
        if (price == null) {
            throw new Refused("nursery.money.price-first").at(billed.field() + "priceEach");
        }
        Integer onInvoice = billed.billed();
        BigDecimal charged = price.multiply(BigDecimal.valueOf(onInvoice == null ? line.counted() : onInvoice));
        if (credited.compareTo(charged) > 0) {
            throw new Refused("nursery.money.credit-too-high", charged).at(billed.field() + "credited");
        }
    }

    private NurseryOrder order(UUID id, int version) {
        NurseryOrder order = orders.findById(id).orElseThrow(() -> new NotFound("order"));
        order.requireVersion(version);
        return order;
    }
}
