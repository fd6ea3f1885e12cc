package org.rootling.trellis.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.platform.Stale;
import org.rootling.trellis.calc.Assembly;
import org.rootling.trellis.calc.Soil;
import org.rootling.trellis.calc.TrellisSpec;
import org.rootling.trellis.calc.WireKind;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/**
 * Keeps plans. A plan is a sheet of some forty numbers without behaviour of its own, read and written as a whole, so it
 * is mapped by hand rather than as an entity.
 */
@Repository
class PlanStore {
    private static final List<String> COLUMNS = List.of(
            "end_length_m",
            "end_diameter_mm",
            "end_lean_deg",
            "end_buried_m",
            "end_stand_at_m",
            "assembly",
            "hold_height_m",
            "hold_distance_m",
            "tie_kind",
            "tie_diameter_mm",
            "tie_strands",
            "anchor_plate_mm",
            "anchor_rod_m",
            "pole_diameter_mm",
            "soil",
            "line_length_m",
            "line_diameter_mm",
            "line_buried_m",
            "line_max_span_m",
            "line_every_vines",
            "stakes_per_vine",
            "stake_length_m",
            "guards_per_vine",
            "clips_per_vine",
            "staples_per_post",
            "staples_per_kg",
            "tensioners_per_run",
            "drum_mm",
            "tightened_c",
            "coldest_c");

    private static final String INSERT = "insert into trellis_plan (id, block_id, " + String.join(", ", COLUMNS)
            + ") values (:id, :block_id, :" + String.join(", :", COLUMNS)
            + ") on conflict (vineyard_id, block_id) do nothing";
    private static final String UPDATE = "update trellis_plan set "
            + String.join(", ", COLUMNS.stream().map(c -> c + " = :" + c).toList())
            + ", version = version + 1 where id = :id and version = :version";

    private final JdbcClient jdbc;

    PlanStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    List<TrellisPlan> all() {
        Map<UUID, List<TrellisSpec.WireLine>> wires = new LinkedHashMap<>();
        jdbc.sql("select * from trellis_wire order by plan_id, position")
                .query((row, n) -> wires.computeIfAbsent(row.getObject("plan_id", UUID.class), k -> new ArrayList<>())
                        .add(wire(row)))
                .list();
        return jdbc.sql("select * from trellis_plan")
                .query((row, n) -> plan(row, wires.getOrDefault(row.getObject("id", UUID.class), List.of())))
                .list();
    }

    Optional<TrellisPlan> ofBlock(UUID blockId) {
        List<TrellisSpec.WireLine> wires = jdbc.sql(
                        "select w.* from trellis_wire w join trellis_plan p on p.vineyard_id = w.vineyard_id and p.id = w.plan_id"
                                + " where p.block_id = :block order by w.position")
                .param("block", blockId)
                .query((row, n) -> wire(row))
                .list();
        return jdbc.sql("select * from trellis_plan where block_id = :block")
                .param("block", blockId)
                .query((row, n) -> plan(row, wires))
                .optional();
    }

    /** False when the block has a plan already. */
    boolean add(UUID blockId, TrellisSpec spec) {
        UUID id = Ids.next();
        Map<String, @Nullable Object> values = values(spec);
        values.put("id", id);
        values.put("block_id", blockId);
        if (jdbc.sql(INSERT).params(values).update() == 0) {
            return false;
        }
        saveWires(id, spec.wires());
        return true;
    }

    void change(TrellisPlan plan, TrellisSpec spec, int expectedVersion) {
        Map<String, @Nullable Object> values = values(spec);
        values.put("id", plan.id());
        values.put("version", expectedVersion);
        if (jdbc.sql(UPDATE).params(values).update() == 0) {
            int now = jdbc.sql("select version from trellis_plan where id = :id")
                    .param("id", plan.id())
                    .query(Integer.class)
                    .single();
            throw new Stale(expectedVersion, now);
        }
        saveWires(plan.id(), spec.wires());
    }

    private void saveWires(UUID planId, List<TrellisSpec.WireLine> wires) {
        for (int i = 0; i < wires.size(); i++) {
            TrellisSpec.WireLine wire = wires.get(i);
            jdbc.sql("""
                            insert into trellis_wire (id, plan_id, position, name, height_m, count, kind, diameter_mm,
                              tension_n, tail_m, coil_m, crop_kg_per_m, wind_n_per_m)
                            values (:id, :plan, :position, :name, :height, :count, :kind, :diameter,
                              :tension, :tail, :coil, :crop, :wind)
                            on conflict (vineyard_id, plan_id, position) do update set name = excluded.name,
                              height_m = excluded.height_m, count = excluded.count, kind = excluded.kind,
                              diameter_mm = excluded.diameter_mm, tension_n = excluded.tension_n,
                              tail_m = excluded.tail_m, coil_m = excluded.coil_m,
                              crop_kg_per_m = excluded.crop_kg_per_m, wind_n_per_m = excluded.wind_n_per_m""")
                    .param("id", Ids.next())
                    .param("plan", planId)
                    .param("position", i)
                    .param("name", wire.name())
                    .param("height", wire.heightM())
                    .param("count", wire.count())
                    .param("kind", wire.kind().name())
                    .param("diameter", wire.diameterMm())
                    .param("tension", wire.tensionN())
                    .param("tail", wire.tailM())
                    .param("coil", wire.coilM())
                    .param("crop", wire.cropKgPerM())
                    .param("wind", wire.windNPerM())
                    .update();
        }
        jdbc.sql("delete from trellis_wire where plan_id = :plan and position >= :count")
                .param("plan", planId)
                .param("count", wires.size())
                .update();
    }

    private static Map<String, @Nullable Object> values(TrellisSpec spec) {
        Map<String, @Nullable Object> all = new LinkedHashMap<>();
        TrellisSpec.End end = spec.end();
        TrellisSpec.Hold hold = spec.hold();
        TrellisSpec.Line line = spec.line();
        all.put("end_length_m", end.lengthM());
        all.put("end_diameter_mm", end.diameterMm());
        all.put("end_lean_deg", end.leanDeg());
        all.put("end_buried_m", end.buriedM());
        all.put("end_stand_at_m", end.standAtM());
        all.put("assembly", hold.assembly().name());
        all.put("hold_height_m", hold.heightM());
        all.put("hold_distance_m", hold.distanceM());
        all.put("tie_kind", hold.tieKind().name());
        all.put("tie_diameter_mm", hold.tieDiameterMm());
        all.put("tie_strands", hold.tieStrands());
        all.put("anchor_plate_mm", hold.anchorPlateMm());
        all.put("anchor_rod_m", hold.anchorRodM());
        all.put("pole_diameter_mm", hold.poleDiameterMm());
        all.put("soil", hold.soil().name());
        all.put("line_length_m", line.lengthM());
        all.put("line_diameter_mm", line.diameterMm());
        all.put("line_buried_m", line.buriedM());
        all.put("line_max_span_m", line.maxSpanM());
        all.put("line_every_vines", line.everyVines());
        all.put("stakes_per_vine", spec.perVine().stakes());
        all.put("stake_length_m", spec.perVine().stakeLengthM());
        all.put("guards_per_vine", spec.perVine().guards());
        all.put("clips_per_vine", spec.perVine().clips());
        all.put("staples_per_post", spec.fixing().staplesPerPost());
        all.put("staples_per_kg", spec.fixing().staplesPerKg());
        all.put("tensioners_per_run", spec.fixing().tensionersPerRun());
        all.put("drum_mm", spec.fixing().drumMm());
        all.put("tightened_c", spec.air().tightenedC());
        all.put("coldest_c", spec.air().coldestC());
        return all;
    }

    private static TrellisPlan plan(ResultSet row, List<TrellisSpec.WireLine> wires) throws SQLException {
        TrellisSpec spec = new TrellisSpec(
                new TrellisSpec.End(
                        row.getDouble("end_length_m"),
                        row.getDouble("end_diameter_mm"),
                        row.getDouble("end_lean_deg"),
                        row.getDouble("end_buried_m"),
                        row.getDouble("end_stand_at_m")),
                new TrellisSpec.Hold(
                        Assembly.valueOf(row.getString("assembly")),
                        row.getObject("hold_height_m", Double.class),
                        row.getDouble("hold_distance_m"),
                        WireKind.valueOf(row.getString("tie_kind")),
                        row.getDouble("tie_diameter_mm"),
                        row.getInt("tie_strands"),
                        row.getDouble("anchor_plate_mm"),
                        row.getDouble("anchor_rod_m"),
                        row.getDouble("pole_diameter_mm"),
                        Soil.valueOf(row.getString("soil"))),
                new TrellisSpec.Line(
                        row.getDouble("line_length_m"),
                        row.getDouble("line_diameter_mm"),
                        row.getDouble("line_buried_m"),
                        row.getDouble("line_max_span_m"),
                        row.getObject("line_every_vines", Integer.class)),
                wires,
                new TrellisSpec.PerVine(
                        row.getInt("stakes_per_vine"),
                        row.getDouble("stake_length_m"),
                        row.getInt("guards_per_vine"),
                        row.getInt("clips_per_vine")),
                new TrellisSpec.Fixing(
                        row.getInt("staples_per_post"),
                        row.getDouble("staples_per_kg"),
                        row.getInt("tensioners_per_run"),
                        row.getDouble("drum_mm")),
                new TrellisSpec.Air(row.getDouble("tightened_c"), row.getDouble("coldest_c")));
        return new TrellisPlan(
                row.getObject("id", UUID.class), row.getObject("block_id", UUID.class), spec, row.getInt("version"));
    }

    private static TrellisSpec.WireLine wire(ResultSet row) throws SQLException {
        return new TrellisSpec.WireLine(
                row.getString("name"),
                row.getDouble("height_m"),
                row.getInt("count"),
                WireKind.valueOf(row.getString("kind")),
                row.getDouble("diameter_mm"),
                row.getDouble("tension_n"),
                row.getDouble("tail_m"),
                row.getDouble("coil_m"),
                row.getDouble("crop_kg_per_m"),
                row.getDouble("wind_n_per_m"));
    }
}
