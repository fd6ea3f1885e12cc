package org.rootling.training.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.MonthDay;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.planting.PlaceSets;
import org.rootling.platform.Ids;
import org.rootling.training.CareItem;
import org.rootling.training.CareTick;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Timing;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Reads and writes checklist items and ticks. */
@Repository
class CareStore {

    private static final String ITEM = "select * from care_item ";

    private final JdbcClient jdbc;

    CareStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    List<CareItem> items() {
        return jdbc.sql(ITEM + "where withdrawn_at is null order by position, code")
                .query(CareStore::item)
                .list();
    }

    boolean hasItems() {
        return jdbc.sql("select exists (select 1 from care_item)")
                .query(Boolean.class)
                .single();
    }

    /** A withdrawn item too: its ticks still name it. */
    Optional<CareItem> item(UUID id) {
        return jdbc.sql(ITEM + "where id = :id")
                .param("id", id)
                .query(CareStore::item)
                .optional();
    }

    /** Keeps edits of the list apart, so that two of them together cannot close a circle. */
    void lockList() {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended(cast(rootling_vineyard() as text), 800))")
                .query((rs, n) -> n)
                .list();
    }

    /** @return whether it was new */
    boolean insert(CareItem item) {
        return write(item, """
                        insert into care_item (id, code, position, name, at_days, at_stage, at_date, at_heat, at_rain,
                          or_after_days, window_days, repeat_days, until_date, after_item_id, why, how, caution, step,
                          source, how_known)
                        values (:id, :code, :position, :name, :days, :stage, :date, :heat, :rain, :or, :window, :repeat,
                          :until, :after, :why, :how, :caution, :step, :source, :known)
                        on conflict (vineyard_id, code) do nothing""") == 1;
    }

    /** @return whether the version was still the one that the edit began from */
    boolean update(CareItem item) {
        return write(item, """
                        update care_item set position = :position, name = :name, at_days = :days, at_stage = :stage,
                          at_date = :date, at_heat = :heat, at_rain = :rain, or_after_days = :or, window_days = :window,
                          repeat_days = :repeat, until_date = :until, after_item_id = :after, why = :why, how = :how,
                          caution = :caution, step = :step, source = :source, how_known = :known, version = version + 1
                        where id = :id and version = :version and withdrawn_at is null and code = :code""") == 1;
    }

    boolean withdraw(UUID id, int version) {
        return jdbc.sql("""
                                update care_item set withdrawn_at = now(), version = version + 1
                                where id = :id and version = :version and withdrawn_at is null""").param("id", id).param("version", version).update() == 1;
    }

    private int write(CareItem item, String sql) {
        CareRule rule = item.rule();
        Timing timing = rule.timing();
        Map<String, @Nullable Object> p = new HashMap<>();
        p.put("id", item.id());
        p.put("code", item.code());
        p.put("position", item.position());
        p.put("name", item.name());
        p.put("days", timing instanceof Timing.AfterPlanting t ? t.days() : null);
        p.put("stage", timing instanceof Timing.AtStage t ? t.stage().code() : null);
        p.put("date", timing instanceof Timing.OnDate t ? CareItem.monthDay(t.north()) : null);
        p.put("heat", timing instanceof Timing.AtHeat t ? BigDecimal.valueOf(t.degreeDays()) : null);
        p.put("rain", timing instanceof Timing.AfterRain t ? BigDecimal.valueOf(t.mm()) : null);
        p.put("or", timing instanceof Timing.AtStage t ? t.orAfterDays() : null);
        p.put("window", rule.windowDays());
        p.put("repeat", rule.repeatDays());
        MonthDay until = rule.until();
        p.put("until", until == null ? null : CareItem.monthDay(until));
        p.put("after", item.afterItemId());
        p.put("why", item.why());
        p.put("how", item.how());
        p.put("caution", item.caution());
        p.put("step", item.step());
        p.put("source", item.source());
        p.put("known", item.howKnown());
        p.put("version", item.version());
        return jdbc.sql(sql).params(p).update();
    }

    void insertTick(
            UUID itemId,
            UUID blockId,
            UUID rowId,
            SortedSet<Integer> places,
            LocalDate on,
            @Nullable String note,
            UUID by,
            @Nullable UUID logId) {
        jdbc.sql("""
                        insert into care_tick (id, item_id, block_id, row_id, places, done_on, done_by, note, log_id)
                        values (:id, :item, :block, :row, cast(:places as int4multirange), :on, :by, :note, :log)""")
                .param("id", Ids.next())
                .param("item", itemId)
                .param("block", blockId)
                .param("row", rowId)
                .param("places", PlaceSets.toMultirange(places))
                .param("on", on)
                .param("by", by)
                .param("note", note)
                .param("log", logId)
                .update();
    }

    /** A tick's item and block, after it was withdrawn; empty where it was before. */
    record Withdrawn(UUID itemId, UUID blockId) {}

    Optional<Withdrawn> withdrawTick(UUID tickId, UUID by) {
        return jdbc.sql("""
                        update care_tick set withdrawn_at = now(), withdrawn_by = :by
                        where id = :id and withdrawn_at is null returning item_id, block_id""")
                .param("id", tickId)
                .param("by", by)
                .query(CareStore::withdrawn)
                .optional();
    }

    List<Withdrawn> withdrawLog(UUID logId, UUID by) {
        return jdbc.sql("""
                        update care_tick set withdrawn_at = now(), withdrawn_by = :by
                        where log_id = :log and withdrawn_at is null returning item_id, block_id""")
                .param("log", logId)
                .param("by", by)
                .query(CareStore::withdrawn)
                .list();
    }

    List<CareTick> ticks(UUID rowId) {
        return jdbc.sql("""
                        select id, item_id, row_id, places::text, done_on, done_by, note from care_tick
                        where row_id = :row and withdrawn_at is null order by done_on desc, recorded_at desc""")
                .param("row", rowId)
                .query((rs, n) -> new CareTick(
                        rs.getObject("id", UUID.class),
                        rs.getObject("item_id", UUID.class),
                        rs.getObject("row_id", UUID.class),
                        PlaceSets.fromMultirange(rs.getString("places")),
                        rs.getObject("done_on", LocalDate.class),
                        rs.getObject("done_by", UUID.class),
                        rs.getString("note")))
                .list();
    }

    /** How many places of a row an item's round has covered. */
    record Covered(UUID rowId, UUID itemId, int places) {}

    /** Places covered in each row of a block by each item since the given day. */
    List<Covered> covered(UUID blockId, Map<UUID, LocalDate> since) {
        if (since.isEmpty()) {
            return List.of();
        }
        List<UUID> items = List.copyOf(since.keySet());
        return jdbc.sql("""
                        select row_id, item_id, (select sum(upper(r) - lower(r)) from unnest(places) r) places from (
                          select t.row_id, t.item_id, range_agg(t.places) places
                          from unnest(cast(string_to_array(:items, ',') as uuid[]), cast(string_to_array(:since, ',') as date[]))
                            as k (item_id, since)
                          join care_tick t on t.item_id = k.item_id and t.done_on >= k.since
                          where t.block_id = :block and t.withdrawn_at is null
                          group by t.row_id, t.item_id) done""")
                .param("items", items.stream().map(UUID::toString).collect(Collectors.joining(",")))
                .param(
                        "since",
                        items.stream().map(id -> String.valueOf(since.get(id))).collect(Collectors.joining(",")))
                .param("block", blockId)
                .query((rs, n) -> new Covered(
                        rs.getObject("row_id", UUID.class), rs.getObject("item_id", UUID.class), rs.getInt("places")))
                .list();
    }

    void keepBlockTally(UUID blockId, UUID itemId, LocalDate roundFrom, int places) {
        jdbc.sql("""
                        insert into care_block_tally (block_id, item_id, round_from, places)
                        values (:block, :item, :from, :places)
                        on conflict (vineyard_id, block_id, item_id)
                        do update set round_from = excluded.round_from, places = excluded.places""")
                .param("block", blockId)
                .param("item", itemId)
                .param("from", roundFrom)
                .param("places", places)
                .update();
    }

    /** A kept count of an item in a block. */
    record Kept(UUID blockId, UUID itemId, LocalDate roundFrom, int places) {}

    List<Kept> keptTallies() {
        return jdbc.sql("select block_id, item_id, round_from, places from care_block_tally")
                .query((rs, n) -> new Kept(
                        rs.getObject("block_id", UUID.class),
                        rs.getObject("item_id", UUID.class),
                        rs.getObject("round_from", LocalDate.class),
                        rs.getInt("places")))
                .list();
    }

    private static Withdrawn withdrawn(ResultSet rs, int n) throws SQLException {
        return new Withdrawn(rs.getObject("item_id", UUID.class), rs.getObject("block_id", UUID.class));
    }

    private static CareItem item(ResultSet rs, int n) throws SQLException {
        String until = rs.getString("until_date");
        return new CareItem(
                rs.getObject("id", UUID.class),
                rs.getString("code"),
                rs.getInt("position"),
                rs.getString("name"),
                new CareRule(
                        timing(rs),
                        rs.getInt("window_days"),
                        rs.getObject("repeat_days", Integer.class),
                        until == null ? null : MonthDay.parse("--" + until)),
                rs.getObject("after_item_id", UUID.class),
                rs.getString("why"),
                rs.getString("how"),
                rs.getString("caution"),
                rs.getString("step"),
                rs.getString("source"),
                rs.getString("how_known"),
                rs.getInt("version"));
    }

    private static Timing timing(ResultSet rs) throws SQLException {
        Integer days = rs.getObject("at_days", Integer.class);
        if (days != null) {
            return new Timing.AfterPlanting(days);
        }
        Integer stage = rs.getObject("at_stage", Integer.class);
        if (stage != null) {
            return new Timing.AtStage(new Bbch(stage), rs.getObject("or_after_days", Integer.class));
        }
        String date = rs.getString("at_date");
        if (date != null) {
            return new Timing.OnDate(MonthDay.parse("--" + date));
        }
        BigDecimal heat = rs.getBigDecimal("at_heat");
        return heat != null
                ? new Timing.AtHeat(heat.doubleValue())
                : new Timing.AfterRain(rs.getBigDecimal("at_rain").doubleValue());
    }
}
