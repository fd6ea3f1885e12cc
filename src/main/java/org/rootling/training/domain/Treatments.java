package org.rootling.training.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Sprays and feeds as facts. Nothing here advises a product, an amount or a time. */
@Service
@Transactional
public class Treatments {

    /** What was done. */
    public enum Kind {
        SPRAY,
        FEED
    }

    /** Unit of the amount of product. */
    public enum Unit {
        L,
        ML,
        KG,
        G
    }

    /**
     * A treatment of a block.
     *
     * @param amount of product over the whole area, in {@code unit}
     * @param areaM2 treated area, m²
     * @param windMs wind, m/s
     * @param reentryHours hours until people may go in again, as the label says
     * @param waitingDays days until harvest, as the label says
     */
    public record Treatment(
            UUID id,
            Kind kind,
            LocalDate on,
            String product,
            @Nullable String reason,
            BigDecimal amount,
            Unit unit,
            @Nullable BigDecimal waterLitres,
            BigDecimal areaM2,
            @Nullable BigDecimal windMs,
            String operator,
            @Nullable Integer reentryHours,
            @Nullable Integer waitingDays,
            @Nullable String note) {

        /** First day without the label's waiting time. */
        public @Nullable LocalDate waitingUntil() {
            return waitingDays == null ? null : on.plusDays(waitingDays);
        }
    }

    private final JdbcClient jdbc;
    private final Ground ground;
    private final Vineyards vineyards;

    Treatments(JdbcClient jdbc, Ground ground, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.ground = ground;
        this.vineyards = vineyards;
    }

    /** Records a treatment; its {@code id} is ignored. */
    public void record(UUID blockId, Treatment t, UUID by) {
        requireBlock(blockId);
        if (t.on().isAfter(vineyards.today())) {
            throw new Refused("training.date.ahead").at("on");
        }
        jdbc.sql("""
                        insert into treatment (id, block_id, kind, done_on, product, reason, amount, unit, water_litres, area_m2,
                          wind_ms, operator, reentry_hours, waiting_days, note, recorded_by)
                        values (:id, :block, :kind, :on, :product, :reason, :amount, :unit, :water, :area, :wind, :operator,
                          :reentry, :waiting, :note, :by)""")
                .param("id", Ids.next())
                .param("block", blockId)
                .param("kind", t.kind().name())
                .param("on", t.on())
                .param("product", t.product())
                .param("reason", t.reason())
                .param("amount", t.amount())
                .param("unit", t.unit().name())
                .param("water", t.waterLitres())
                .param("area", t.areaM2())
                .param("wind", t.windMs())
                .param("operator", t.operator())
                .param("reentry", t.reentryHours())
                .param("waiting", t.waitingDays())
                .param("note", t.note())
                .param("by", by)
                .update();
    }

    /** Takes a record back; it stays as withdrawn. */
    public void withdraw(UUID id) {
        int changed = jdbc.sql("""
                        update treatment set withdrawn_at = now(), version = version + 1
                        where id = :id and withdrawn_at is null""").param("id", id).update();
        if (changed == 0) {
            throw new NotFound("treatment");
        }
    }

    /** Latest first. */
    @Transactional(readOnly = true)
    public List<Treatment> of(UUID blockId) {
        return jdbc.sql("""
                        select id, kind, done_on, product, reason, amount, unit, water_litres, area_m2, wind_ms, operator,
                          reentry_hours, waiting_days, note
                        from treatment where block_id = :block and withdrawn_at is null
                        order by done_on desc, recorded_at desc""")
                .param("block", blockId)
                .query((rs, n) -> new Treatment(
                        rs.getObject("id", UUID.class),
                        Kind.valueOf(rs.getString("kind")),
                        rs.getObject("done_on", LocalDate.class),
                        rs.getString("product"),
                        rs.getString("reason"),
                        rs.getBigDecimal("amount"),
                        Unit.valueOf(rs.getString("unit")),
                        rs.getBigDecimal("water_litres"),
                        rs.getBigDecimal("area_m2"),
                        rs.getBigDecimal("wind_ms"),
                        rs.getString("operator"),
                        rs.getObject("reentry_hours", Integer.class),
                        rs.getObject("waiting_days", Integer.class),
                        rs.getString("note")))
                .list();
    }

    private void requireBlock(UUID blockId) {
        if (ground.block(blockId).isEmpty()) {
            throw new NotFound("block");
        }
    }
}
