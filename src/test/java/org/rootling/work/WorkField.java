package org.rootling.work;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.rootling.nursery.Lot;
import org.rootling.people.Vineyards;
import org.rootling.support.SmallField;
import org.rootling.support.TestVineyard;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.context.annotation.Import;
import org.springframework.transaction.support.TransactionTemplate;

/** A small block with rows, and a lot that waits to be planted into it. */
@TestComponent
@Import(SmallField.class)
public class WorkField {
    /** Block B2, its rows of 20 places from row 1 on, and a lot. */
    public record Field(UUID block, List<UUID> rows, UUID lot, String lotCode) {
        public UUID row(int number) {
            return rows.get(number - 1);
        }
    }

    public static final int PLACES = SmallField.PLACES;

    private final SmallField fields;
    private final Vineyards vineyards;
    private final TransactionTemplate transaction;

    WorkField(SmallField fields, Vineyards vineyards, TransactionTemplate transaction) {
        this.fields = fields;
        this.vineyards = vineyards;
        this.transaction = transaction;
    }

    public LocalDate today(TestVineyard vineyard) {
        return vineyard.inside(vineyards::today);
    }

    public Field make(TestVineyard vineyard, int rows, int vines) {
        return vineyard.inside(() -> transaction.execute(status -> {
            SmallField.Made made = fields.block("Lower terrace", 90, rows);
            Lot lot = fields.lot("Bacchus", vines, 30);
            return new Field(made.block(), made.rows(), lot.id(), lot.code());
        }));
    }
}
