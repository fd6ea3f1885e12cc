package org.rootling.planting;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.support.TestVineyard;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** A small block with rows, and a lot that waits to be planted into it. */
@TestComponent
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
    private static final int PLACES = 20;

    private final JdbcClient jdbc;
    private final Stock stock;
    private final Vineyards vineyards;
    private final TransactionTemplate transaction;

    TestField(JdbcClient jdbc, Stock stock, Vineyards vineyards, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.stock = stock;
        this.vineyards = vineyards;
        this.transaction = transaction;
    }

    public LocalDate today(TestVineyard vineyard) {
        return vineyard.inside(vineyards::today);
    }

    /** Makes the field; the lot came 100 days ago with so many vines. */
    public Field make(TestVineyard vineyard, int vines) {
        return vineyard.inside(() -> transaction.execute(status -> {
            UUID block = Ids.next();
            jdbc.sql("""
                            insert into block (id, code, name, boundary, area_m2, boundary_source, row_spacing_m, vine_spacing_m,
                              headland_m, row_count, place_count)
                            values (:id, 'B2', 'By the lane', '{"type":"Polygon","coordinates":[[[0,0],[40,0],[40,40],[0,40],[0,0]]]}', 1600, 'TYPED', 2, 1.2, 6,
                              :rows, :places)""")
                    .param("id", block)
                    .param("rows", ROWS)
                    .param("places", ROWS * PLACES)
                    .update();
            List<PlantableRow> rows = IntStream.rangeClosed(1, ROWS)
                    .mapToObj(number -> row(block, number))
                    .toList();
            Lot lot = lot(vines);
            return new Field(block, "B2", rows, lot.id(), lot.code());
        }));
    }

    private PlantableRow row(UUID block, int number) {
        UUID id = Ids.next();
        jdbc.sql("insert into vine_row (id, block_id, number, places) values (:id, :block, :number, :places)")
                .param("id", id)
                .param("block", block)
                .param("number", number)
                .param("places", PLACES)
                .update();
        jdbc.sql("""
                        insert into row_stretch (id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y,
                          start_gap_m, end_gap_m, vine_spacing_m)
                        values (:id, :row, 1, 1, :places, :x, 6, :x, 30, 0.6, 0.6, 1.2)""")
                .param("id", Ids.next())
                .param("row", id)
                .param("places", PLACES)
                .param("x", 2.0 * number)
                .update();
        return new PlantableRow(id, number, PLACES);
    }

    /** One more lot of the current vineyard. */
    public Lot lot(int vines) {
        UUID supplier = stock.addSupplier(new Stock.NewSupplier("Fennimore Vines " + Ids.next(), null, "GB", null, 25));
        return stock.receive(new Stock.NewDelivery(
                        supplier,
                        null,
                        vineyards.today().minusDays(100),
                        null,
                        null,
                        null,
                        null,
                        List.of(new Stock.NewDeliveryLine(
                                null,
                                "Pinot noir",
                                null,
                                "SO4",
                                vines / 25,
                                25,
                                vines % 25,
                                null,
                                0,
                                null,
                                Stock.ArrivalCheck.ALL_GOOD,
                                new Stock.Passport("Vitis vinifera", "GB-12345", "FV-77", "GB", null)))))
                .get(0);
    }
}
