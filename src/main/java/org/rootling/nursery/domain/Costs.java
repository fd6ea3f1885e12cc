package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.PlantedOf;
import org.rootling.nursery.calc.LotCost;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** From the price on the invoice to the cost of a living vine. What was split off a lot counts with the line it came on. */
@Component
@Transactional(readOnly = true)
public class Costs {

    /**
     * What one delivery line cost.
     *
     * @param lotCode the lot it became
     * @param cost null where no price is known
     */
    public record Line(
            UUID deliveryLineId,
            String lotCode,
            String currency,
            @Nullable LotCost cost) {}

    private record Kept(
            UUID id,
            String code,
            String currency,
            @Nullable BigDecimal price,
            int charged,
            BigDecimal credited,
            int good,
            int waiting,
            List<UUID> lots) {}

    private final ObjectProvider<PlantedOf> planted;
    private final JdbcClient jdbc;

    Costs(ObjectProvider<PlantedOf> planted, JdbcClient jdbc) {
        this.planted = planted;
        this.jdbc = jdbc;
    }

    /** The lines of a delivery. */
    public List<Line> ofDelivery(UUID deliveryId) {
        return lines("dl.delivery_id = :id", deliveryId);
    }

    /** All that came on an order. */
    public List<Line> ofOrder(UUID orderId) {
        return lines("ol.order_id = :id", orderId);
    }

    /** The line that a lot, or the lot it was split off, came on. */
    public Optional<Line> ofLot(UUID lotId) {
        return lines("dl.id = (select delivery_line_id from lot where id = :id)", lotId).stream()
                .findFirst();
    }

    /** All priced lines together, by currency. */
    public static Map<String, LotCost> sums(List<Line> lines) {
        Map<String, LotCost> sums = new java.util.TreeMap<>();
        for (Line line : lines) {
            LotCost cost = line.cost();
            if (cost != null) {
                sums.merge(line.currency(), cost, LotCost::plus);
            }
        }
        return sums;
    }

    private List<Line> lines(String where, UUID id) {
        List<Kept> kept = jdbc.sql("""
                        select dl.id, coalesce(d.currency, o.currency, 'EUR') as currency,
                               coalesce(dl.price_each, ol.price_each) as price,
                               coalesce(dl.billed, dl.bundles * dl.bundle_size + dl.loose) as charged,
                               coalesce(dl.credited, 0) as credited,
                               dl.bundles * dl.bundle_size + dl.loose - dl.rejected as good,
                               w.waiting, w.lots, w.code
                          from delivery_line dl
                          join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
                          left join order_line ol on ol.vineyard_id = dl.vineyard_id and ol.id = dl.order_line_id
                          left join nursery_order o on o.vineyard_id = ol.vineyard_id and o.id = ol.order_id
                          cross join lateral (
                            select array_agg(distinct l.id) as lots, min(l.code) filter (where l.split_from is null) as code,
                                   coalesce(sum(b.count), 0)::int as waiting
                              from lot l
                              left join lot_balance b on b.vineyard_id = l.vineyard_id and b.lot_id = l.id
                                   and b.account in ('UNPLACED', 'HOLD', 'LIFTED')
                             where l.vineyard_id = dl.vineyard_id and l.delivery_line_id = dl.id) w
                         where\s""" + where + " order by d.received_on, dl.delivery_id, dl.line_no")
                .param("id", id)
                .query(Costs::kept)
                .list();
        Set<UUID> lots = new HashSet<>();
        kept.forEach(k -> lots.addAll(k.lots()));
        Map<UUID, Integer> living = new HashMap<>();
        planted.stream().forEach(p -> p.livingOf(lots).forEach((lot, n) -> living.merge(lot, n, Integer::sum)));
        List<Line> lines = new ArrayList<>();
        for (Kept k : kept) {
            int alive = k.waiting()
                    + k.lots().stream().mapToInt(l -> living.getOrDefault(l, 0)).sum();
            BigDecimal price = k.price();
            LotCost cost = price == null ? null : LotCost.of(price, k.charged(), k.credited(), k.good(), alive);
            lines.add(new Line(k.id(), k.code(), k.currency(), cost));
        }
        return lines;
    }

    private static Kept kept(ResultSet rs, int n) throws SQLException {
        return new Kept(
                rs.getObject("id", UUID.class),
                rs.getString("code"),
                rs.getString("currency"),
                rs.getBigDecimal("price"),
                rs.getInt("charged"),
                rs.getBigDecimal("credited"),
                rs.getInt("good"),
                rs.getInt("waiting"),
                List.of((UUID[]) rs.getArray("lots").getArray()));
    }
}
