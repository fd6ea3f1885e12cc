package org.rootling.review;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.nursery.TestStock;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.Sighting;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.TestVineyard;
import org.rootling.training.domain.Shoots;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** Blocks, lots and planted rows to review. */
@TestComponent
public class ReviewField {

    private final JdbcClient jdbc;
    private final Stock stock;
    private final Vines vines;
    private final Shoots shoots;
    private final Vineyards vineyards;
    private final TransactionTemplate transaction;

    ReviewField(
            JdbcClient jdbc,
            Stock stock,
            Vines vines,
            Shoots shoots,
            Vineyards vineyards,
            TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.stock = stock;
        this.vines = vines;
        this.shoots = shoots;
        this.vineyards = vineyards;
        this.transaction = transaction;
    }

    public LocalDate today(TestVineyard vineyard) {
        return vineyard.inside(vineyards::today);
    }

    /** A block of parallel rows 2 m apart, vines 1.2 m apart, at 50.8 N 0.1 E; returns the rows' ids. */
    public List<UUID> block(TestVineyard vineyard, String code, int rows, int places) {
        return vineyard.inside(() -> transaction.execute(status -> {
            double width = 2.0 * rows + 4;
            double length = places * 1.2 + 12;
            UUID block = Ids.next();
            jdbc.sql("""
                            insert into block (id, code, name, boundary, area_m2, boundary_source, origin_latitude,
                              origin_longitude, row_spacing_m, vine_spacing_m, headland_m, row_count, place_count)
                            values (:id, :code, 'By the lane', :boundary, :area, 'TYPED', 50.8, 0.1, 2, 1.2, 6, :rows, :places)""")
                    .param("id", block)
                    .param("code", code)
                    .param(
                            "boundary",
                            "{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[%s,0],[%s,%s],[0,%s],[0,0]]]}"
                                    .formatted(width, width, length, length))
                    .param("area", width * length)
                    .param("rows", rows)
                    .param("places", rows * places)
                    .update();
            jdbc.sql("""
                            insert into vine_row (id, block_id, number, places)
                            select gen_random_uuid(), :block, n, :places from generate_series(1, :rows) n""")
                    .param("block", block)
                    .param("rows", rows)
                    .param("places", places)
                    .update();
            jdbc.sql("""
                            insert into row_stretch (id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y,
                              start_gap_m, end_gap_m, vine_spacing_m)
                            select gen_random_uuid(), r.id, 1, 1, r.places, 2 * r.number, 6, 2 * r.number, 6 + r.places * 1.2,
                              0.6, 0.6, 1.2 from vine_row r where r.block_id = :block""").param("block", block).update();
            return jdbc.sql("select id from vine_row where block_id = :block order by number")
                    .param("block", block)
                    .query(UUID.class)
                    .list();
        }));
    }

    /** A lot that came 100 days ago. */
    public Lot lot(TestVineyard vineyard, String variety, String rootstock, int count) {
        return vineyard.inside(() -> TestStock.lot(
                stock, variety, rootstock, count, vineyards.today().minusDays(100)));
    }

    /** Plants a whole row from a lot, 60 days ago. */
    public void plant(TestVineyard vineyard, UUID row, int places, Lot lot, Role by) {
        vineyard.run(() -> transaction.executeWithoutResult(status -> vines.plant(new NewPlanting(
                Ids.next(),
                row,
                IntStream.rangeClosed(1, places).boxed().collect(Collectors.toCollection(TreeSet::new)),
                lot.id(),
                vineyards.today().minusDays(60),
                vineyard.account(by)))));
    }

    /** Walks a row 20 days ago: the places named are lost, weak as named, all others grow. */
    public void walk(TestVineyard vineyard, UUID row, int places, List<Integer> dead, List<Integer> missing) {
        TreeSet<Integer> growing =
                IntStream.rangeClosed(1, places).boxed().collect(Collectors.toCollection(TreeSet::new));
        growing.removeAll(dead);
        growing.removeAll(missing);
        List<Sighting> seen = new ArrayList<>();
        add(seen, VineState.GROWING, growing);
        add(seen, VineState.DEAD, new TreeSet<>(dead));
        add(seen, VineState.MISSING, new TreeSet<>(missing));
        vineyard.run(() -> transaction.executeWithoutResult(status ->
                vines.walk(row, seen, vineyards.today().minusDays(20), null, vineyard.account(Role.LEAD), null)));
    }

    private static void add(List<Sighting> seen, VineState state, TreeSet<Integer> places) {
        if (!places.isEmpty()) {
            seen.add(new Sighting(state, places));
        }
    }

    /** Block B1 of 6 rows of 20: rows 1 to 3 of a lot that takes, rows 4 to 6 of one that does not. */
    public Planted planted(TestVineyard vineyard) {
        List<UUID> rows = block(vineyard, "B1", 6, 20);
        Lot good = lot(vineyard, "Bacchus", "SO4", 75);
        Lot bad = lot(vineyard, "Pinot noir", "3309 C", 75);
        for (int i = 0; i < 6; i++) {
            plant(vineyard, rows.get(i), 20, i < 3 ? good : bad, i % 2 == 0 ? Role.HELPER : Role.LEAD);
        }
        walk(vineyard, rows.get(0), 20, List.of(), List.of());
        walk(vineyard, rows.get(1), 20, List.of(7), List.of());
        walk(vineyard, rows.get(3), 20, List.of(5, 6, 7, 8, 9), List.of(20));
        walk(vineyard, rows.get(4), 20, List.of(5, 6, 7, 8), List.of());
        return new Planted(rows, good, bad);
    }

    /** Measures rows 1 and 2 of {@link #planted} 20 and 6 days ago, or as early as this year allows; row 2 stays behind. */
    public void measured(TestVineyard vineyard, Planted planted) {
        LocalDate today = today(vineyard);
        LocalDate newYear = today.withDayOfYear(1);
        for (int row = 0; row < 2; row++) {
            for (int look = 0; look < 2; look++) {
                Map<Integer, Shoots.Seen> seen = new TreeMap<>();
                for (int place = 1; place <= 20; place++) {
                    if (row == 0 || place != 7) {
                        int cm = (row == 0 ? 14 + 26 * look : 8 + 9 * look) + place * 7 % 11;
                        seen.put(place, new Shoots.Seen(1 + place % 4, cm, place % 3 == 0));
                    }
                }
                LocalDate day = today.minusDays(look == 0 ? 20 : 6);
                LocalDate on = day.isBefore(newYear) ? newYear : day;
                UUID where = planted.rows().get(row);
                vineyard.run(() -> transaction.executeWithoutResult(
                        s -> shoots.record(where, seen, on, vineyard.account(Role.HELPER))));
            }
        }
    }

    /** What {@link #planted} made: seen are rows 1, 2, 4 and 5; lost 1 of the good lot, 10 of the bad. */
    public record Planted(List<UUID> rows, Lot good, Lot bad) {
        public Planted {
            rows = List.copyOf(rows);
        }
    }
}
