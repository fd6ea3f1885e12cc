package org.rootling.support;

import java.util.List;
import java.util.UUID;
import java.util.stream.IntStream;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Block B2 with rows of 20 places, and lots, in the current vineyard and transaction. */
@TestComponent
public class SmallField {
    public static final int PLACES = 20;

    /** The block and its rows from row 1 on. */
    public record Made(UUID block, List<UUID> rows) {}

    private final JdbcClient jdbc;
    private final Stock stock;
    private final Vineyards vineyards;

    SmallField(JdbcClient jdbc, Stock stock, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.stock = stock;
        this.vineyards = vineyards;
    }

    /** A block 40 m deep. */
    public Made block(String name, int widthM, int rows) {
        UUID block = Ids.next();
        jdbc.sql("""
                        insert into block (id, code, name, boundary, area_m2, boundary_source, row_spacing_m, vine_spacing_m,
                          headland_m, row_count, place_count)
                        values (:id, 'B2', :name, :boundary, :area, 'TYPED', 2, 1.2, 6, :rows, :places)""")
                .param("id", block)
                .param("name", name)
                .param(
                        "boundary",
                        "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[" + widthM + ",0],[" + widthM
                                + ",40],[0,40],[0,0]]]}")
                .param("area", widthM * 40)
                .param("rows", rows)
                .param("places", rows * PLACES)
                .update();
        return new Made(
                block,
                IntStream.rangeClosed(1, rows)
                        .mapToObj(number -> row(block, number))
                        .toList());
    }

    private UUID row(UUID block, int number) {
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
        return id;
    }

    /** A lot of so many vines that came some days ago. */
    public Lot lot(String variety, int vines, int daysAgo) {
        UUID supplier = stock.addSupplier(new Stock.NewSupplier("Fennimore Vines " + Ids.next(), null, "GB", null, 25));
        return stock.receive(new Stock.NewDelivery(
                        supplier,
                        null,
                        vineyards.today().minusDays(daysAgo),
                        null,
                        null,
                        null,
                        null,
                        List.of(new Stock.NewDeliveryLine(
                                null,
                                variety,
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
