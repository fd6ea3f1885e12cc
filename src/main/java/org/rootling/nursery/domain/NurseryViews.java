package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.ArrivalCheck;
import org.rootling.nursery.Stock.Found;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.Stock.Passport;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.calc.DeliveryCheck;
import org.rootling.nursery.calc.DeliveryCheck.Kind;
import org.rootling.nursery.calc.DeliveryCheck.Verdict;
import org.rootling.platform.NotFound;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What the nursery's pages show, each page in few questions whatever the number of vines. */
@Component
@Transactional(readOnly = true)
public class NurseryViews {

    /** A nursery in a list of choices. */
    public record SupplierView(
            UUID id,
            String name,
            @Nullable String registrationNo,
            @Nullable String country,
            @Nullable String contact,
            int bundleSize) {}

    /**
     * An order line with what has come on it.
     *
     * @param came vines of the right kind that came so far
     * @param other vines that came in their stead, of another kind
     * @param ended withdrawn, or nothing more is expected on it
     */
    public record OrderLineView(
            UUID id,
            int lineNo,
            String variety,
            @Nullable String cloneName,
            String rootstock,
            int vines,
            @Nullable BigDecimal priceEach,
            @Nullable LocalDate expectedWeek,
            int came,
            int other,
            boolean ended) {

        /** The price with at least two decimals; empty without one. */
        public String price() {
            return money(priceEach);
        }

        /** Vines still to come. */
        public int open() {
            return ended ? 0 : Math.max(0, vines - came - other);
        }

        /** Vines that the order stands for: those ordered, or once it is ended those that came. */
        public int counts() {
            return ended ? came + other : vines;
        }
    }

    /** An order with its lines. */
    public record OrderView(
            UUID id,
            UUID supplierId,
            String supplier,
            String reference,
            LocalDate orderedOn,
            OrderStatus status,
            String currency,
            @Nullable String note,
            int version,
            List<OrderLineView> lines) {

        public int vines() {
            return lines.stream().mapToInt(OrderLineView::counts).sum();
        }

        public int came() {
            return lines.stream().mapToInt(l -> l.came() + l.other()).sum();
        }

        /** The sum of what is priced, in the order's currency, with two decimals. */
        public String price() {
            BigDecimal sum = BigDecimal.ZERO;
            for (OrderLineView line : lines) {
                BigDecimal each = line.priceEach();
                sum = each == null ? sum : sum.add(each.multiply(BigDecimal.valueOf(line.counts())));
            }
            return money(sum.setScale(2, RoundingMode.HALF_UP));
        }
    }

    /**
     * A delivery line with its lot.
     *
     * @param verdict how it stands to the order
     * @param orderedVines how many the order line says, 0 without
     * @param priceEach the invoice's price, else the order's
     * @param ownPrice the invoice's price, where it was noted
     * @param credited what the nursery gave back
     * @param placeable whether some of its vines stand in no bed or store
     */
    public record DeliveryLineView(
            UUID id,
            String lotCode,
            String variety,
            @Nullable String cloneName,
            String rootstock,
            int bundles,
            int bundleSize,
            int loose,
            @Nullable Integer billed,
            int rejected,
            @Nullable String rejectReason,
            ArrivalCheck check,
            Verdict verdict,
            @Nullable String orderedKind,
            int orderedVines,
            int cameBefore,
            @Nullable BigDecimal priceEach,
            @Nullable BigDecimal ownPrice,
            @Nullable BigDecimal credited,
            @Nullable String creditNote,
            boolean placeable) {

        public int counted() {
            return bundles * bundleSize + loose;
        }

        /** Vines to ask credit for: billed but not there, and rejected. */
        public int credit() {
            Integer said = billed;
            return Math.max(0, said == null ? 0 : said - counted()) + rejected;
        }

        /** The price with at least two decimals; empty without one. */
        public String price() {
            return money(priceEach);
        }

        /** What the nursery gave back, with two decimals; empty for nothing yet. */
        public String creditedText() {
            return money(credited);
        }

        /** What that is worth; empty without a price. */
        public String creditWorth() {
            BigDecimal each = priceEach;
            return each == null
                    ? ""
                    : money(each.multiply(BigDecimal.valueOf(credit())).setScale(2, RoundingMode.HALF_UP));
        }
    }

    /** A delivery with its lines. */
    public record DeliveryView(
            UUID id,
            String supplier,
            @Nullable UUID orderId,
            @Nullable String orderReference,
            String currency,
            LocalDate receivedOn,
            @Nullable Integer daysInTransit,
            @Nullable String deliveryNoteNo,
            @Nullable String invoiceNo,
            @Nullable String note,
            @Nullable UUID receivedBy,
            int version,
            List<DeliveryLineView> lines) {}

    /** A store with how many vines stand in it. */
    public record StoreView(
            UUID id, NewStore is, int standing, @Nullable LocalDate lastWatered, int version) {}

    /** A watering that was logged. */
    public record WateringView(
            UUID id,
            LocalDate on,
            @Nullable BigDecimal mm,
            @Nullable UUID by,
            boolean withdrawn) {}

    /**
     * The papers of a lot and where it came from.
     *
     * @param supplierRegistration the nursery's registration number
     * @param splitFrom code of the lot it was split off
     */
    public record PapersView(
            UUID lotId,
            Passport passport,
            @Nullable String note,
            int version,
            String supplier,
            @Nullable String supplierRegistration,
            UUID deliveryId,
            @Nullable String deliveryNoteNo,
            @Nullable String invoiceNo,
            ArrivalCheck check,
            int counted,
            int rejected,
            @Nullable String rejectReason,
            @Nullable String splitFrom,
            List<String> siblings) {}

    /** A stocktake that was made. */
    public record StocktakeView(
            LocalDate on,
            String account,
            @Nullable String store,
            int expected,
            int counted,
            @Nullable String reason) {

        public int difference() {
            return counted - expected;
        }
    }

    private final Suppliers suppliers;
    private final NurseryOrders orders;
    private final OrderLines orderLines;
    private final Ledger ledger;
    private final JdbcClient jdbc;

    NurseryViews(Suppliers suppliers, NurseryOrders orders, OrderLines orderLines, Ledger ledger, JdbcClient jdbc) {
        this.suppliers = suppliers;
        this.orders = orders;
        this.orderLines = orderLines;
        this.ledger = ledger;
        this.jdbc = jdbc;
    }

    /** Nurseries by name. */
    public List<SupplierView> suppliers() {
        return suppliers.findAllByWithdrawnAtIsNullOrderByName().stream()
                .map(s -> new SupplierView(
                        s.getId(), s.name(), s.registrationNo(), s.country(), s.contact(), s.bundleSize()))
                .toList();
    }

    /** All orders, newest first. */
    public List<OrderView> orders() {
        List<NurseryOrder> all = orders.findAllByOrderByOrderedOnDescReferenceAsc();
        Map<UUID, String> names = new HashMap<>();
        suppliers.findAll().forEach(s -> names.put(s.getId(), s.name()));
        Map<UUID, List<OrderLineView>> lines =
                lines(all.stream().map(NurseryOrder::getId).toList());
        return all.stream()
                .map(o -> new OrderView(
                        o.getId(),
                        o.supplierId(),
                        names.getOrDefault(o.supplierId(), ""),
                        o.reference(),
                        o.orderedOn(),
                        o.status(),
                        o.currency(),
                        o.note(),
                        o.version(),
                        lines.getOrDefault(o.getId(), List.of())))
                .toList();
    }

    /** One order. */
    public OrderView order(UUID id) {
        return orders().stream().filter(o -> o.id().equals(id)).findFirst().orElseThrow(() -> new NotFound("order"));
    }

    private Map<UUID, List<OrderLineView>> lines(List<UUID> orderIds) {
        if (orderIds.isEmpty()) {
            return Map.of();
        }
        Map<UUID, Integer> right = new HashMap<>();
        Map<UUID, Integer> other = new HashMap<>();
        Map<UUID, OrderLine> byId = new HashMap<>();
        List<OrderLine> all = orderLines.findAllByOrderIdInOrderByLineNo(orderIds);
        all.forEach(l -> byId.put(l.getId(), l));
        for (CameOn came : cameOn(orderIds)) {
            OrderLine line = byId.get(came.orderLine());
            if (line != null) {
                Verdict verdict = DeliveryCheck.judge(line.kind(), line.vines(), 0, came.kind(), came.counted());
                boolean isRight = verdict != Verdict.WRONG_VARIETY && verdict != Verdict.SUBSTITUTE;
                (isRight ? right : other).merge(line.getId(), came.counted(), Integer::sum);
            }
        }
        Map<UUID, List<OrderLineView>> views = new HashMap<>();
        for (OrderLine l : all) {
            views.computeIfAbsent(l.orderId(), o -> new java.util.ArrayList<>())
                    .add(new OrderLineView(
                            l.getId(),
                            l.lineNo(),
                            l.variety(),
                            l.cloneName(),
                            l.rootstock(),
                            l.vines(),
                            l.priceEach(),
                            l.expectedWeek(),
                            right.getOrDefault(l.getId(), 0),
                            other.getOrDefault(l.getId(), 0),
                            l.withdrawnAt() != null));
        }
        return views;
    }

    private record CameOn(UUID orderLine, Kind kind, int counted, UUID deliveryLine, LocalDate on) {}

    private List<CameOn> cameOn(List<UUID> orderIds) {
        return jdbc.sql("""
                        select dl.order_line_id, l.variety, l.clone_name, l.rootstock, dl.id,
                               dl.bundles * dl.bundle_size + dl.loose as counted, d.received_on
                          from delivery_line dl
                          join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
                          join order_line ol on ol.vineyard_id = dl.vineyard_id and ol.id = dl.order_line_id
                          join lot l on l.vineyard_id = dl.vineyard_id and l.delivery_line_id = dl.id
                               and l.split_from is null
                         where ol.order_id in (:orders)
                         order by d.received_on, dl.id
                        """)
                .param("orders", orderIds)
                .query((rs, n) -> new CameOn(
                        rs.getObject("order_line_id", UUID.class),
                        new Kind(rs.getString("variety"), rs.getString("clone_name"), rs.getString("rootstock")),
                        rs.getInt("counted"),
                        rs.getObject("id", UUID.class),
                        rs.getObject("received_on", LocalDate.class)))
                .list();
    }

    /** Deliveries, newest first, without their lines. */
    public List<DeliveryView> deliveries() {
        return deliveries("true", Map.of()).stream().toList();
    }

    /** One delivery with its lines. */
    public DeliveryView delivery(UUID id) {
        DeliveryView head = deliveries("d.id = :id", Map.of("id", id)).stream()
                .findFirst()
                .orElseThrow(() -> new NotFound("delivery"));
        Map<UUID, OrderLine> ordered = new HashMap<>();
        Map<UUID, Integer> before = new HashMap<>();
        UUID orderId = head.orderId();
        if (orderId != null) {
            orderLines.findAllByOrderIdOrderByLineNo(orderId).forEach(l -> ordered.put(l.getId(), l));
            Map<UUID, Integer> running = new HashMap<>();
            for (CameOn came : cameOn(List.of(orderId))) {
                before.put(came.deliveryLine(), running.getOrDefault(came.orderLine(), 0));
                OrderLine line = ordered.get(came.orderLine());
                Verdict verdict = line == null
                        ? Verdict.NOT_ORDERED
                        : DeliveryCheck.judge(line.kind(), line.vines(), 0, came.kind(), came.counted());
                if (verdict != Verdict.WRONG_VARIETY && verdict != Verdict.SUBSTITUTE) {
                    running.merge(came.orderLine(), came.counted(), Integer::sum);
                }
            }
        }
        List<DeliveryLineView> lines = jdbc.sql("""
                        select dl.*, l.code, l.variety, l.clone_name, l.rootstock,
                               exists (select 1 from lot_balance b
                                        where b.vineyard_id = l.vineyard_id and b.lot_id = l.id
                                          and b.account in ('UNPLACED', 'LIFTED') and b.count > 0) as placeable
                          from delivery_line dl
                          join lot l on l.vineyard_id = dl.vineyard_id and l.delivery_line_id = dl.id
                               and l.split_from is null
                         where dl.delivery_id = :id order by dl.line_no
                        """)
                .param("id", id)
                .query((rs, n) -> line(rs, ordered, before))
                .list();
        return new DeliveryView(
                head.id(),
                head.supplier(),
                head.orderId(),
                head.orderReference(),
                head.currency(),
                head.receivedOn(),
                head.daysInTransit(),
                head.deliveryNoteNo(),
                head.invoiceNo(),
                head.note(),
                head.receivedBy(),
                head.version(),
                lines);
    }

    private List<DeliveryView> deliveries(String where, Map<String, ?> parameters) {
        return jdbc.sql("""
                        select d.*, s.name as supplier, o.reference, coalesce(d.currency, o.currency, 'EUR') as money
                          from delivery d
                          join supplier s on s.vineyard_id = d.vineyard_id and s.id = d.supplier_id
                          left join nursery_order o on o.vineyard_id = d.vineyard_id and o.id = d.order_id
                         where\s""" + where + " order by d.received_on desc, d.id desc")
                .params(parameters)
                .query((rs, n) -> new DeliveryView(
                        rs.getObject("id", UUID.class),
                        rs.getString("supplier"),
                        rs.getObject("order_id", UUID.class),
                        rs.getString("reference"),
                        rs.getString("money"),
                        rs.getObject("received_on", LocalDate.class),
                        rs.getObject("days_in_transit", Integer.class),
                        rs.getString("delivery_note_no"),
                        rs.getString("invoice_no"),
                        rs.getString("note"),
                        rs.getObject("received_by", UUID.class),
                        rs.getInt("version"),
                        List.of()))
                .list();
    }

    private static DeliveryLineView line(ResultSet rs, Map<UUID, OrderLine> ordered, Map<UUID, Integer> before)
            throws SQLException {
        OrderLine orderLine = ordered.get(rs.getObject("order_line_id", UUID.class));
        UUID id = rs.getObject("id", UUID.class);
        Kind came = new Kind(rs.getString("variety"), rs.getString("clone_name"), rs.getString("rootstock"));
        int counted = rs.getInt("bundles") * rs.getInt("bundle_size") + rs.getInt("loose");
        int cameBefore = before.getOrDefault(id, 0);
        int orderedVines = orderLine == null ? 0 : orderLine.vines();
        BigDecimal ownPrice = rs.getBigDecimal("price_each");
        BigDecimal price = ownPrice == null && orderLine != null ? orderLine.priceEach() : ownPrice;
        return new DeliveryLineView(
                id,
                rs.getString("code"),
                came.variety(),
                came.cloneName(),
                came.rootstock(),
                rs.getInt("bundles"),
                rs.getInt("bundle_size"),
                rs.getInt("loose"),
                rs.getObject("billed", Integer.class),
                rs.getInt("rejected"),
                rs.getString("reject_reason"),
                check(rs),
                DeliveryCheck.judge(
                        orderLine == null ? null : orderLine.kind(), orderedVines, cameBefore, came, counted),
                orderLine == null ? null : words(orderLine.kind()),
                orderedVines,
                cameBefore,
                price,
                ownPrice,
                rs.getBigDecimal("credited"),
                rs.getString("credit_note"),
                rs.getBoolean("placeable"));
    }

    private static String money(@Nullable BigDecimal amount) {
        if (amount == null) {
            return "";
        }
        int decimals = Math.max(2, amount.stripTrailingZeros().scale());
        return amount.setScale(decimals, RoundingMode.HALF_UP).toPlainString();
    }

    private static String words(Kind kind) {
        return kind.variety() + (kind.cloneName() == null ? "" : " " + kind.cloneName()) + " / " + kind.rootstock();
    }

    private static ArrivalCheck check(ResultSet rs) throws SQLException {
        return new ArrivalCheck(
                Found.valueOf(rs.getString("roots")),
                Found.valueOf(rs.getString("graft")),
                Found.valueOf(rs.getString("wax")),
                Found.valueOf(rs.getString("mould")),
                Found.valueOf(rs.getString("dryness")),
                Found.valueOf(rs.getString("label")));
    }

    /** Beds and stores in use, by name. */
    public List<StoreView> stores() {
        return jdbc.sql("""
                        select s.*, coalesce(c.standing, 0) as standing, w.last_watered
                          from store s
                          left join (select h.store_id, sum(b.count)::int as standing
                                       from lot_balance b
                                       join hold h on h.vineyard_id = b.vineyard_id and h.id = b.hold_id
                                      where b.account = 'HOLD' and b.count > 0 group by h.store_id) c on c.store_id = s.id
                          left join (select store_id, max(on_day) as last_watered from watering
                                      where withdrawn_at is null group by store_id) w on w.store_id = s.id
                         where s.withdrawn_at is null
                         order by lower(s.name)
                        """)
                .query((rs, n) -> new StoreView(
                        rs.getObject("id", UUID.class),
                        new NewStore(
                                rs.getString("name"),
                                StoreKind.valueOf(rs.getString("kind")),
                                rs.getObject("capacity", Integer.class),
                                number(rs, "set_temperature_c"),
                                rs.getString("soil"),
                                rs.getString("where_it_is"),
                                number(rs, "east_m"),
                                number(rs, "north_m"),
                                rs.getObject("block_id", UUID.class)),
                        rs.getInt("standing"),
                        rs.getObject("last_watered", LocalDate.class),
                        rs.getInt("version")))
                .list();
    }

    /** One store in use. */
    public StoreView store(UUID id) {
        return stores().stream().filter(s -> s.id().equals(id)).findFirst().orElseThrow(() -> new NotFound("store"));
    }

    private static @Nullable Double number(ResultSet rs, String column) throws SQLException {
        double value = rs.getDouble(column);
        return rs.wasNull() ? null : value;
    }

    /** The last waterings of a store, newest first. */
    public List<WateringView> waterings(UUID storeId) {
        return jdbc.sql("""
                        select id, on_day, mm, by_account, withdrawn_at is not null as withdrawn from watering
                         where store_id = :store order by on_day desc, id desc limit 60
                        """)
                .param("store", storeId)
                .query((rs, n) -> new WateringView(
                        rs.getObject("id", UUID.class),
                        rs.getObject("on_day", LocalDate.class),
                        rs.getBigDecimal("mm"),
                        rs.getObject("by_account", UUID.class),
                        rs.getBoolean("withdrawn")))
                .list();
    }

    /** Papers and origin of a lot. */
    public PapersView papers(UUID lotId) {
        Optional<PapersView> found = jdbc.sql("""
                        select l.*, n.name as supplier, n.registration_no, d.id as delivery, d.delivery_note_no, d.invoice_no,
                               dl.roots, dl.graft, dl.wax, dl.mould, dl.dryness, dl.label, dl.rejected, dl.reject_reason,
                               dl.bundles * dl.bundle_size + dl.loose as counted, p.code as parent,
                               array(select o.code from lot o where o.vineyard_id = l.vineyard_id
                                        and o.delivery_line_id = l.delivery_line_id and o.id <> l.id
                                      order by o.series_year, o.series_no) as siblings
                          from lot l
                          join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
                          join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
                          join supplier n on n.vineyard_id = d.vineyard_id and n.id = d.supplier_id
                          left join lot p on p.vineyard_id = l.vineyard_id and p.id = l.split_from
                         where l.id = :id
                        """)
                .param("id", lotId)
                .query((rs, n) -> new PapersView(
                        lotId,
                        new Passport(
                                rs.getString("passport_botanical"),
                                rs.getString("passport_registration"),
                                rs.getString("passport_trace"),
                                rs.getString("passport_origin"),
                                rs.getString("passport_extra")),
                        rs.getString("note"),
                        rs.getInt("version"),
                        rs.getString("supplier"),
                        rs.getString("registration_no"),
                        rs.getObject("delivery", UUID.class),
                        rs.getString("delivery_note_no"),
                        rs.getString("invoice_no"),
                        check(rs),
                        rs.getInt("counted"),
                        rs.getInt("rejected"),
                        rs.getString("reject_reason"),
                        rs.getString("parent"),
                        List.of((String[]) rs.getArray("siblings").getArray())))
                .optional();
        return found.orElseThrow(() -> new NotFound("lot"));
    }

    /** All movements of a lot, newest first. */
    public List<Movement> movements(UUID lotId) {
        return ledger.movements(lotId);
    }

    /** How many of a lot stood where at the end of a day. */
    public Map<Account, Integer> balance(UUID lotId, LocalDate endOf) {
        Map<Account, Integer> sums = new java.util.EnumMap<>(Account.class);
        ledger.balance(lotId, endOf).forEach((spot, count) -> sums.merge(spot.account(), count, Integer::sum));
        return sums;
    }

    /** Stocktakes of a lot, newest first. */
    public List<StocktakeView> stocktakes(UUID lotId) {
        return jdbc.sql("""
                        select t.*, s.name from stocktake t
                          left join hold h on h.vineyard_id = t.vineyard_id and h.id = t.hold_id
                          left join store s on s.vineyard_id = h.vineyard_id and s.id = h.store_id
                         where t.lot_id = :lot order by t.on_day desc, t.at desc
                        """)
                .param("lot", lotId)
                .query((rs, n) -> new StocktakeView(
                        rs.getObject("on_day", LocalDate.class),
                        rs.getString("account"),
                        rs.getString("name"),
                        rs.getInt("expected"),
                        rs.getInt("counted"),
                        rs.getString("reason")))
                .list();
    }

    /** How many balances are not the sum of their movements; 0 as long as the books are right. */
    public int ledgerDifferences() {
        return ledger.differences();
    }
}
