package org.rootling.nursery.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.postgresql.util.PSQLException;
import org.postgresql.util.ServerErrorMessage;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * The stock ledger. Only ever added to; the database keeps the balances, refuses to go below zero and lets one booking
 * of a lot wait for the other. Callers bring the transaction.
 */
@Component
class Ledger {

    private static final UUID NO_HOLD = new UUID(0, 0);
    private static final String TOO_MANY_NOW = "RL001";
    private static final String TOO_MANY_THEN = "RL002";

    private final JdbcClient jdbc;

    Ledger(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Holds the lot for this transaction, so that what is read of it afterwards stays true until the end. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void lock(UUID lot) {
        boolean there = jdbc.sql("select 1 from lot where id = :lot for update")
                .param("lot", lot)
                .query(Integer.class)
                .optional()
                .isPresent();
        if (!there) {
            throw new NotFound("lot");
        }
    }

    /** Books vines from one account of a lot to another; returns the movement's id. */
    @Transactional(propagation = Propagation.MANDATORY)
    public UUID book(
            UUID lot,
            MovementKind kind,
            int count,
            LocalDate on,
            Spot from,
            Spot to,
            @Nullable String reason,
            @Nullable UUID reference) {
        return insert(lot, kind, count, on, from, to, reason, reference, null);
    }

    /** Takes a movement back by one in the other direction. */
    @Transactional(propagation = Propagation.MANDATORY)
    public UUID answer(Movement wrong, LocalDate on) {
        LocalDate day = on.isBefore(wrong.on()) ? wrong.on() : on;
        return insert(
                wrong.lotId(),
                MovementKind.UNDONE,
                wrong.count(),
                day,
                wrong.to(),
                wrong.from(),
                null,
                wrong.reference(),
                wrong.id());
    }

    private UUID insert(
            UUID lot,
            MovementKind kind,
            int count,
            LocalDate on,
            Spot from,
            Spot to,
            @Nullable String reason,
            @Nullable UUID reference,
            @Nullable UUID answers) {
        UUID id = Ids.next();
        // A refusal must not spoil the transaction around it: the page is shown again with what was typed.
        jdbc.sql("savepoint before_movement").update();
        try {
            jdbc.sql("""
                            insert into movement (id, lot_id, kind, count, on_day, from_account, from_hold,
                                                  to_account, to_hold, reason, reference, answers)
                            values (:id, :lot, :kind, :count, :on, :from, cast(:fromHold as uuid),
                                    :to, cast(:toHold as uuid), :reason, cast(:reference as uuid), cast(:answers as uuid))
                            """)
                    .param("id", id)
                    .param("lot", lot)
                    .param("kind", kind.name())
                    .param("count", count)
                    .param("on", on)
                    .param("from", from.account().name())
                    .param("fromHold", from.hold())
                    .param("to", to.account().name())
                    .param("toHold", to.hold())
                    .param("reason", reason)
                    .param("reference", reference)
                    .param("answers", answers)
                    .update();
        } catch (DataAccessException failure) {
            jdbc.sql("rollback to savepoint before_movement").update();
            throw refusal(failure, count);
        }
        jdbc.sql("release savepoint before_movement").update();
        return id;
    }

    private static RuntimeException refusal(DataAccessException failure, int asked) {
        if (failure.getMostSpecificCause() instanceof PSQLException cause) {
            ServerErrorMessage message = cause.getServerErrorMessage();
            String detail = message == null ? null : message.getDetail();
            String state = cause.getSQLState();
            if (detail != null && TOO_MANY_NOW.equals(state)) {
                return new Refused("nursery.ledger.too-many", asked, there(detail)).at("count");
            }
            if (detail != null && TOO_MANY_THEN.equals(state)) {
                return new Refused("nursery.ledger.too-many-then", asked, there(detail)).at("count");
            }
            if ("movement_answers".equals(message == null ? null : message.getConstraint())) {
                return new Refused("nursery.ledger.already-undone");
            }
        }
        return failure;
    }

    private static int there(String detail) {
        return Math.max(0, Integer.parseInt(detail.substring(detail.indexOf(' ') + 1)));
    }

    /** How many stand where now, by lot. */
    @Transactional(readOnly = true)
    public Map<UUID, Map<Spot, Integer>> balances(Collection<UUID> lots) {
        if (lots.isEmpty()) {
            return Map.of();
        }
        Map<UUID, Map<Spot, Integer>> all = new HashMap<>();
        jdbc.sql("select lot_id, account, hold_id, count from lot_balance where lot_id in (:lots)")
                .param("lots", lots)
                .query((rs, n) -> all.computeIfAbsent(rs.getObject("lot_id", UUID.class), lot -> new HashMap<>())
                        .put(spot(rs, "account", "hold_id"), rs.getInt("count")))
                .list();
        return all;
    }

    /** How many of a lot stand where now. */
    @Transactional(readOnly = true)
    public Map<Spot, Integer> balance(UUID lot) {
        return balances(List.of(lot)).getOrDefault(lot, Map.of());
    }

    /** How many of a lot stood where at the end of a day, from what each day brought and took. */
    @Transactional(readOnly = true)
    public Map<Spot, Integer> balance(UUID lot, LocalDate endOf) {
        Map<Spot, Integer> sums = new HashMap<>();
        jdbc.sql("""
                        select account, hold_id, sum(change)::int as count
                          from lot_day
                         where lot_id = :lot and on_day <= :day
                         group by account, hold_id
                        """)
                .param("lot", lot)
                .param("day", endOf)
                .query((rs, n) -> sums.put(spot(rs, "account", "hold_id"), rs.getInt("count")))
                .list();
        return sums;
    }

    /** All movements of a lot, newest first. */
    @Transactional(readOnly = true)
    public List<Movement> movements(UUID lot) {
        return select("m.lot_id = :key order by m.seq desc", lot);
    }

    /** The movements of a reference in the order they were booked. */
    @Transactional(readOnly = true)
    public List<Movement> byReference(UUID reference) {
        return select("m.reference = :key order by m.seq", reference);
    }

    /** One movement. */
    @Transactional(readOnly = true)
    public Movement movement(UUID id) {
        return select("m.id = :key", id).stream().findFirst().orElseThrow(() -> new NotFound("movement"));
    }

    private List<Movement> select(String where, UUID key) {
        return jdbc.sql("""
                        select m.*, fs.name as from_store, ts.name as to_store,
                               exists (select 1 from movement a where a.answers = m.id
                                         and a.vineyard_id = m.vineyard_id) as answered
                          from movement m
                          left join hold fh on fh.vineyard_id = m.vineyard_id and fh.id = m.from_hold
                          left join store fs on fs.vineyard_id = m.vineyard_id and fs.id = fh.store_id
                          left join hold th on th.vineyard_id = m.vineyard_id and th.id = m.to_hold
                          left join store ts on ts.vineyard_id = m.vineyard_id and ts.id = th.store_id
                         where\s""" + where).param("key", key).query(Ledger::movement).list();
    }

    private static Movement movement(ResultSet rs, int n) throws SQLException {
        return new Movement(
                rs.getObject("id", UUID.class),
                rs.getObject("lot_id", UUID.class),
                MovementKind.valueOf(rs.getString("kind")),
                rs.getInt("count"),
                rs.getObject("on_day", LocalDate.class),
                spot(rs, "from_account", "from_hold"),
                rs.getString("from_store"),
                spot(rs, "to_account", "to_hold"),
                rs.getString("to_store"),
                rs.getString("reason"),
                rs.getObject("reference", UUID.class),
                rs.getObject("answers", UUID.class),
                rs.getBoolean("answered"),
                rs.getObject("by_account", UUID.class),
                rs.getObject("at", OffsetDateTime.class).toInstant());
    }

    private static Spot spot(ResultSet rs, String account, String hold) throws SQLException {
        UUID holdId = rs.getObject(hold, UUID.class);
        return new Spot(Account.valueOf(rs.getString(account)), NO_HOLD.equals(holdId) ? null : holdId);
    }

    /** How many balances of this vineyard are not the sum of their movements: 0 as long as the books are right. */
    @Transactional(readOnly = true)
    public int differences() {
        return jdbc.sql("select count(*) from rootling_ledger_differences()")
                .query(Integer.class)
                .single();
    }

    /** The one store that the vines of a planting came from, first lifted first planted; empty if none or several. */
    @Transactional(propagation = Propagation.MANDATORY)
    public Optional<UUID> storeBefore(UUID reference) {
        List<UUID> stores =
                jdbc.sql("""
                        with standing as (
                          select m.* from movement m
                           where m.lot_id in (select lot_id from movement where reference = :reference)
                             and m.kind <> 'UNDONE'
                             and not exists (select 1 from movement a
                                              where a.vineyard_id = m.vineyard_id and a.answers = m.id)),
                        taken as (select * from standing where reference = :reference and kind = 'PLANTED'),
                        lifted as (
                          select l.lot_id, h.store_id, sum(l.count) over w - l.count as above, sum(l.count) over w as upto
                            from standing l
                            left join hold h on h.vineyard_id = l.vineyard_id and h.id = l.from_hold
                           where l.to_account = 'LIFTED' window w as (partition by l.lot_id order by l.seq)),
                        used as (
                          select t.lot_id, t.count, coalesce(sum(o.count), 0) as above
                            from taken t
                            left join standing o on o.lot_id = t.lot_id and o.from_account = 'LIFTED' and o.seq < t.seq
                           where t.from_account = 'LIFTED' group by t.lot_id, t.seq, t.count)
                        select distinct coalesce(s.store_id, '00000000-0000-0000-0000-000000000000') from (
                          select h.store_id from taken t
                            left join hold h on h.vineyard_id = t.vineyard_id and h.id = t.from_hold
                           where t.from_account <> 'LIFTED'
                          union all
                          select l.store_id from used u
                            join lifted l on l.lot_id = u.lot_id and l.above < u.above + u.count and l.upto > u.above
                        ) s
                        """).param("reference", reference).query(UUID.class).list();
        return stores.size() == 1 && !stores.get(0).equals(NO_HOLD) ? Optional.of(stores.get(0)) : Optional.empty();
    }
}
