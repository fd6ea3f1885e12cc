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
import java.util.Optional;
import java.util.UUID;
import org.rootling.ground.Block;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Slope;
import org.rootling.platform.Ids;
import org.rootling.platform.Stale;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** What is asked of blocks in SQL, their exclusions and their former boundaries. */
@Repository
class BlockStore {
    private final JdbcClient jdbc;
    private final RowStore rows;

    BlockStore(JdbcClient jdbc, RowStore rows) {
        this.jdbc = jdbc;
        this.rows = rows;
    }

    /** The blocks in use by code, as the other modules see them: without their outlines, on which no list rests. */
    List<Block> blocks() {
        return jdbc.sql("""
                        select id, code, name, area_m2, row_spacing_m, vine_spacing_m, row_bearing_deg, row_count,
                               place_count, version
                          from block where withdrawn_at is null order by code
                        """)
                .query((r, n) -> new Block(
                        r.getObject("id", UUID.class),
                        r.getString("code"),
                        r.getString("name"),
                        r.getDouble("area_m2"),
                        r.getDouble("row_spacing_m"),
                        r.getDouble("vine_spacing_m"),
                        r.getDouble("row_bearing_deg"),
                        r.getInt("row_count"),
                        r.getInt("place_count"),
                        r.getInt("version")))
                .list();
    }

    /** Metres of row by block, of the rows in use. */
    Map<UUID, Double> metres(Collection<UUID> blockIds) {
        Map<UUID, Double> metres = new LinkedHashMap<>();
        List<UUID> unkept = new ArrayList<>();
        jdbc.sql("select id, row_metres from block where id = any(:blocks)")
                .param("blocks", blockIds.toArray(UUID[]::new))
                .query((ResultSet row) -> {
                    UUID id = row.getObject("id", UUID.class);
                    double kept = row.getDouble("row_metres");
                    if (row.wasNull()) {
                        unkept.add(id);
                    } else {
                        metres.put(id, kept);
                    }
                });
        rows.ofBlocks(unkept).forEach(row -> metres.merge(row.blockId(), row.lengthM(), Double::sum));
        return metres;
    }

    /**
     * Until the transaction ends nobody changes the block or its rows; waits for a change under way. Any number may hold a
     * block at the same time.
     */
    void hold(UUID blockId) {
        jdbc.sql("select id from block where id = :block for share")
                .param("block", blockId)
                .query(UUID.class)
                .optional();
    }

    /** Counts a change of rows as a change of the block. */
    void touch(UUID blockId, int version) {
        int changed = jdbc.sql("update block set version = version + 1 where id = :block and version = :version")
                .param("block", blockId)
                .param("version", version)
                .update();
        if (changed == 0) {
            throw new Stale(version, version + 1);
        }
    }

    List<Exclusion> exclusions(UUID blockId) {
        return jdbc.sql("select id, name, shape from block_exclusion where block_id = :block and withdrawn_at is null"
                        + " order by name, id")
                .param("block", blockId)
                .query((r, i) -> new Exclusion(
                        r.getObject("id", UUID.class), r.getString("name"), Shapes.read(r.getString("shape"))))
                .list();
    }

    /**
     * What a plan is drawn on.
     *
     * @param field along the ground
     * @param headlandM 0 before the first layout
     */
    record Outline(String code, Field field, double headlandM) {}

    /** The outline of a block, also one withdrawn, in one look: no more of it is needed to draw its plan. */
    Optional<Outline> outline(UUID blockId) {
        return jdbc.sql("""
                        select b.code, b.boundary, b.slope_percent, b.downhill_deg, b.measured_level, b.headland_m,
                               b.row_spacing_m,
                               array(select x.shape from block_exclusion x
                                      where x.vineyard_id = b.vineyard_id and x.block_id = b.id
                                        and x.withdrawn_at is null order by x.name, x.id) as exclusions
                          from block b where b.id = :block
                        """).param("block", blockId).query(BlockStore::outline).optional();
    }

    private static Outline outline(ResultSet r, int n) throws SQLException {
        List<List<Point>> exclusions = new ArrayList<>();
        for (String shape : (String[]) r.getArray("exclusions").getArray()) {
            exclusions.add(Shapes.read(shape));
        }
        Field measured = new Field(Shapes.read(r.getString("boundary")), exclusions);
        Slope slope = new Slope(r.getDouble("slope_percent"), r.getDouble("downhill_deg"));
        return new Outline(
                r.getString("code"),
                slope.field(measured, r.getBoolean("measured_level")),
                r.getDouble("row_spacing_m") == 0 ? 0 : r.getDouble("headland_m"));
    }

    void addExclusion(UUID blockId, String name, List<Point> corners) {
        jdbc.sql("insert into block_exclusion (id, block_id, name, shape) values (:id, :block, :name, :shape)")
                .param("id", Ids.next())
                .param("block", blockId)
                .param("name", name)
                .param("shape", Shapes.write(corners))
                .update();
    }

    int withdrawExclusion(UUID blockId, UUID id, Instant at) {
        return jdbc.sql("update block_exclusion set withdrawn_at = :at, version = version + 1"
                        + " where block_id = :block and id = :id and withdrawn_at is null")
                .param("at", OffsetDateTime.ofInstant(at, ZoneOffset.UTC))
                .param("block", blockId)
                .param("id", id)
                .update();
    }

    void keepBoundary(UUID blockId, Boundary boundary) {
        jdbc.sql("insert into block_boundary (id, block_id, boundary, area_m2, source, note)"
                        + " values (:id, :block, :boundary, :area, :source, :note)")
                .param("id", Ids.next())
                .param("block", blockId)
                .param("boundary", Shapes.write(boundary.field().boundary()))
                .param("area", boundary.field().areaM2())
                .param("source", boundary.source().name())
                .param("note", boundary.note())
                .update();
    }

    List<FormerBoundary> boundaries(UUID blockId) {
        return jdbc.sql("select recorded_at, recorded_by, source, area_m2, note from block_boundary"
                        + " where block_id = :block order by recorded_at desc")
                .param("block", blockId)
                .query((r, i) -> new FormerBoundary(
                        r.getObject("recorded_at", OffsetDateTime.class).toInstant(),
                        r.getObject("recorded_by", UUID.class),
                        BoundarySource.valueOf(r.getString("source")),
                        r.getDouble("area_m2"),
                        r.getString("note")))
                .list();
    }
}
