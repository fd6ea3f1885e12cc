package org.rootling.trellis.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.NotFound;
import org.rootling.trellis.TrellisDesk;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.OrderLine;
import org.rootling.trellis.calc.StartingPlans;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Makes plans and orders through the same services as the pages do. */
@Component
@Transactional
class TrellisDeskService implements TrellisDesk {
    private final TrellisPlans plans;
    private final OrderBook book;
    private final Readings readings;

    TrellisDeskService(TrellisPlans plans, OrderBook book, Readings readings) {
        this.plans = plans;
        this.book = book;
        this.readings = readings;
    }

    @Override
    public void plan(UUID blockId, Canopy canopy) {
        plans.start(blockId, StartingPlans.valueOf(canopy.name()));
    }

    @Override
    public List<Need> needs(Collection<String> blockCodes) {
        return book.sheet(blockCodes, null, null).lines().stream()
                .map(l -> l.order().item())
                .map(i -> new Need(i.key(), i.kind().name(), BigDecimal.valueOf(i.quantity())))
                .toList();
    }

    @Override
    public void sell(String key, BigDecimal packSize, BigDecimal packPrice, BigDecimal sparePercent) {
        book.sell(item(key), new OrderLine.Terms(packSize, packPrice, sparePercent));
    }

    @Override
    public void buy(String key, String blockCode, BigDecimal quantity, LocalDate on, @Nullable BigDecimal paid) {
        book.buy(item(key), blockCode, quantity, on, paid, null);
    }

    @Override
    public void keep(Collection<String> blockCodes, BigDecimal delivery, String currency) {
        book.keep(blockCodes, delivery, currency);
    }

    @Override
    public void measure(UUID rowId, int wire, LocalDate on, double tensionN, double temperatureC, LocalDate due) {
        readings.recordGauge(rowId, wire, on, tensionN, temperatureC, due);
    }

    private static Item item(String key) {
        return Item.ofKey(key).orElseThrow(() -> new NotFound("item"));
    }
}
