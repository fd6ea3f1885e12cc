package org.rootling.work.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Logs as rows. */
@Repository
class LogStore {
    /** A log to be written, or as it stands. */
    record Stored(
            UUID id,
            UUID taskId,
            SortedSet<Integer> places,
            List<Found> found,
            @Nullable Integer minutes,
            LocalDate on,
            Instant at,
            UUID by,
            @Nullable String note,
            @Nullable UUID person,
            @Nullable Instant undoneAt,
            @Nullable UUID undoneBy) {}

    /** An entry already known: as a log, or as a conflict that is open or settled. */
    record Known(
            UUID taskId,
            boolean openConflict,
            @Nullable UUID against,
            @Nullable String reason,
            List<String> args) {}

    private static final String SELECT = """
            select l.id, l.task_id, l.places::text as places, l.minutes, l.on_day, l.at, l.by_account, l.note, l.person_id,
              u.at as undone_at, u.by_account as undone_by
              from task_log l
              left join task_log_undo u on u.vineyard_id = l.vineyard_id and u.log_id = l.id\s""";

    private final JdbcClient jdbc;
    private final JdbcTemplate template;

    LogStore(JdbcClient jdbc, JdbcTemplate template) {
        this.jdbc = jdbc;
        this.template = template;
    }

    Map<UUID, Known> known(Collection<UUID> ids) {
        Map<UUID, Known> known = new HashMap<>();
        UUID[] array = ids.toArray(UUID[]::new);
        jdbc.sql("select id, task_id, against, settled_at is null as open, reason_key, reason_args"
                        + " from log_conflict where id = any(:ids)")
                .param("ids", array)
                .query((r, n) -> known.put(
                        r.getObject("id", UUID.class),
                        new Known(
                                r.getObject("task_id", UUID.class),
                                r.getBoolean("open"),
                                r.getObject("against", UUID.class),
                                r.getString("reason_key"),
                                List.of((String[]) r.getArray("reason_args").getArray()))))
                .list();
        jdbc.sql("select id, task_id from task_log where id = any(:ids)")
                .param("ids", array)
                .query((r, n) -> known.put(
                        r.getObject("id", UUID.class),
                        new Known(r.getObject("task_id", UUID.class), false, null, null, List.of())))
                .list();
        return known;
    }

    /** Of the helpers named in some entries, those who are there and have no account but perhaps a day link. */
    Set<UUID> helpers(List<FieldLog.Entry> entries) {
        UUID[] named = entries.stream()
                .map(FieldLog.Entry::person)
                .filter(Objects::nonNull)
                .distinct()
                .toArray(UUID[]::new);
        return named.length == 0
                ? Set.of()
                : jdbc.sql(
                                "select id from work_person p where id = any(:ids) and withdrawn_at is null and (account_id is null"
                                        + " or exists (select 1 from membership m where m.vineyard_id = p.vineyard_id"
                                        + " and m.account_id = p.account_id and m.guest_until is not null))")
                        .param("ids", named)
                        .query(UUID.class)
                        .set();
    }

    void insert(List<Stored> logs, Instant takenAt) {
        template.batchUpdate(
                "insert into task_log (id, task_id, places, place_count, minutes, on_day, at, by_account, note, taken_at,"
                        + " person_id)"
                        + " values (?, ?, ?::int4multirange, ?, ?, ?, ?, ?, ?, ?, ?)",
                logs,
                200,
                (s, l) -> {
                    s.setObject(1, l.id());
                    s.setObject(2, l.taskId());
                    s.setString(3, PlaceRanges.text(l.places()));
                    s.setInt(4, l.places().size());
                    s.setObject(5, l.minutes());
                    s.setObject(6, l.on());
                    s.setTimestamp(7, Timestamp.from(l.at()));
                    s.setObject(8, l.by());
                    s.setString(9, l.note());
                    s.setTimestamp(10, Timestamp.from(takenAt));
                    s.setObject(11, l.person());
                });
        List<Object[]> found = new ArrayList<>();
        for (Stored l : logs) {
            l.found().forEach(f -> found.add(new Object[] {Ids.next(), l.id(), f.place(), f.what()}));
        }
        if (!found.isEmpty()) {
            template.batchUpdate("insert into task_log_found (id, log_id, place, what) values (?, ?, ?, ?)", found);
        }
    }

    void undo(UUID log, Instant at, UUID by, @Nullable String reason) {
        jdbc.sql("insert into task_log_undo (id, log_id, at, by_account, reason) values (:id, :log, :at, :by, :reason)")
                .param("id", Ids.next())
                .param("log", log)
                .param("at", Timestamp.from(at))
                .param("by", by)
                .param("reason", reason)
                .update();
    }

    Optional<Stored> byId(UUID id) {
        return withFound(jdbc.sql(SELECT + "where l.id = :id")
                        .param("id", id)
                        .query(LogStore::row)
                        .list())
                .stream()
                .findFirst();
    }

    List<Stored> ofTask(UUID task) {
        return withFound(jdbc.sql(SELECT + "where l.task_id = :task order by l.at, l.id")
                .param("task", task)
                .query(LogStore::row)
                .list());
    }

    List<Stored> ofPerson(UUID account, LocalDate on) {
        return withFound(jdbc.sql(SELECT + "where l.by_account = :account and l.on_day = :day order by l.at desc, l.id")
                .param("account", account)
                .param("day", on)
                .query(LogStore::row)
                .list());
    }

    /** The standing logs of a task that share places with a set. */
    Optional<UUID> against(UUID task, Collection<Integer> places) {
        return jdbc.sql("""
                        select l.id from task_log l
                         where l.task_id = :task and l.places && cast(:places as int4multirange)
                           and not exists (select 1 from task_log_undo u
                                            where u.vineyard_id = l.vineyard_id and u.log_id = l.id)
                         order by l.at, l.id limit 1""")
                .param("task", task)
                .param("places", PlaceRanges.text(places))
                .query(UUID.class)
                .optional();
    }

    private List<Stored> withFound(List<Stored> logs) {
        if (logs.isEmpty()) {
            return logs;
        }
        Map<UUID, List<Found>> found = new HashMap<>();
        jdbc.sql("select log_id, place, what from task_log_found where log_id = any(:ids) order by place, what")
                .param("ids", logs.stream().map(Stored::id).toArray(UUID[]::new))
                .query((r, n) -> found.computeIfAbsent(r.getObject("log_id", UUID.class), k -> new ArrayList<>())
                        .add(new Found(r.getInt("place"), r.getString("what"))))
                .list();
        return logs.stream()
                .map(l -> new Stored(
                        l.id(),
                        l.taskId(),
                        l.places(),
                        found.getOrDefault(l.id(), List.of()),
                        l.minutes(),
                        l.on(),
                        l.at(),
                        l.by(),
                        l.note(),
                        l.person(),
                        l.undoneAt(),
                        l.undoneBy()))
                .toList();
    }

    private static Stored row(ResultSet r, int n) throws SQLException {
        Timestamp undone = r.getTimestamp("undone_at");
        return new Stored(
                r.getObject("id", UUID.class),
                r.getObject("task_id", UUID.class),
                PlaceRanges.read(r.getString("places")),
                List.of(),
                r.getObject("minutes", Integer.class),
                r.getObject("on_day", LocalDate.class),
                r.getTimestamp("at").toInstant(),
                r.getObject("by_account", UUID.class),
                r.getString("note"),
                r.getObject("person_id", UUID.class),
                undone == null ? null : undone.toInstant(),
                r.getObject("undone_by", UUID.class));
    }
}
