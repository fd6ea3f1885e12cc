package org.rootling.planting.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.planting.LotTally;
import org.rootling.planting.PlaceNote;
import org.rootling.planting.PlaceSets;
import org.rootling.planting.RowTally;
import org.rootling.planting.Sighting;
import org.rootling.planting.Tally;
import org.rootling.planting.Vine;
import org.rootling.planting.VineEvent;
import org.rootling.planting.VineState;
import org.rootling.platform.Ids;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Reads and writes the tables of vines; whole rows at a time. */
@Repository
class VineStore {

    private static final String VINE =
            "select id, block_id, row_id, place, lot_id, planted_on, planted_by, state, state_on, ended_on from vine ";
    private static final String COUNTS = """
            coalesce(sum(t.planted), 0) planted, coalesce(sum(t.growing), 0) growing, coalesce(sum(t.weak), 0) weak,
            coalesce(sum(t.not_moving), 0) not_moving, coalesce(sum(t.dead), 0) dead,
            coalesce(sum(t.missing), 0) missing, min(t.first_planted) first_planted, max(t.last_planted) last_planted
            """;
    private static final String ROWS = "select r.id row_id, r.block_id, r.number, r.places, " + COUNTS
            + " from vine_row r %s join vine_row_tally t on t.vineyard_id = r.vineyard_id and t.row_id = r.id"
            + " where r.vineyard_id = rootling_vineyard() and (r.withdrawn_at is null or t.row_id is not null) %s"
            + " group by r.id, r.block_id, r.number, r.places order by r.block_id, r.number";

    private final JdbcClient jdbc;

    VineStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    List<Vine> inRow(UUID rowId) {
        return jdbc.sql(VINE + "where row_id = :row and ended_on is null order by place")
                .param("row", rowId)
                .query(VineStore::vine)
                .list();
    }

    /** Lets one planting at a time into a row, so that two cannot both find a place empty. */
    void lockRow(UUID rowId) {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended(:row, 701))")
                .param("row", rowId.toString())
                .query((rs, n) -> n)
                .list();
    }

    /** The present vines in these places, locked until the transaction ends. */
    List<Vine> lock(UUID rowId, SortedSet<Integer> places) {
        return jdbc.sql(VINE
                        + "where row_id = :row and ended_on is null and place <@ cast(:places as int4multirange)"
                        + " order by place for update")
                .param("row", rowId)
                .param("places", PlaceSets.toMultirange(places))
                .query(VineStore::vine)
                .list();
    }

    Optional<Vine> at(UUID rowId, int place) {
        return jdbc.sql(VINE + "where row_id = :row and place = :place and ended_on is null")
                .param("row", rowId)
                .param("place", place)
                .query(VineStore::vine)
                .optional();
    }

    Optional<Vine> byId(UUID id) {
        return jdbc.sql(VINE + "where id = :id")
                .param("id", id)
                .query(VineStore::vine)
                .optional();
    }

    List<Vine> formerly(UUID rowId, int place) {
        return jdbc.sql(VINE + "where row_id = :row and place = :place and ended_on is not null order by ended_at desc")
                .param("row", rowId)
                .param("place", place)
                .query(VineStore::vine)
                .list();
    }

    List<RowTally> tallies() {
        return jdbc.sql(ROWS.formatted("", "")).query(VineStore::rowTally).list();
    }

    List<RowTally> tallies(UUID blockId) {
        return jdbc.sql(ROWS.formatted("left", "and r.block_id = :block"))
                .param("block", blockId)
                .query(VineStore::rowTally)
                .list();
    }

    Optional<RowTally> tally(UUID rowId) {
        return jdbc.sql(ROWS.formatted("left", "and r.id = :row"))
                .param("row", rowId)
                .query(VineStore::rowTally)
                .optional();
    }

    List<LotTally> lotTallies() {
        return jdbc.sql("select block_id, lot_id, " + COUNTS
                        + " from vine_block_tally t group by block_id, lot_id order by block_id, lot_id")
                .query((rs, n) -> new LotTally(
                        rs.getObject("block_id", UUID.class), rs.getObject("lot_id", UUID.class), tally(rs)))
                .list();
    }

    /** Living vines of a block by planting day; what was replaced had died. */
    SortedMap<LocalDate, Integer> livingByDay(UUID blockId) {
        SortedMap<LocalDate, Integer> byDay = new TreeMap<>();
        jdbc.sql("""
                        select day, sum(vines) as vines from vine_life_tally
                         where grouping_by = 'DAY' and block_id = :block and outcome <> 'L'
                         group by day having sum(vines) > 0""").param("block", blockId).query(row -> {
            byDay.put(row.getObject("day", LocalDate.class), row.getInt("vines"));
        });
        return byDay;
    }

    /** Present vines of a block. */
    int present(UUID blockId) {
        return jdbc.sql("""
                        select coalesce(sum(planted + growing + weak + not_moving + dead + missing), 0)
                        from vine_block_tally where block_id = :block""").param("block", blockId).query(Integer.class).single();
    }

    /** Places of a row in which a vine stands or stood. */
    List<Integer> taken(UUID rowId) {
        return jdbc.sql("select distinct place from vine where row_id = :row and ended_how is distinct from 'UNDONE'")
                .param("row", rowId)
                .query(Integer.class)
                .list();
    }

    void insertPlanting(
            UUID id,
            UUID rowId,
            UUID lotId,
            SortedSet<Integer> places,
            LocalDate on,
            UUID by,
            @Nullable UUID storeBefore) {
        jdbc.sql("""
                        insert into planting (id, row_id, lot_id, places, vines, planted_on, planted_by, store_id)
                        values (:id, :row, :lot, cast(:places as int4multirange), :vines, :on, :by, :store)""")
                .param("store", storeBefore)
                .param("id", id)
                .param("row", rowId)
                .param("lot", lotId)
                .param("places", PlaceSets.toMultirange(places))
                .param("vines", places.size())
                .param("on", on)
                .param("by", by)
                .update();
    }

    void insertVines(
            UUID plantingId, UUID blockId, UUID rowId, UUID lotId, SortedSet<Integer> places, LocalDate on, UUID by) {
        String ids = places.stream().map(p -> Ids.next().toString()).collect(Collectors.joining(","));
        String numbers = places.stream().map(String::valueOf).collect(Collectors.joining(","));
        jdbc.sql("""
                        insert into vine (id, block_id, row_id, place, lot_id, planting_id, planted_on, planted_by, state_on)
                        select v.id, :block, :row, v.place, :lot, :planting, :on, :by, :on
                        from unnest(cast(string_to_array(:ids, ',') as uuid[]), cast(string_to_array(:places, ',') as int[])) as v (id, place)""")
                .param("ids", ids)
                .param("places", numbers)
                .param("block", blockId)
                .param("row", rowId)
                .param("lot", lotId)
                .param("planting", plantingId)
                .param("on", on)
                .param("by", by)
                .update();
    }

    void endReplaced(UUID rowId, SortedSet<Integer> places, UUID plantingId, LocalDate on) {
        jdbc.sql("""
                        update vine set ended_on = :on, ended_how = 'REPLACED', ended_by_planting = :planting, ended_at = now()
                        where row_id = :row and ended_on is null and place <@ cast(:places as int4multirange)""")
                .param("on", on)
                .param("planting", plantingId)
                .param("row", rowId)
                .param("places", PlaceSets.toMultirange(places))
                .update();
    }

    /** A planting as far as undoing it needs to know. */
    record Planted(UUID id, UUID rowId, SortedSet<Integer> places, LocalDate on, boolean undone) {}

    Optional<Planted> lockPlanting(UUID id) {
        return jdbc.sql(
                        "select id, row_id, places::text, planted_on, undone_on from planting where id = :id for update")
                .param("id", id)
                .query((rs, n) -> new Planted(
                        rs.getObject("id", UUID.class),
                        rs.getObject("row_id", UUID.class),
                        PlaceSets.fromMultirange(rs.getString("places")),
                        rs.getObject("planted_on", LocalDate.class),
                        rs.getObject("undone_on") != null))
                .optional();
    }

    /** Vines of this planting that another one replaced since. */
    List<Integer> replacedSince(UUID plantingId) {
        return jdbc.sql("select place from vine where planting_id = :id and ended_how = 'REPLACED' order by place")
                .param("id", plantingId)
                .query(Integer.class)
                .list();
    }

    void undo(UUID plantingId, LocalDate on, UUID by) {
        jdbc.sql("""
                        update vine set ended_on = :on, ended_how = 'UNDONE', ended_at = now()
                        where planting_id = :id and ended_on is null""").param("on", on).param("id", plantingId).update();
        jdbc.sql("""
                        update vine set ended_on = null, ended_how = null, ended_by_planting = null, ended_at = null
                        where ended_by_planting = :id""").param("id", plantingId).update();
        jdbc.sql("update planting set undone_on = :on, undone_by = :by, version = version + 1 where id = :id")
                .param("on", on)
                .param("by", by)
                .param("id", plantingId)
                .update();
    }

    void insertObservation(
            UUID rowId,
            SortedSet<Integer> places,
            @Nullable VineState state,
            @Nullable String note,
            @Nullable UUID picture,
            LocalDate on,
            UUID by,
            @Nullable UUID logId) {
        jdbc.sql("""
                        insert into vine_observation (id, row_id, places, state, note, picture_id, seen_on, seen_by, log_id)
                        values (:id, :row, cast(:places as int4multirange), :state, :note, :picture, :on, :by, :log)""")
                .param("picture", picture)
                .param("id", Ids.next())
                .param("row", rowId)
                .param("places", PlaceSets.toMultirange(places))
                .param("state", state == null ? null : state.name())
                .param("note", note)
                .param("on", on)
                .param("by", by)
                .param("log", logId)
                .update();
    }

    /** An older sighting does not overwrite a newer one. */
    void setState(UUID rowId, Sighting sighting, LocalDate on) {
        jdbc.sql("""
                        update vine set state = :state, state_on = :on
                        where row_id = :row and ended_on is null and place <@ cast(:places as int4multirange)
                          and state_on <= :on""")
                .param("state", sighting.state().name())
                .param("on", on)
                .param("row", rowId)
                .param("places", PlaceSets.toMultirange(sighting.places()))
                .update();
    }

    /** Marks what came with a log as withdrawn and gives each vine the state it was last seen in apart from that. */
    void withdrawLog(UUID logId) {
        jdbc.sql("update place_note set withdrawn_at = now() where log_id = :log and withdrawn_at is null")
                .param("log", logId)
                .update();
        List<Map.Entry<UUID, String>> gone = jdbc.sql("""
                        update vine_observation set withdrawn_at = now() where log_id = :log and withdrawn_at is null
                        returning row_id, places::text""")
                .param("log", logId)
                .query((rs, n) -> Map.entry(rs.getObject("row_id", UUID.class), rs.getString("places")))
                .list();
        for (Map.Entry<UUID, String> one : gone) {
            jdbc.sql("""
                            update vine v set
                              state = coalesce(l.state, 'PLANTED'), state_on = coalesce(l.seen_on, v.planted_on)
                            from vine k left join lateral (
                              select o.state, o.seen_on from vine_observation o
                              where o.vineyard_id = k.vineyard_id and o.row_id = k.row_id and o.withdrawn_at is null
                                and o.state is not null and o.places @> k.place and o.recorded_at >= k.recorded_at
                              order by o.seen_on desc, o.recorded_at desc limit 1) l on true
                            where k.row_id = :row and k.ended_on is null and k.place <@ cast(:places as int4multirange)
                              and v.vineyard_id = k.vineyard_id and v.id = k.id""")
                    .param("row", one.getKey())
                    .param("places", one.getValue())
                    .update();
        }
    }

    void insertPlaceNote(UUID rowId, int place, String what, LocalDate on, UUID by, @Nullable UUID logId) {
        jdbc.sql("""
                        insert into place_note (id, row_id, place, what, noted_on, noted_by, log_id)
                        values (:id, :row, :place, :what, :on, :by, :log)""")
                .param("id", Ids.next())
                .param("row", rowId)
                .param("place", place)
                .param("what", what)
                .param("on", on)
                .param("by", by)
                .param("log", logId)
                .update();
    }

    List<PlaceNote> placeNotes(UUID rowId) {
        return jdbc.sql("""
                        select row_id, place, what, noted_on, noted_by from place_note
                        where row_id = :row and withdrawn_at is null order by noted_on, recorded_at, place""")
                .param("row", rowId)
                .query((rs, n) -> new PlaceNote(
                        rs.getObject("row_id", UUID.class),
                        rs.getInt("place"),
                        rs.getString("what"),
                        rs.getObject("noted_on", LocalDate.class),
                        rs.getObject("noted_by", UUID.class)))
                .list();
    }

    List<VineEvent> history(UUID vineId) {
        List<VineEvent> events = new ArrayList<>(jdbc.sql("""
                        select 0 as seq, v.planted_on as day, v.recorded_at, 'PLANTED' as kind, null as state, null as note,
                          null::uuid as picture, v.planted_by as person
                        from vine v where v.id = :id
                        union all
                        select 1, o.seen_on, o.recorded_at, case when o.state is not null then 'SEEN' when o.note is null then 'PHOTO' else 'NOTED' end, o.state,
                          o.note, o.picture_id, o.seen_by
                        from vine v join vine_observation o on o.vineyard_id = v.vineyard_id and o.row_id = v.row_id
                          and o.places @> v.place and o.recorded_at >= v.recorded_at
                          and (v.ended_at is null or o.recorded_at <= v.ended_at)
                        where v.id = :id and o.withdrawn_at is null
                        union all
                        select 2, v.ended_on, v.ended_at, v.ended_how, null, null, null,
                          coalesce(p.undone_by, r.planted_by, v.planted_by)
                        from vine v join planting p on p.vineyard_id = v.vineyard_id and p.id = v.planting_id
                        left join planting r on r.vineyard_id = v.vineyard_id and r.id = v.ended_by_planting
                        where v.id = :id and v.ended_on is not null
                        order by day, seq, recorded_at""")
                .param("id", vineId)
                .query((rs, n) -> {
                    String state = rs.getString("state");
                    return new VineEvent(
                            rs.getObject("day", LocalDate.class),
                            VineEvent.Kind.valueOf(rs.getString("kind")),
                            state == null ? null : VineState.valueOf(state),
                            rs.getString("note"),
                            rs.getObject("picture", UUID.class),
                            rs.getObject("person", UUID.class));
                })
                .list());
        return List.copyOf(events);
    }

    private static Vine vine(ResultSet rs, int n) throws SQLException {
        return new Vine(
                rs.getObject("id", UUID.class),
                rs.getObject("block_id", UUID.class),
                rs.getObject("row_id", UUID.class),
                rs.getInt("place"),
                rs.getObject("lot_id", UUID.class),
                rs.getObject("planted_on", LocalDate.class),
                rs.getObject("planted_by", UUID.class),
                VineState.valueOf(rs.getString("state")),
                rs.getObject("state_on", LocalDate.class),
                rs.getObject("ended_on", LocalDate.class));
    }

    private static RowTally rowTally(ResultSet rs, int n) throws SQLException {
        return new RowTally(
                rs.getObject("row_id", UUID.class),
                rs.getObject("block_id", UUID.class),
                rs.getInt("number"),
                rs.getInt("places"),
                tally(rs));
    }

    private static Tally tally(ResultSet rs) throws SQLException {
        EnumMap<VineState, Integer> counts = new EnumMap<>(VineState.class);
        for (VineState state : VineState.values()) {
            counts.put(state, rs.getInt(state.name().toLowerCase(java.util.Locale.ROOT)));
        }
        return new Tally(
                counts, rs.getObject("first_planted", LocalDate.class), rs.getObject("last_planted", LocalDate.class));
    }
}
