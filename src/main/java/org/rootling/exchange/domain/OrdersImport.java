package org.rootling.exchange.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.rootling.nursery.Stock;
import org.rootling.platform.Refused;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Orders: lines of one nursery with one order number are one order. */
@Component
@Order(1)
class OrdersImport implements ImportKind {

    private final Stock stock;
    private final Nurseries nurseries;

    OrdersImport(Stock stock, Nurseries nurseries) {
        this.stock = stock;
        this.nurseries = nurseries;
    }

    @Override
    public String name() {
        return "orders";
    }

    @Override
    public List<String> columns() {
        return List.of(
                "nursery",
                "reference",
                "ordered",
                "variety",
                "clone",
                "rootstock",
                "vines",
                "price",
                "currency",
                "week",
                "note");
    }

    @Override
    public List<String> needed() {
        return List.of("nursery", "reference", "ordered", "variety", "rootstock", "vines");
    }

    @Override
    public String together(ImportLine line) {
        return (line.text("nursery", "") + "\n" + line.text("reference", "")).toLowerCase(Locale.ROOT);
    }

    @Override
    public void take(List<ImportLine> lines) {
        ImportLine first = lines.get(0);
        List<Stock.NewOrderLine> ordered = new ArrayList<>();
        for (ImportLine line : lines) {
            ordered.add(new Stock.NewOrderLine(
                    line.needed("variety", 60),
                    line.text("clone"),
                    line.needed("rootstock", 60),
                    line.whole("vines", 1, 1_000_000),
                    line.price("price"),
                    line.day("week")));
        }
        String currency = first.text("currency", "EUR").toUpperCase(Locale.ROOT);
        if (!currency.matches("[A-Z]{3}")) {
            throw new Refused("exchange.import.currency").at("currency");
        }
        stock.order(new Stock.NewOrder(
                nurseries.of(first),
                first.needed("reference", 60),
                first.neededDay("ordered"),
                currency,
                first.text("note"),
                ordered));
    }

    @Override
    public String page() {
        return "/orders";
    }
}
