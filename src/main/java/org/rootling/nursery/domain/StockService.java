package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.DeliveryReceived;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.LotHeeledIn;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.VineColour;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Takes stock in, moves it about and hands it out for planting; every number goes through the ledger. */
@Service
@Transactional
class StockService implements Stock, Lots {

    private static final Set<MovementKind> UNDONE_TOGETHER =
            EnumSet.of(MovementKind.PLANTED, MovementKind.LOST, MovementKind.REJECTED);

    private final Ledger ledger;
    private final HoldClocks clocks;
    private final LotQueries lotQueries;
    private final LotRows lotRows;
    private final HoldRows holdRows;
    private final StoreRows storeRows;
    private final WateringRows waterings;
    private final Suppliers suppliers;
    private final NurseryOrders orders;
    private final OrderLines orderLines;
    private final Deliveries deliveries;
    private final DeliveryLines deliveryLines;
    private final ReferenceLists lists;
    private final Vineyards vineyards;
    private final ApplicationEventPublisher events;
    private final LotSeries series;
    private final WarningDesk warnings;
    private final JdbcClient jdbc;

    StockService(
            Ledger ledger,
            HoldClocks clocks,
            LotQueries lotQueries,
            LotRows lotRows,
            HoldRows holdRows,
            StoreRows storeRows,
            WateringRows waterings,
            Suppliers suppliers,
            NurseryOrders orders,
            OrderLines orderLines,
            Deliveries deliveries,
            DeliveryLines deliveryLines,
            ReferenceLists lists,
            Vineyards vineyards,
            ApplicationEventPublisher events,
            LotSeries series,
            WarningDesk warnings,
            JdbcClient jdbc) {
        this.ledger = ledger;
        this.clocks = clocks;
        this.lotQueries = lotQueries;
        this.lotRows = lotRows;
        this.holdRows = holdRows;
        this.storeRows = storeRows;
        this.waterings = waterings;
        this.suppliers = suppliers;
        this.orders = orders;
        this.orderLines = orderLines;
        this.deliveries = deliveries;
        this.deliveryLines = deliveryLines;
        this.lists = lists;
        this.vineyards = vineyards;
        this.events = events;
        this.series = series;
        this.warnings = warnings;
        this.jdbc = jdbc;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Lot> all() {
        return lotQueries.where("", Map.of());
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Lot> byCode(String code) {
        return lotQueries.where("l.code = :code", Map.of("code", code.strip().toUpperCase(Locale.ROOT))).stream()
                .findFirst();
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Lot> byId(UUID id) {
        return lotQueries.where("l.id = :id", Map.of("id", id)).stream().findFirst();
    }

    @Override
    @Transactional(readOnly = true)
    public Map<UUID, Lot> byIds(Collection<UUID> ids) {
        Map<UUID, Lot> byId = new LinkedHashMap<>();
        if (!ids.isEmpty()) {
            lotQueries
                    .where("l.id in (:ids)", Map.of("ids", new HashSet<>(ids)))
                    .forEach(lot -> byId.put(lot.id(), lot));
        }
        return byId;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Hold> holds() {
        return clocks.all(vineyards.today());
    }

    @Override
    @Transactional(readOnly = true)
    public List<Hold> holds(UUID lotId) {
        return clocks.ofLot(lotId, vineyards.today());
    }

    @Override
    @Transactional(readOnly = true)
    public List<Hold> holds(UUID lotId, LocalDate on) {
        return clocks.ofLot(lotId, on);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<LocalDate> plantBy(UUID lotId) {
        return clocks.ofLot(lotId, vineyards.today()).stream()
                .flatMap(h -> Optional.ofNullable(h.plantBy()).stream())
                .min(LocalDate::compareTo);
    }

    @Override
    public UUID plant(UUID lotId, int count, LocalDate on, UUID reference) {
        return takeFromWaiting(lotId, count, on, MovementKind.PLANTED, Spot.PLANTED, null, reference);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<UUID> storeBefore(UUID reference) {
        return ledger.storeBefore(reference);
    }

    @Override
    public void lose(UUID lotId, int count, LocalDate on, Loss loss, String reason, UUID reference) {
        boolean lost = loss == Loss.LOST;
        takeFromWaiting(
                lotId,
                count,
                on,
                lost ? MovementKind.LOST : MovementKind.REJECTED,
                lost ? Spot.LOST : Spot.REJECTED,
                reason,
                reference);
    }

    private UUID takeFromWaiting(
            UUID lotId, int count, LocalDate on, MovementKind kind, Spot to, @Nullable String reason, UUID reference) {
        StockRules.requireCount(count);
        ledger.lock(lotId);
        LotRow lot = lot(lotId);
        StockRules.requireDay(lot, on, vineyards.today());
        UUID first = null;
        int left = count;
        for (Take take : waiting(lotId, on)) {
            int part = Math.min(left, take.count());
            if (part > 0) {
                UUID id = ledger.book(lotId, kind, part, on, take.from(), to, reason, reference);
                first = first == null ? id : first;
                left -= part;
            }
        }
        if (first == null || left > 0) {
            throw new Refused("nursery.plant.too-few", count, count - left, lot.code()).at("count");
        }
        warnings.closeEmptied(lotId);
        return first;
    }

    private record Take(Spot from, int count) {}

    /** What waits of a lot, in the order in which it is planted. */
    private List<Take> waiting(UUID lotId, LocalDate on) {
        Map<Spot, Integer> balance = ledger.balance(lotId);
        List<Take> takes = new ArrayList<>();
        takes.add(new Take(Spot.LIFTED, balance.getOrDefault(Spot.LIFTED, 0)));
        takes.add(new Take(Spot.UNPLACED, balance.getOrDefault(Spot.UNPLACED, 0)));
        Map<UUID, LocalDate> runsOut = new HashMap<>();
        for (Hold hold : clocks.ofLot(lotId, vineyards.today())) {
            LocalDate plantBy = hold.plantBy();
            runsOut.put(hold.id(), plantBy == null ? LocalDate.MAX : plantBy);
        }
        balance.entrySet().stream()
                .filter(e -> e.getKey().hold() != null && e.getValue() > 0)
                .sorted(Comparator.comparing((Map.Entry<Spot, Integer> e) ->
                                runsOut.getOrDefault(e.getKey().hold(), LocalDate.MAX))
                        .thenComparing(e -> String.valueOf(e.getKey().hold())))
                .forEach(e -> takes.add(new Take(e.getKey(), e.getValue())));
        return takes;
    }

    @Override
    public void undoPlant(UUID reference, LocalDate on) {
        List<Movement> planted = ledger.byReference(reference).stream()
                .filter(m -> UNDONE_TOGETHER.contains(m.kind()) && !m.answered())
                .toList();
        if (planted.isEmpty()) {
            throw new NotFound("planting");
        }
        planted.forEach(m -> ledger.answer(m, on));
    }

    @Override
    public UUID addSupplier(NewSupplier supplier) {
        boolean taken = suppliers.findAllByWithdrawnAtIsNullOrderByName().stream()
                .anyMatch(s -> s.name().equalsIgnoreCase(supplier.name().strip()));
        if (taken) {
            throw new Refused("nursery.supplier.name-taken", supplier.name().strip()).at("name");
        }
        return suppliers.saveAndFlush(new Supplier(supplier)).getId();
    }

    @Override
    public UUID order(NewOrder order) {
        requireSupplier(order.supplierId());
        if (order.lines().isEmpty()) {
            throw new Refused("nursery.order.no-lines");
        }
        boolean taken = orders.findAll().stream()
                .anyMatch(o -> o.supplierId().equals(order.supplierId())
                        && o.reference().equalsIgnoreCase(order.reference().strip()));
        if (taken) {
            throw new Refused("nursery.order.reference-taken", order.reference().strip()).at("reference");
        }
        NurseryOrder kept = orders.saveAndFlush(new NurseryOrder(order));
        int number = 1;
        for (NewOrderLine line : order.lines()) {
            StockRules.requireWeek(order.orderedOn(), line.expectedWeek());
            orderLines.save(new OrderLine(kept.getId(), number++, line));
        }
        orderLines.flush();
        return kept.getId();
    }

    @Override
    @Transactional(readOnly = true)
    public List<UUID> orderLines(UUID order) {
        return orderLines.findAllByOrderIdOrderByLineNo(order).stream()
                .map(OrderLine::getId)
                .toList();
    }

    @Override
    public List<Lot> receive(NewDelivery delivery) {
        requireSupplier(delivery.supplierId());
        if (delivery.lines().isEmpty()) {
            throw new Refused("nursery.delivery.no-lines");
        }
        StockRules.requirePast(delivery.receivedOn(), vineyards.today(), "receivedOn");
        Set<UUID> known = orderedLines(delivery);
        Delivery kept = deliveries.saveAndFlush(new Delivery(delivery));
        List<UUID> lots = new ArrayList<>();
        int number = 1;
        for (NewDeliveryLine line : delivery.lines()) {
            if (line.orderLineId() != null && !known.contains(line.orderLineId())) {
                throw new NotFound("order line");
            }
            lots.add(receive(kept, number++, line));
        }
        events.publishEvent(new DeliveryReceived(Tenancy.require(), kept.getId(), List.copyOf(lots)));
        return List.copyOf(byIds(lots).values());
    }

    private Set<UUID> orderedLines(NewDelivery delivery) {
        Set<UUID> known = new HashSet<>();
        UUID orderId = delivery.orderId();
        if (orderId != null) {
            NurseryOrder order = orders.findById(orderId).orElseThrow(() -> new NotFound("order"));
            if (!order.supplierId().equals(delivery.supplierId())) {
                throw new Refused("nursery.delivery.other-nursery").at("orderId");
            }
            if (order.status() == OrderStatus.CANCELLED) {
                throw new Refused("nursery.order.is-cancelled").at("orderId");
            }
            if (delivery.receivedOn().isBefore(order.orderedOn())) {
                throw new Refused("nursery.delivery.before-order", order.orderedOn()).at("receivedOn");
            }
            for (OrderLine line : orderLines.findAllByOrderIdOrderByLineNo(orderId)) {
                if (line.withdrawnAt() == null) {
                    known.add(line.getId());
                }
            }
        }
        return known;
    }

    private UUID receive(Delivery delivery, int number, NewDeliveryLine line) {
        long counted = (long) line.bundles() * line.bundleSize() + line.loose();
        if (counted < 1) {
            throw new Refused("nursery.delivery.no-vines", number).at("lines[" + (number - 1) + "].bundles");
        }
        if (counted > 1_000_000) {
            throw new Refused("nursery.delivery.too-many-vines", number).at("lines[" + (number - 1) + "].bundles");
        }
        if (line.rejected() > counted) {
            throw new Refused("nursery.delivery.rejected-too-many", line.rejected(), counted)
                    .at("lines[" + (number - 1) + "].rejected");
        }
        if (line.rejected() > 0 && Texts.orNull(line.rejectReason()) == null) {
            throw new Refused("nursery.delivery.reject-reason-missing").at("lines[" + (number - 1) + "].rejectReason");
        }
        VineColour colour = lists.colour(line.variety())
                .orElseThrow(() -> new Refused("nursery.variety.unknown", line.variety())
                        .at("lines[" + (number - 1) + "].variety"));
        DeliveryLine kept = deliveryLines.saveAndFlush(new DeliveryLine(delivery.getId(), number, line));
        int year = delivery.receivedOn().getYear();
        LotRow lot = lotRows.saveAndFlush(
                new LotRow(year, series.next(year), kept.getId(), line, colour, delivery.receivedOn()));
        UUID id = lot.getId();
        LocalDate on = delivery.receivedOn();
        ledger.book(id, MovementKind.RECEIVED, kept.counted(), on, Spot.OUTSIDE, Spot.UNPLACED, null, delivery.getId());
        if (kept.rejected() > 0) {
            ledger.book(
                    id,
                    MovementKind.REJECTED,
                    kept.rejected(),
                    on,
                    Spot.UNPLACED,
                    Spot.REJECTED,
                    kept.rejectReason(),
                    delivery.getId());
        }
        return id;
    }

    @Override
    public UUID addStore(NewStore store) {
        requireFreeName(store.name());
        return storeRows.saveAndFlush(new StoreRow(store)).getId();
    }

    private void requireFreeName(String name) {
        boolean taken = storeRows.findAllByWithdrawnAtIsNullOrderByName().stream()
                .anyMatch(s -> s.name().equalsIgnoreCase(name.strip()));
        if (taken) {
            throw new Refused("nursery.store.name-taken", name.strip()).at("name");
        }
    }

    @Override
    public UUID place(UUID lotId, UUID storeId, int count, LocalDate on) {
        StockRules.requireCount(count);
        ledger.lock(lotId);
        LotRow lot = lot(lotId);
        StockRules.requireDay(lot, on, vineyards.today());
        requireRoom(storeId, count);
        Map<Spot, Integer> balance = ledger.balance(lotId);
        int unplaced = balance.getOrDefault(Spot.UNPLACED, 0);
        int lifted = balance.getOrDefault(Spot.LIFTED, 0);
        if (count > unplaced + lifted) {
            throw new Refused("nursery.ledger.too-many", count, unplaced + lifted).at("count");
        }
        HoldRow hold = holdRows.saveAndFlush(new HoldRow(lotId, storeId, on, null));
        Spot to = Spot.hold(hold.getId());
        int first = Math.min(count, unplaced);
        if (first > 0) {
            ledger.book(lotId, MovementKind.PLACED, first, on, Spot.UNPLACED, to, null, hold.getId());
        }
        if (count > first) {
            ledger.book(lotId, MovementKind.PLACED, count - first, on, Spot.LIFTED, to, null, hold.getId());
        }
        events.publishEvent(new LotHeeledIn(Tenancy.require(), lotId, hold.getId(), count, on));
        return hold.getId();
    }

    @Override
    public UUID move(UUID holdId, UUID storeId, int count, LocalDate on) {
        StockRules.requireCount(count);
        HoldRow from = hold(holdId);
        ledger.lock(from.lotId());
        StockRules.requireDay(from, on, vineyards.today());
        if (from.storeId().equals(storeId)) {
            throw new Refused("nursery.move.same-store").at("storeId");
        }
        requireRoom(storeId, count);
        HoldRow to = holdRows.saveAndFlush(new HoldRow(from.lotId(), storeId, on, holdId));
        ledger.book(
                from.lotId(),
                MovementKind.MOVED,
                count,
                on,
                Spot.hold(holdId),
                Spot.hold(to.getId()),
                null,
                to.getId());
        warnings.closeEmptied(from.lotId());
        events.publishEvent(new LotHeeledIn(Tenancy.require(), from.lotId(), to.getId(), count, on));
        return to.getId();
    }

    @Override
    public void lift(UUID holdId, int count, LocalDate on) {
        StockRules.requireCount(count);
        HoldRow hold = hold(holdId);
        ledger.lock(hold.lotId());
        StockRules.requireDay(hold, on, vineyards.today());
        ledger.book(hold.lotId(), MovementKind.LIFTED, count, on, Spot.hold(holdId), Spot.LIFTED, null, holdId);
        warnings.closeEmptied(hold.lotId());
    }

    @Override
    public UUID water(UUID storeId, LocalDate on, @Nullable Double mm) {
        store(storeId);
        StockRules.requirePast(on, vineyards.today(), "on");
        UUID id = waterings.saveAndFlush(new WateringRow(storeId, on, mm)).getId();
        if (on.equals(vineyards.today())) {
            warnings.closeWatered(storeId);
        }
        return id;
    }

    private void requireSupplier(UUID id) {
        if (suppliers.findById(id).isEmpty()) {
            throw new NotFound("nursery");
        }
    }

    private LotRow lot(UUID id) {
        return lotRows.findById(id).orElseThrow(() -> new NotFound("lot"));
    }

    private HoldRow hold(UUID id) {
        return holdRows.findById(id).orElseThrow(() -> new NotFound("hold"));
    }

    private StoreRow store(UUID id) {
        StoreRow store = storeRows.findById(id).orElseThrow(() -> new NotFound("store"));
        if (store.withdrawnAt() != null) {
            throw new Refused("nursery.store.withdrawn", store.name()).at("storeId");
        }
        return store;
    }

    /** Refuses to fill a store over its capacity; two placings at once wait for each other. */
    private void requireRoom(UUID storeId, int count) {
        StoreRow store = store(storeId);
        Integer capacity = store.capacity();
        if (capacity == null) {
            return;
        }
        jdbc.sql("select 1 from store where id = :id for update")
                .param("id", storeId)
                .query(Integer.class)
                .single();
        int there = jdbc.sql("""
                        select coalesce(sum(b.count), 0) from hold h
                          join lot_balance b on b.vineyard_id = h.vineyard_id and b.hold_id = h.id
                               and b.account = 'HOLD'
                         where h.store_id = :id
                        """).param("id", storeId).query(Integer.class).single();
        if (there + count > capacity) {
            throw new Refused("nursery.store.full", store.name(), Math.max(0, capacity - there)).at("count");
        }
    }
}
