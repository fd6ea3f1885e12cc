package org.rootling.planting;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
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
public class TestField {

    /** A row to plant into. */
    public record PlantableRow(UUID id, int number, int places) {}

    /** Block B2, its rows of 20 places, and a lot. */
    public record Field(UUID block, String code, List<PlantableRow> rows, UUID lot, String lotCode) {
        public PlantableRow row(int number) {
            return rows.get(number - 1);
        }
    }

    private static final int ROWS = 4;

    private final SmallField fields;
    private final Vineyards vineyards;
    private final TransactionTemplate transaction;

    TestField(SmallField fields, Vineyards vineyards, TransactionTemplate transaction) {
        this.fields = fields;
        this.vineyards = vineyards;
        this.transaction = transaction;
    }

    public LocalDate today(TestVineyard vineyard) {
        return vineyard.inside(vineyards::today);
    }

    /** Makes the field; the lot came 100 days ago with so many vines. */
    public Field make(TestVineyard vineyard, int vines) {
        return vineyard.inside(() -> transaction.execute(status -> {
            SmallField.Made made = fields.block("By the lane", 40, ROWS);
            List<PlantableRow> rows = IntStream.rangeClosed(1, ROWS)
                    .mapToObj(n -> new PlantableRow(made.rows().get(n - 1), n, SmallField.PLACES))
                    .toList();
            Lot lot = lot(vines);
            return new Field(made.block(), "B2", rows, lot.id(), lot.code());
        }));
    }

    /** One more lot of the current vineyard. */
    public Lot lot(int vines) {
        return fields.lot("Pinot noir", vines, 100);
    }
}
