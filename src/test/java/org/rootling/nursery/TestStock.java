package org.rootling.nursery;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.rootling.nursery.Stock.ArrivalCheck;
import org.rootling.nursery.Stock.NewDelivery;
import org.rootling.nursery.Stock.NewDeliveryLine;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.Stock.NewSupplier;
import org.rootling.nursery.Stock.Passport;

/** Takes stock in for tests. */
public final class TestStock {

    private TestStock() {}

    /** One lot of so many vines of Bacchus on SO4, received on a day. Call inside a vineyard. */
    public static Lot lot(Stock stock, int count, LocalDate received) {
        return lot(stock, "Bacchus", "SO4", count, received);
    }

    /** One lot of a variety. Call inside a vineyard. */
    public static Lot lot(Stock stock, String variety, String rootstock, int count, LocalDate received) {
        UUID nursery = stock.addSupplier(new NewSupplier("Nursery " + UUID.randomUUID(), null, null, null, 25));
        NewDeliveryLine line = new NewDeliveryLine(
                null,
                variety,
                null,
                rootstock,
                count / 25,
                25,
                count % 25,
                null,
                0,
                null,
                ArrivalCheck.ALL_GOOD,
                new Passport("Vitis vinifera", "XX-123", "T-" + count, "XX", null));
        return stock.receive(new NewDelivery(nursery, null, received, null, null, null, null, List.of(line)))
                .get(0);
    }

    /** A store of a kind without limit on its room. Call inside a vineyard. */
    public static UUID store(Stock stock, StoreKind kind) {
        return stock.addStore(new NewStore(kind + " " + UUID.randomUUID(), kind, null, null, null, null, null, null));
    }
}
