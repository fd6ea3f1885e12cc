package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.Hold;
import org.rootling.nursery.HoldRanShort;
import org.rootling.nursery.Level;
import org.rootling.people.Vineyards;
import org.rootling.platform.DailyRuns;
import org.rootling.platform.NotFound;
import org.rootling.platform.Tenancy;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Warns of holds that run short: once a day, once a hold and allowance, until it is over. */
@Service
public class WarningDesk {

    /**
     * A warning as shown.
     *
     * @param escalatedOn when it became more pressing
     * @param takenBy account of the person who took it over
     * @param closedBy EMPTIED or EASED; null while it is open
     */
    public record Shown(
            UUID id,
            UUID holdId,
            String lotCode,
            String store,
            int count,
            String allowance,
            Level level,
            LocalDate raisedOn,
            @Nullable LocalDate escalatedOn,
            @Nullable LocalDate runsOutOn,
            @Nullable UUID takenBy,
            @Nullable LocalDate takenOn,
            @Nullable String takenNote,
            @Nullable LocalDate closedOn,
            @Nullable String closedBy,
            int version) {}

    private static final String JOB = "hold-warnings";

    private final HoldWarnings warnings;
    private final HoldClocks clocks;
    private final DailyRuns runs;
    private final Vineyards vineyards;
    private final ApplicationEventPublisher events;
    private final JdbcClient jdbc;

    WarningDesk(
            HoldWarnings warnings,
            HoldClocks clocks,
            DailyRuns runs,
            Vineyards vineyards,
            ApplicationEventPublisher events,
            JdbcClient jdbc) {
        this.warnings = warnings;
        this.clocks = clocks;
        this.runs = runs;
        this.vineyards = vineyards;
        this.events = events;
        this.jdbc = jdbc;
    }

    /** The day's look at all holds of the current vineyard; false if it was done before, here or on another node. */
    @Transactional
    public boolean look() {
        LocalDate today = vineyards.today();
        return runs.once(JOB, today, () -> compare(today));
    }

    private void compare(LocalDate today) {
        Map<String, HoldWarning> open = new HashMap<>();
        warnings.findAllByClosedOnIsNull().forEach(w -> open.put(w.holdId() + w.allowance(), w));
        List<Hold> holds = clocks.all(today);
        for (Hold hold : holds) {
            boolean morePressing = false;
            for (Allowance a : hold.allowances()) {
                String kind = a.kind().toUpperCase(Locale.ROOT);
                HoldWarning before = open.remove(hold.id() + kind);
                if (a.level() == Level.EASY) {
                    if (before != null) {
                        before.close(today, "EASED");
                    }
                } else if (before == null) {
                    warnings.save(new HoldWarning(hold.id(), kind, a.level(), today, a.runsOutOn()));
                    morePressing = true;
                } else {
                    morePressing |= before.follow(a.level(), a.runsOutOn(), today);
                }
            }
            if (morePressing) {
                events.publishEvent(new HoldRanShort(
                        Tenancy.require(),
                        hold.id(),
                        hold.lotId(),
                        hold.lotCode(),
                        hold.store(),
                        hold.level(),
                        hold.runsOutOn()));
            }
        }
        Set<UUID> standing = holds.stream().map(Hold::id).collect(Collectors.toSet());
        open.values().forEach(w -> w.close(today, standing.contains(w.holdId()) ? "EASED" : "EMPTIED"));
    }

    /** Open warnings, most pressing first. */
    @Transactional(readOnly = true)
    public List<Shown> open() {
        return shown("where w.closed_on is null order by w.level, w.runs_out_on nulls last, l.code");
    }

    /** All warnings there ever were: open ones first, most pressing before others, then those closed, newest first. */
    @Transactional(readOnly = true)
    public List<Shown> all() {
        return shown("""
                order by w.closed_on desc nulls first, case when w.closed_on is null then w.level end,
                         case when w.closed_on is null then w.runs_out_on end nulls last, w.raised_on desc, l.code
                """);
    }

    private List<Shown> shown(String whichAndOrder) {
        return jdbc.sql("""
                        select w.*, l.code, s.name, coalesce(b.count, 0) as standing
                          from hold_warning w
                          join hold h on h.vineyard_id = w.vineyard_id and h.id = w.hold_id
                          join lot l on l.vineyard_id = h.vineyard_id and l.id = h.lot_id
                          join store s on s.vineyard_id = h.vineyard_id and s.id = h.store_id
                          left join lot_balance b on b.vineyard_id = h.vineyard_id and b.lot_id = h.lot_id
                               and b.account = 'HOLD' and b.hold_id = h.id
                        """ + whichAndOrder)
                .query((rs, n) -> new Shown(
                        rs.getObject("id", UUID.class),
                        rs.getObject("hold_id", UUID.class),
                        rs.getString("code"),
                        rs.getString("name"),
                        rs.getInt("standing"),
                        rs.getString("allowance").toLowerCase(Locale.ROOT),
                        Level.valueOf(rs.getString("level")),
                        rs.getObject("raised_on", LocalDate.class),
                        rs.getObject("escalated_on", LocalDate.class),
                        rs.getObject("runs_out_on", LocalDate.class),
                        rs.getObject("taken_by", UUID.class),
                        rs.getObject("taken_on", LocalDate.class),
                        rs.getString("taken_note"),
                        rs.getObject("closed_on", LocalDate.class),
                        rs.getString("closed_by"),
                        rs.getInt("version")))
                .list();
    }

    /** A person takes a warning over, with a word on what they will do. */
    @Transactional
    public void takeOver(UUID id, int version, UUID account, @Nullable String note) {
        HoldWarning warning = warnings.findById(id).orElseThrow(() -> new NotFound("warning"));
        warning.requireVersion(version);
        warning.takeOver(account, vineyards.today(), note);
        warnings.flush();
    }

    /** Closes the warnings of a lot's holds that stand empty now. */
    @Transactional
    public void closeEmptied(UUID lot) {
        close("EMPTIED", """
                h.lot_id = :key and not exists (
                  select 1 from lot_balance b where b.vineyard_id = h.vineyard_id and b.lot_id = h.lot_id
                     and b.account = 'HOLD' and b.hold_id = h.id and b.count > 0)
                """, lot);
    }

    /** Closes the dryness warnings of a store that was watered today; the next look raises what is still too dry. */
    @Transactional
    public void closeWatered(UUID store) {
        close("EASED", "h.store_id = :key and w.allowance = 'DRYNESS'", store);
    }

    private void close(String by, String where, UUID key) {
        jdbc.sql("""
                        update hold_warning w set closed_on = :today, closed_by = :by, version = w.version + 1
                          from hold h
                         where h.vineyard_id = w.vineyard_id and h.id = w.hold_id and w.closed_on is null and\s""" + where)
                .param("today", vineyards.today())
                .param("by", by)
                .param("key", key)
                .update();
    }
}
