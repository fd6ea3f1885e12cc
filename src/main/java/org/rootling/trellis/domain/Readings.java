package org.rootling.trellis.domain;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Measure;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.trellis.calc.Deflection;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.TrellisSpec;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Tension of wires as measured, and when to measure again. */
@Service
@Transactional(readOnly = true)
public class Readings {
    /** A wire that has lost more than this share of its wanted tension is slack (rule of thumb). */
    public static final double SLACK_SHARE = 0.25;

    /**
     * One reading.
     *
     * @param tensionN tension at rest, newtons
     * @param wantedN tension the plan wanted then, newtons
     * @param temperatureC of the air, null if not noted
     */
    public record Reading(
            UUID id,
            UUID rowId,
            String wire,
            double heightM,
            LocalDate on,
            double tensionN,
            double wantedN,
            @Nullable Double temperatureC,
            @Nullable LocalDate dueOn,
            UUID by) {
        /** Tension over wanted tension. */
        public double share() {
            return tensionN / wantedN;
        }

        public boolean slack() {
            return share() < 1 - SLACK_SHARE;
        }
    }

    /** A spring scale drawn to the side in mid-span. */
    public record Pulled(double scaleN, double deflectionM, double spanM) {}

    private static final String STANDING = """
            select distinct on (row_id, wire_name, height_m)
              id, row_id, wire_name, height_m, measured_on, tension_n, wanted_n, temperature_c, due_on, measured_by
            from trellis_reading where withdrawn_at is null""";

    private final JdbcClient jdbc;
    private final TrellisPlans plans;
    private final Ground ground;
    private final Vineyards vineyards;

    Readings(JdbcClient jdbc, TrellisPlans plans, Ground ground, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.plans = plans;
        this.ground = ground;
        this.vineyards = vineyards;
    }

    /** The latest reading of each wire of these rows. */
    public List<Reading> latest(Collection<UUID> rows) {
        if (rows.isEmpty()) {
            return List.of();
        }
        return jdbc.sql(STANDING
                        + " and row_id in (:rows) order by row_id, wire_name, height_m, measured_on desc, id desc")
                .param("rows", rows)
                .query((row, n) -> reading(row))
                .list();
    }

    /** Latest readings of the vineyard whose day to measure again has come. */
    public List<Reading> due() {
        return jdbc.sql("select * from (" + STANDING
                        + " order by row_id, wire_name, height_m, measured_on desc, id desc) latest"
                        + " where due_on <= :today order by due_on, row_id, height_m")
                .param("today", vineyards.today())
                .query((row, n) -> reading(row))
                .list();
    }

    /**
     * Records a reading by spring scale.
     *
     * @return tension at rest, newtons
     */
    @Transactional
    public double record(
            UUID rowId,
            int wireIndex,
            LocalDate on,
            Pulled pulled,
            @Nullable Double temperatureC,
            @Nullable LocalDate due) {
        TrellisSpec.WireLine wire = wire(rowId, wireIndex);
        double tension = tension(rowId, wire, pulled);
        if (tension <= 0) {
            throw new Refused("trellis.tension.below-nothing").at("scaleKg");
        }
        insert(rowId, wire, on, tension, pulled, temperatureC, due);
        return tension;
    }

    /** Records a tension read from a gauge. */
    @Transactional
    public void recordGauge(
            UUID rowId,
            int wireIndex,
            LocalDate on,
            double tensionN,
            @Nullable Double temperatureC,
            @Nullable LocalDate due) {
        insert(rowId, wire(rowId, wireIndex), on, tensionN, null, temperatureC, due);
    }

    /** Tension at rest of a wire that slides along its whole stretch while it is drawn aside. */
    private double tension(UUID rowId, TrellisSpec.WireLine wire, Pulled pulled) {
        double free = TrellisPlans.lines(ground.row(rowId).orElseThrow(() -> new NotFound("row"))).stream()
                .mapToDouble(RowLine::lengthM)
                .max()
                .orElse(pulled.spanM());
        return Deflection.restTensionN(
                pulled.scaleN(), pulled.spanM(), pulled.deflectionM(), wire.wire(), Math.max(free, pulled.spanM()));
    }

    private TrellisSpec.WireLine wire(UUID rowId, int index) {
        Row row = ground.row(rowId).orElseThrow(() -> new NotFound("row"));
        List<TrellisSpec.WireLine> wires = plans.require(row.blockId()).spec().wires();
        if (index < 0 || index >= wires.size()) {
            throw new Refused("trellis.tension.no-wire").at("wire");
        }
        return wires.get(index);
    }

    private void insert(
            UUID rowId,
            TrellisSpec.WireLine wire,
            LocalDate on,
            double tensionN,
            @Nullable Pulled pulled,
            @Nullable Double temperatureC,
            @Nullable LocalDate due) {
        if (on.isAfter(vineyards.today())) {
            throw new Refused("trellis.tension.future").at("on");
        }
        if (due != null && !due.isAfter(on)) {
            throw new Refused("trellis.tension.due-before").at("due");
        }
        if (tensionN >= wire.wire().breakingN()) {
            throw new Refused(
                            "trellis.fault.tension",
                            Measure.NEWTON.amount(wire.wire().breakingN(), 0))
                    .at(pulled == null ? "tensionN" : "scaleKg");
        }
        jdbc.sql("""
                        insert into trellis_reading (id, row_id, wire_name, height_m, measured_on, scale_n, deflection_m,
                          span_m, tension_n, wanted_n, temperature_c, due_on)
                        values (:id, :row, :wire, :height, :on, :scale, :deflection, :span, :tension, :wanted,
                          :temperature, :due)""")
                .param("id", Ids.next())
                .param("row", rowId)
                .param("wire", wire.name())
                .param("height", wire.heightM())
                .param("on", on)
                .param("scale", pulled == null ? null : pulled.scaleN())
                .param("deflection", pulled == null ? null : pulled.deflectionM())
                .param("span", pulled == null ? null : pulled.spanM())
                .param("tension", tensionN)
                .param("wanted", wire.tensionN())
                .param("temperature", temperatureC)
                .param("due", due)
                .update();
    }

    /** Takes a reading back; it stays in the records as withdrawn. */
    @Transactional
    public void withdraw(UUID readingId) {
        int changed = jdbc.sql(
                        "update trellis_reading set withdrawn_at = now() where id = :id and withdrawn_at is null")
                .param("id", readingId)
                .update();
        if (changed == 0) {
            throw new NotFound("reading");
        }
    }

    private static Reading reading(java.sql.ResultSet row) throws java.sql.SQLException {
        return new Reading(
                row.getObject("id", UUID.class),
                row.getObject("row_id", UUID.class),
                row.getString("wire_name"),
                row.getDouble("height_m"),
                row.getObject("measured_on", LocalDate.class),
                row.getDouble("tension_n"),
                row.getDouble("wanted_n"),
                row.getObject("temperature_c", Double.class),
                row.getObject("due_on", LocalDate.class),
                row.getObject("measured_by", UUID.class));
    }
}
