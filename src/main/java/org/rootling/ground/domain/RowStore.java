package org.rootling.ground.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.platform.Ids;
import org.springframework.jdbc.core.namedparam.MapSqlParameterSource;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Rows and their stretches, as sets. */
@Repository
class RowStore {
    private static final String ROWS = """
            select r.id, r.block_id, b.code, r.number, r.places as row_places,
                   s.segment, s.first_place, s.places, s.start_x, s.start_y, s.end_x, s.end_y, s.start_gap_m, s.end_gap_m,
                   s.vine_spacing_m
            from vine_row r
            join block b on (b.vineyard_id, b.id) = (r.vineyard_id, r.block_id)
            join row_stretch s on (s.vineyard_id, s.row_id) = (r.vineyard_id, r.id)
            where %s
            order by b.code, r.number, r.id, s.segment""";

    private static final String ADD_STRETCH = """
            insert into row_stretch (id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y,
              start_gap_m, end_gap_m, vine_spacing_m)
            values (:id, :row, :segment, :first, :places, :sx, :sy, :ex, :ey, :startGap, :endGap, :vine)""";

    private final JdbcClient jdbc;
    private final NamedParameterJdbcTemplate batches;

    RowStore(JdbcClient jdbc, NamedParameterJdbcTemplate batches) {
        this.jdbc = jdbc;
        this.batches = batches;
    }

    List<Row> ofBlock(UUID blockId) {
        return rows("r.block_id = :block and r.withdrawn_at is null", Map.of("block", blockId));
    }

    List<Row> ofBlocks(Collection<UUID> blockIds) {
        return blockIds.isEmpty()
                ? List.of()
                : rows("r.block_id in (:blocks) and r.withdrawn_at is null", Map.of("blocks", List.copyOf(blockIds)));
    }

    List<Row> byIds(Collection<UUID> ids) {
        return ids.isEmpty() ? List.of() : rows("r.id in (:ids)", Map.of("ids", List.copyOf(ids)));
    }

    List<Row> byNumber(String blockCode, int number) {
        return rows(
                "b.code = :code and b.withdrawn_at is null and r.number = :number and r.withdrawn_at is null",
                Map.of("code", blockCode, "number", number));
    }

    List<Row> numbered(UUID blockId, List<Integer> numbers) {
        return rows(
                "r.block_id = :block and r.number in (:numbers) and r.withdrawn_at is null",
                Map.of("block", blockId, "numbers", numbers));
    }

    private List<Row> rows(String where, Map<String, ?> params) {
        Map<UUID, List<Stretch>> stretches = new LinkedHashMap<>();
        Map<UUID, Row> rows = new LinkedHashMap<>();
        jdbc.sql(ROWS.formatted(where)).params(params).query((ResultSet r) -> {
            UUID id = r.getObject("id", UUID.class);
            stretches.computeIfAbsent(id, x -> new ArrayList<>()).add(stretch(r));
            rows.put(
                    id,
                    new Row(
                            id,
                            r.getObject("block_id", UUID.class),
                            r.getString("code"),
                            r.getInt("number"),
                            r.getInt("row_places"),
                            List.of()));
        });
        return rows.values().stream()
                .map(r -> new Row(
                        r.id(),
                        r.blockId(),
                        r.blockCode(),
                        r.number(),
                        r.places(),
                        stretches.getOrDefault(r.id(), List.of())))
                .toList();
    }

    private static Stretch stretch(ResultSet r) throws SQLException {
        return new Stretch(
                r.getInt("segment"),
                r.getInt("first_place"),
                r.getInt("places"),
                r.getDouble("start_x"),
                r.getDouble("start_y"),
                r.getDouble("end_x"),
                r.getDouble("end_y"),
                r.getDouble("start_gap_m"),
                r.getDouble("end_gap_m"),
                r.getDouble("vine_spacing_m"));
    }

    void withdrawAll(UUID blockId, Instant at) {
        jdbc.sql("update vine_row set withdrawn_at = :at, version = version + 1"
                        + " where block_id = :block and withdrawn_at is null")
                .param("at", OffsetDateTime.ofInstant(at, ZoneOffset.UTC))
                .param("block", blockId)
                .update();
    }

    /** Stores new rows; their ids are their own. */
    void add(List<Row> rows) {
        batches.batchUpdate(
                "insert into vine_row (id, block_id, number, places) values (:id, :block, :number, :places)",
                rows.stream()
                        .map(r -> new MapSqlParameterSource()
                                .addValue("id", r.id())
                                .addValue("block", r.blockId())
                                .addValue("number", r.number())
                                .addValue("places", r.places()))
                        .toArray(MapSqlParameterSource[]::new));
        List<MapSqlParameterSource> all = new ArrayList<>();
        for (Row row : rows) {
            for (Stretch s : row.stretches()) {
                all.add(params(row.id(), s));
            }
        }
        batches.batchUpdate(ADD_STRETCH, all.toArray(MapSqlParameterSource[]::new));
    }

    private static MapSqlParameterSource params(UUID rowId, Stretch s) {
        return new MapSqlParameterSource()
                .addValue("id", Ids.next())
                .addValue("row", rowId)
                .addValue("segment", s.segment())
                .addValue("first", s.firstPlace())
                .addValue("places", s.places())
                .addValue("sx", s.startX())
                .addValue("sy", s.startY())
                .addValue("ex", s.endX())
                .addValue("ey", s.endY())
                .addValue("startGap", s.startGapM())
                .addValue("endGap", s.endGapM())
                .addValue("vine", s.vineSpacingM());
    }

    /** Numbers the rows from the other side; by a detour, since no two rows may share a number even for a moment. */
    void renumber(UUID blockId, int last) {
        String rows = " where block_id = :block and withdrawn_at is null";
        jdbc.sql("update vine_row set number = number + 50000, version = version + 1" + rows)
                .param("block", blockId)
                .update();
        jdbc.sql("update vine_row set number = :last + 1 - (number - 50000)" + rows)
                .param("last", last)
                .param("block", blockId)
                .update();
    }

    /** Rows from this number on go to another block and are numbered from 1 there. */
    void move(UUID from, UUID to, int fromRow) {
        jdbc.sql("update vine_row set block_id = :to, number = number - :before, version = version + 1"
                        + " where block_id = :from and number > :before and withdrawn_at is null")
                .param("to", to)
                .param("from", from)
                .param("before", fromRow - 1)
                .update();
    }

    void replaceStretches(UUID rowId, List<Stretch> stretches, int places) {
        jdbc.sql("delete from row_stretch where row_id = :row")
                .param("row", rowId)
                .update();
        batches.batchUpdate(
                ADD_STRETCH, stretches.stream().map(s -> params(rowId, s)).toArray(MapSqlParameterSource[]::new));
        jdbc.sql("update vine_row set places = :places, version = version + 1 where id = :row")
                .param("places", places)
                .param("row", rowId)
                .update();
    }

    boolean inUse(UUID rowId) {
        return jdbc.sql("select withdrawn_at is null from vine_row where id = :row")
                .param("row", rowId)
                .query(Boolean.class)
                .single();
    }
}
