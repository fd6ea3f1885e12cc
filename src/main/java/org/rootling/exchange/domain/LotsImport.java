package org.rootling.exchange.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.rootling.nursery.Stock;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Lots that have come: lines of one nursery, day and delivery note are one delivery, each line a lot. */
@Component
@Order(2)
class LotsImport implements ImportKind {

    private static final Stock.ArrivalCheck NOT_LOOKED = new Stock.ArrivalCheck(
            Stock.Found.NOT_LOOKED,
            Stock.Found.NOT_LOOKED,
            Stock.Found.NOT_LOOKED,
            Stock.Found.NOT_LOOKED,
            Stock.Found.NOT_LOOKED,
            Stock.Found.NOT_LOOKED);

    private final Stock stock;
    private final Nurseries nurseries;

    LotsImport(Stock stock, Nurseries nurseries) {
        this.stock = stock;
        this.nurseries = nurseries;
    }

    @Override
    public String name() {
        return "lots";
    }

    @Override
    public List<String> columns() {
        return List.of(
                "nursery",
                "received",
                "delivery-note",
                "variety",
                "clone",
                "rootstock",
                "vines",
                "bundle",
                "botanical",
                "registration",
                "trace",
                "origin");
    }

    @Override
    public List<String> needed() {
        return List.of("nursery", "received", "variety", "rootstock", "vines");
    }

    @Override
    public String together(ImportLine line) {
        return (line.text("nursery", "") + "\n" + line.text("received", "") + "\n" + line.text("delivery-note", ""))
                .toLowerCase(Locale.ROOT);
    }

    @Override
    public void take(List<ImportLine> lines) {
        ImportLine first = lines.get(0);
        List<Stock.NewDeliveryLine> came = new ArrayList<>();
        for (ImportLine line : lines) {
            int vines = line.whole("vines", 1, 1_000_000);
            int bundle = line.whole("bundle", 1, 1_000, 25);
            came.add(new Stock.NewDeliveryLine(
                    null,
                    line.needed("variety", 60),
                    line.text("clone"),
                    line.needed("rootstock", 60),
                    vines / bundle,
                    bundle,
                    vines % bundle,
                    null,
                    0,
                    null,
                    NOT_LOOKED,
                    new Stock.Passport(
                            line.text("botanical"),
                            line.text("registration"),
                            line.text("trace"),
                            line.text("origin"),
                            null)));
        }
        stock.receive(new Stock.NewDelivery(
                nurseries.of(first),
                null,
                first.neededDay("received"),
                null,
                first.text("delivery-note"),
                null,
                null,
                came));
    }

    @Override
    public String page() {
        return "/lots";
    }
}
