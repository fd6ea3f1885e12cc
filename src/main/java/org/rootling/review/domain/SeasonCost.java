package org.rootling.review.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.nursery.VineCosts;
import org.rootling.people.Vineyards;
import org.rootling.review.domain.SeasonBook.Cost;
import org.rootling.trellis.Materials;
import org.rootling.weather.calc.Seasons;
import org.rootling.weather.calc.Span;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * What a planting season cost and was planned to cost: paid hours, vines by the nursery's prices, and what was bought for
 * the trellis. A purchase counts for the first planting season of its block that was not over on that day, and only once.
 * Called inside the transaction of its caller.
 */
@Component
class SeasonCost {

    /**
     * Money spent.
     *
     * @param unpricedVines vines planted of which no price is known
     * @param unpricedPurchases purchases whose price nobody told
     */
    record Spent(List<Cost> costs, int unpricedVines, int unpricedPurchases) {
        Spent {
            costs = List.copyOf(costs);
        }
    }

    private record Planted(UUID lotId, int vines) {}

    private final JdbcClient jdbc;
    private final VineCosts vineCosts;
    private final Materials materials;
    private final Vineyards vineyards;

    SeasonCost(JdbcClient jdbc, VineCosts vineCosts, Materials materials, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.vineCosts = vineCosts;
        this.materials = materials;
        this.vineyards = vineyards;
    }

    /** Money spent up to the end of the season, by currency. */
    Spent spent(int season, Span span) {
        TreeMap<String, Cost> costs = new TreeMap<>();
        jdbc.sql(SeasonBook.ROWS + """
                        select p.currency, sum(l.minutes * p.wage / 60) as money
                          from task_log l join task t on t.id = l.task_id join rows on rows.row_id = t.row_id
                          join work_person p on p.id = rootling_worker(l.person_id, l.by_account)
                         where l.on_day <= :last and l.minutes > 0 and p.wage > 0 and\s""" + SeasonBook.STANDS + """
                         group by p.currency
                        """)
                .params(SeasonBook.params(span))
                .query(row -> {
                    add(costs, Cost.ofLabour(row.getString("currency"), money(row)));
                });
        int unpricedVines = 0;
        List<Planted> planted = planted(span);
        Map<UUID, VineCosts.Price> prices = pricesOf(planted);
        for (Planted of : planted) {
            VineCosts.Price price = prices.get(of.lotId());
            if (price == null) {
                unpricedVines += of.vines();
            } else {
                add(
                        costs,
                        Cost.ofVines(price.currency(), cents(price.paid().multiply(BigDecimal.valueOf(of.vines())))));
            }
        }
        int untold = 0;
        BigDecimal paid = BigDecimal.ZERO;
        for (Materials.Bought bought : boughtFor(season)) {
            paid = paid.add(bought.paid());
            untold += bought.untold();
        }
        if (paid.signum() > 0) {
            add(costs, Cost.ofMaterial(currency(costs), cents(paid)));
        }
        return new Spent(List.copyOf(costs.values()), unpricedVines, untold);
    }

    /**
     * Money planned: all planned hours at the mean wage of those who can be given work, the same vines at the prices of their
     * orders, and the rows' share of what the plans of their blocks need. What is not known is zero.
     */
    List<Cost> planned(Span span, BigDecimal plannedHours) {
        TreeMap<String, Cost> costs = new TreeMap<>();
        if (plannedHours.signum() > 0) {
            List<Cost> wages = jdbc.sql("""
                            select currency, avg(wage) as money from work_person
                             where withdrawn_at is null and wage > 0 group by currency""")
                    .query((row, n) -> Cost.ofLabour(row.getString("currency"), money(row)))
                    .list();
            if (wages.size() == 1) {
                Cost mean = wages.get(0);
                add(costs, Cost.ofLabour(mean.currency(), cents(mean.labour().multiply(plannedHours))));
            }
        }
        List<Planted> planted = planted(span);
        Map<UUID, VineCosts.Price> prices = pricesOf(planted);
        for (Planted of : planted) {
            VineCosts.Price price = prices.get(of.lotId());
            BigDecimal ordered = price == null ? null : price.ordered();
            if (price != null && ordered != null) {
                add(costs, Cost.ofVines(price.currency(), cents(ordered.multiply(BigDecimal.valueOf(of.vines())))));
            }
        }
        BigDecimal material = BigDecimal.ZERO;
        for (Map.Entry<UUID, BigDecimal> block : shares(span).entrySet()) {
            material = material.add(materials
                    .planned(block.getKey())
                    .map(need -> need.cost().multiply(block.getValue()))
                    .orElse(BigDecimal.ZERO));
        }
        if (material.signum() > 0) {
            add(costs, Cost.ofMaterial(currency(costs), cents(material)));
        }
        return List.copyOf(costs.values());
    }

    private static void add(Map<String, Cost> costs, Cost cost) {
        costs.merge(cost.currency(), cost, Cost::plus);
    }

    /** What the prices of materials are in: as named there, else the one currency of all else, else unnamed. */
    private String currency(SortedMap<String, Cost> others) {
        return materials.currency().orElseGet(() -> others.size() == 1 ? others.firstKey() : "");
    }

    private Map<UUID, VineCosts.Price> pricesOf(List<Planted> planted) {
        return vineCosts.pricesOf(planted.stream().map(Planted::lotId).toList());
    }

    private List<Planted> planted(Span span) {
        return jdbc.sql(SeasonBook.ROWS + """
                        select p.lot_id, sum(p.vines) as vines from planting p join rows on rows.row_id = p.row_id
                         where p.undone_on is null and p.planted_on <= :last group by p.lot_id
                        """)
                .params(SeasonBook.params(span))
                .query((row, n) -> new Planted(row.getObject("lot_id", UUID.class), row.getInt("vines")))
                .list();
    }

    private List<Materials.Bought> boughtFor(int season) {
        List<Materials.Bought> all = materials.bought();
        if (all.isEmpty()) {
            return all;
        }
        boolean south = vineyards.current().southern();
        Map<UUID, SortedSet<Integer>> ofBlock = new HashMap<>();
        SortedSet<Integer> any = new TreeSet<>();
        jdbc.sql("""
                        select distinct r.block_id, min(p.planted_on) as first_on
                          from planting p join vine_row r on r.vineyard_id = p.vineyard_id and r.id = p.row_id
                         where p.undone_on is null group by p.row_id, r.block_id
                        """).query(row -> {
            int first = Seasons.of(row.getObject("first_on", LocalDate.class), south);
            ofBlock.computeIfAbsent(row.getObject("block_id", UUID.class), k -> new TreeSet<>())
                    .add(first);
            any.add(first);
        });
        List<Materials.Bought> here = new ArrayList<>();
        for (Materials.Bought bought : all) {
            UUID block = bought.blockId();
            SortedSet<Integer> seasons = block == null ? any : ofBlock.getOrDefault(block, new TreeSet<>());
            SortedSet<Integer> still = seasons.tailSet(Seasons.of(bought.on(), south));
            if (!still.isEmpty() && still.first() == season) {
                here.add(bought);
            }
        }
        return here;
    }

    /** How much of each block's places lies in the rows of the season, 0 to 1. */
    private Map<UUID, BigDecimal> shares(Span span) {
        Map<UUID, BigDecimal> shares = new HashMap<>();
        jdbc.sql(SeasonBook.ROWS + """
                        select b.id, sum(r.places)::numeric / b.place_count as share
                          from rows join vine_row r on r.id = rows.row_id join block b on b.id = r.block_id
                         where b.place_count > 0 group by b.id, b.place_count
                        """).params(SeasonBook.params(span)).query(row -> {
            shares.put(
                    row.getObject("id", UUID.class), row.getBigDecimal("share").min(BigDecimal.ONE));
        });
        return shares;
    }

    private static BigDecimal money(ResultSet row) throws SQLException {
        return cents(row.getBigDecimal("money"));
    }

    private static BigDecimal cents(BigDecimal amount) {
        return amount.setScale(2, RoundingMode.HALF_UP);
    }
}
