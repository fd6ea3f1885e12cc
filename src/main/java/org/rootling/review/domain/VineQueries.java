package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.planting.PlaceSets;
import org.rootling.planting.VineState;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Which vines a number is made of, and what stands where in one block. */
@Component
@Transactional(readOnly = true)
public class VineQueries {

    /**
     * What is wanted of the present vines; null is anything.
     *
     * @param state only vines in this state
     */
    public record Wanted(
            @Nullable UUID blockId,
            @Nullable UUID lotId,
            @Nullable String variety,
            @Nullable String rootstock,
            @Nullable VineState state) {}

    /** A present vine with the names of its block and lot. */
    public record Standing(
            UUID id,
            String block,
            UUID rowId,
            int row,
            int place,
            String lot,
            String variety,
            String rootstock,
            LocalDate plantedOn,
            VineState state,
            LocalDate seenOn) {}

    /** What stands in a place of a block. */
    public record InPlace(UUID rowId, int place, VineState state) {}

    /** Some neighbouring rows of a block together. */
    public record Band(int firstRow, int lastRow, int places, Map<VineState, Integer> counts) {
        public int present() {
            return counts.values().stream().mapToInt(Integer::intValue).sum();
        }
    }

    /** Places of one row whose vine of one kind is dead or missing. */
    public record Gaps(
            String block,
            UUID rowId,
            int row,
            String lot,
            String variety,
            String rootstock,
            String places,
            int vines) {}

    /** A block to choose. */
    public record BlockName(UUID id, String code, String name) {}

    private final JdbcClient jdbc;

    VineQueries(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** The blocks by code, without their outlines. */
    public List<BlockName> blocks() {
        return jdbc.sql("select id, code, name from block where withdrawn_at is null order by code")
                .query((row, n) ->
                        new BlockName(row.getObject("id", UUID.class), row.getString("code"), row.getString("name")))
                .list();
    }

    /**
     * Present vines in the order of blocks, rows and places, or from the last one back; one more than {@code most} tells
     * that there are more.
     */
    public List<Standing> standing(Wanted wanted, boolean back, int offset, int most) {
        StringBuilder sql = new StringBuilder("""
                select v.id, b.code as block, v.row_id, r.number as row_number, v.place, l.code as lot, l.variety,
                       l.rootstock, v.planted_on, v.state, v.state_on
                  from vine v
                  join block b on b.vineyard_id = v.vineyard_id and b.id = v.block_id
                  join vine_row r on r.vineyard_id = v.vineyard_id and r.id = v.row_id
                  join lot l on l.vineyard_id = v.vineyard_id and l.id = v.lot_id
                 where v.ended_on is null
                """);
        Map<String, Object> values = new HashMap<>();
        where(sql, values, " and v.block_id = :block", "block", wanted.blockId());
        where(sql, values, " and v.lot_id = :lot", "lot", wanted.lotId());
        where(sql, values, " and l.variety = :variety", "variety", wanted.variety());
        where(sql, values, " and l.rootstock = :rootstock", "rootstock", wanted.rootstock());
        VineState state = wanted.state();
        if (state != null) {
            // As text in the statement, so that the partial index on the ailing can be used; it is a name of ours.
            sql.append(" and v.state = '").append(state.name()).append('\'');
        }
        sql.append(
                back
                        ? " order by b.code desc, r.number desc, v.place desc offset :offset limit :most"
                        : " order by b.code, r.number, v.place offset :offset limit :most");
        values.put("offset", offset);
        values.put("most", most + 1);
        return jdbc.sql(sql.toString())
                .params(values)
                .query((row, n) -> new Standing(
                        row.getObject("id", UUID.class),
                        row.getString("block"),
                        row.getObject("row_id", UUID.class),
                        row.getInt("row_number"),
                        row.getInt("place"),
                        row.getString("lot"),
                        row.getString("variety"),
                        row.getString("rootstock"),
                        row.getObject("planted_on", LocalDate.class),
                        VineState.valueOf(row.getString("state")),
                        row.getObject("state_on", LocalDate.class)))
                .list();
    }

    private static void where(
            StringBuilder sql, Map<String, Object> values, String clause, String name, @Nullable Object value) {
        if (value != null) {
            sql.append(clause);
            values.put(name, value);
        }
    }

    /** Every present vine of a block; only for blocks small enough to be drawn vine by vine. */
    public List<InPlace> inBlock(UUID blockId) {
        // Row by row: else all vines there are would be gone through where they seem few enough.
        List<InPlace> standing = new ArrayList<>();
        jdbc.sql("""
                        select r.id as row_id, v.state, v.places
                          from vine_row r
                         cross join lateral (select state, array_agg(place) as places from vine
                                              where row_id = r.id and ended_on is null group by state) v
                         where r.block_id = :block
                        """).param("block", blockId).query(row -> {
            UUID rowId = row.getObject("row_id", UUID.class);
            VineState state = VineState.valueOf(row.getString("state"));
            for (Integer place : (Integer[]) row.getArray("places").getArray()) {
                standing.add(new InPlace(rowId, place, state));
            }
        });
        return standing;
    }

    /** The rows of a block in at most {@code most} bands of neighbouring rows, from the kept tallies. */
    public List<Band> bands(UUID blockId, int rows, int most) {
        int width = Math.max(1, (rows + most - 1) / most);
        return jdbc.sql("""
                        select min(r.number) as first_row, max(r.number) as last_row, sum(r.places) as places,
                               coalesce(sum(t.planted), 0) as planted, coalesce(sum(t.growing), 0) as growing,
                               coalesce(sum(t.weak), 0) as weak, coalesce(sum(t.not_moving), 0) as not_moving,
                               coalesce(sum(t.dead), 0) as dead, coalesce(sum(t.missing), 0) as missing
                          from vine_row r
                          left join (select row_id, sum(planted) as planted, sum(growing) as growing,
                                            sum(weak) as weak, sum(not_moving) as not_moving, sum(dead) as dead,
                                            sum(missing) as missing
                                       from vine_row_tally where block_id = :block group by row_id) t
                            on t.row_id = r.id
                         where r.block_id = :block and r.withdrawn_at is null
                         group by (r.number - 1) / :width
                         order by 1
                        """)
                .param("block", blockId)
                .param("width", width)
                .query((row, n) -> new Band(
                        row.getInt("first_row"),
                        row.getInt("last_row"),
                        row.getInt("places"),
                        Map.of(
                                VineState.PLANTED, row.getInt("planted"),
                                VineState.GROWING, row.getInt("growing"),
                                VineState.WEAK, row.getInt("weak"),
                                VineState.NOT_MOVING, row.getInt("not_moving"),
                                VineState.DEAD, row.getInt("dead"),
                                VineState.MISSING, row.getInt("missing"))))
                .list();
    }

    /** Where something was planted in a block, by row: from the plantings, not from the vines. */
    Map<UUID, SortedSet<Integer>> plantedPlaces(UUID blockId) {
        Map<UUID, SortedSet<Integer>> places = new HashMap<>();
        jdbc.sql("""
                        select p.row_id, range_agg(p.places)::text as places
                          from planting p
                          join vine_row r on r.vineyard_id = p.vineyard_id and r.id = p.row_id
                         where r.block_id = :block and p.undone_on is null
                         group by p.row_id
                        """).param("block", blockId).query(row -> {
            places.put(row.getObject("row_id", UUID.class), PlaceSets.fromMultirange(row.getString("places")));
        });
        return places;
    }

    /** Where dead or missing vines stand in a block, by row. */
    Map<UUID, List<Integer>> lostPlaces(UUID blockId) {
        Map<UUID, List<Integer>> places = new HashMap<>();
        jdbc.sql("""
                        select row_id, place from vine
                         where block_id = :block and ended_on is null and state in ('DEAD', 'MISSING')
                        """).param("block", blockId).query(row -> {
            places.computeIfAbsent(row.getObject("row_id", UUID.class), r -> new ArrayList<>())
                    .add(row.getInt("place"));
        });
        return places;
    }

    /** Dead and missing vines by row and lot, in walking order; one more than {@code most} tells that there are more. */
    public List<Gaps> gaps(@Nullable UUID blockId, int offset, int most) {
        // The kept tallies say which rows have gaps, block after block until the page is full; only the vines of the
        // lines
        // shown are read.
        return jdbc.sql("""
                        with lines as (
                          select b.code as block, x.*
                            from (select vineyard_id, id, code from block
                                   where withdrawn_at is null
                                     and (cast(:block as uuid) is null or id = cast(:block as uuid))
                                   order by code) b
                           cross join lateral (
                             select t.vineyard_id, t.block_id, t.row_id, t.lot_id, r.number as row_number, l.code as lot,
                                    l.variety, l.rootstock, t.dead + t.missing as vines
                               from vine_row_tally t
                               join vine_row r on r.vineyard_id = t.vineyard_id and r.id = t.row_id
                               join lot l on l.vineyard_id = t.vineyard_id and l.id = t.lot_id
                              where t.vineyard_id = b.vineyard_id and t.block_id = b.id and t.dead + t.missing > 0
                              order by r.number, l.code
                              limit cast(:offset as int) + cast(:most as int)) x
                           order by b.code, x.row_number, x.lot
                          offset :offset limit :most)
                        select x.*, (select range_agg(int4range(v.place, v.place + 1)) from vine v
                                      where v.vineyard_id = x.vineyard_id and v.block_id = x.block_id
                                        and v.row_id = x.row_id and v.lot_id = x.lot_id and v.ended_on is null
                                        and v.state in ('DEAD', 'MISSING'))::text as places
                          from lines x order by x.block, x.row_number, x.lot
                        """)
                .param("block", blockId)
                .param("offset", offset)
                .param("most", most + 1)
                .query((row, n) -> new Gaps(
                        row.getString("block"),
                        row.getObject("row_id", UUID.class),
                        row.getInt("row_number"),
                        row.getString("lot"),
                        row.getString("variety"),
                        row.getString("rootstock"),
                        PlaceSets.words(PlaceSets.fromMultirange(row.getString("places"))),
                        row.getInt("vines")))
                .list();
    }
}
