package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.rootling.nursery.VineCosts;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Prices of lots by their delivery lines and orders. */
@Component
@Transactional(readOnly = true)
class LotPrices implements VineCosts {

    /** So that many vines times the price of one is the sum again. */
    private static final int DECIMALS = 6;

    private final JdbcClient jdbc;

    LotPrices(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<UUID, Price> pricesOf(Collection<UUID> lotIds) {
        Map<UUID, Price> prices = new HashMap<>();
        if (lotIds.isEmpty()) {
            return prices;
        }
        jdbc.sql("""
                        select l.id, coalesce(d.currency, o.currency, 'EUR') as currency,
                               coalesce(dl.price_each, ol.price_each) as price,
                               case when o.currency = coalesce(d.currency, o.currency) then ol.price_each end as ordered,
                               coalesce(dl.billed, dl.bundles * dl.bundle_size + dl.loose) as charged,
                               coalesce(dl.credited, 0) as credited,
                               dl.bundles * dl.bundle_size + dl.loose - dl.rejected as good
                          from lot l
                          join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
                          join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
                          left join order_line ol on ol.vineyard_id = dl.vineyard_id and ol.id = dl.order_line_id
                          left join nursery_order o on o.vineyard_id = ol.vineyard_id and o.id = ol.order_id
                         where l.id in (:lots) and coalesce(dl.price_each, ol.price_each) is not null
                           and dl.bundles * dl.bundle_size + dl.loose > dl.rejected
                        """).param("lots", lotIds).query(row -> {
            BigDecimal paid = row.getBigDecimal("price")
                    .multiply(row.getBigDecimal("charged"))
                    .subtract(row.getBigDecimal("credited"))
                    .divide(row.getBigDecimal("good"), DECIMALS, RoundingMode.HALF_UP);
            prices.put(
                    row.getObject("id", UUID.class),
                    new Price(row.getString("currency"), paid, row.getBigDecimal("ordered")));
        });
        return prices;
    }
}
