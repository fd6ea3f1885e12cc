package org.rootling.trellis.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.rootling.trellis.Materials;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.OrderLine;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.TakeOff;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The cost of materials from the purchases and from the plans. */
@Component
@Transactional(readOnly = true)
class MaterialCosts implements Materials {

    private final JdbcClient jdbc;
    private final TrellisPlans plans;
    private final OrderBook orders;

    MaterialCosts(JdbcClient jdbc, TrellisPlans plans, OrderBook orders) {
        this.jdbc = jdbc;
        this.plans = plans;
        this.orders = orders;
    }

    @Override
    public List<Bought> bought() {
        return jdbc.sql("""
                        select block_id, bought_on, coalesce(sum(paid), 0) as paid,
                               count(*) filter (where paid is null) as untold
                          from trellis_purchase where withdrawn_at is null
                         group by block_id, bought_on order by bought_on, block_id""")
                .query((row, n) -> new Bought(
                        row.getObject("block_id", UUID.class),
                        row.getObject("bought_on", LocalDate.class),
                        row.getBigDecimal("paid"),
                        row.getInt("untold")))
                .list();
    }

    @Override
    public Optional<Planned> planned(UUID blockId) {
        Optional<TrellisPlan> plan = plans.ofBlock(blockId);
        List<RowLine> rows = plan.isEmpty() ? List.of() : plans.lines(blockId);
        if (plan.isEmpty() || rows.isEmpty()) {
            return Optional.empty();
        }
        Map<String, OrderLine.Terms> terms = orders.terms();
        BigDecimal cost = BigDecimal.ZERO;
        int unpriced = 0;
        for (Item item : new TakeOff().add(plan.get().spec(), rows).items()) {
            BigDecimal price = OrderLine.of(
                            item, terms.getOrDefault(item.key(), OrderLine.Terms.usual(item)), BigDecimal.ZERO)
                    .cost();
            if (price == null) {
                unpriced++;
            } else {
                cost = cost.add(price);
            }
        }
        return Optional.of(new Planned(cost, unpriced));
    }

    @Override
    public Optional<String> currency() {
        return jdbc.sql("select currency from trellis_sheet order by kept_at desc, id desc limit 1")
                .query((row, n) -> Optional.ofNullable(row.getString("currency")))
                .optional()
                .flatMap(kept -> kept);
    }
}
