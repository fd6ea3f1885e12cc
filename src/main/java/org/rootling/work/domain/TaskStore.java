package org.rootling.work.domain;

import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.work.TaskStatus;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Tasks as rows. */
@Repository
class TaskStore {
    /** A task as stored; {@code done} may be changed in memory while its row is locked. */
    static final class Stored {
        final UUID id;
        final String step;
        final UUID rowId;
        final String blockCode;
        final int rowNumber;
        final @Nullable UUID lotId;
        final @Nullable String lotCode;
        final SortedSet<Integer> places;
        final SortedSet<Integer> done;
        final int quantity;
        final @Nullable LocalDate due;
        final @Nullable String note;
        final List<UUID> people;
        TaskStatus status;
        final int version;

        Stored(ResultSet r) throws SQLException {
            id = r.getObject("id", UUID.class);
            step = r.getString("step");
            rowId = r.getObject("row_id", UUID.class);
            blockCode = r.getString("block_code");
            rowNumber = r.getInt("row_number");
            lotId = r.getObject("lot_id", UUID.class);
            lotCode = r.getString("lot_code");
            places = PlaceRanges.read(r.getString("places"));
            done = new TreeSet<>(PlaceRanges.read(r.getString("done_places")));
            quantity = r.getInt("quantity");
            due = r.getObject("due", LocalDate.class);
            note = r.getString("note");
            Array array = r.getArray("people");
            people = List.of((UUID[]) array.getArray());
            status = TaskStatus.valueOf(r.getString("status"));
            version = r.getInt("version");
        }

        /** The status that follows from what is done, unless a person ended it. */
        void settleStatus() {
            if (status != TaskStatus.CLOSED && status != TaskStatus.DROPPED) {
                status = done.isEmpty()
                        ? TaskStatus.OPEN
                        : done.size() == quantity ? TaskStatus.DONE : TaskStatus.STARTED;
            }
        }
    }

    private static final String SELECT = """
            select t.id, t.step, t.row_id, t.lot_id, t.places::text as places, t.done_places::text as done_places,
              t.quantity, t.due, t.note, t.status, t.version,
              array(select p.account_id from task_person p
                     where p.vineyard_id = t.vineyard_id and p.task_id = t.id order by p.id) as people,
              b.code as block_code, r.number as row_number, l.code as lot_code
              from task t
              join vine_row r on r.vineyard_id = t.vineyard_id and r.id = t.row_id
              join block b on b.vineyard_id = r.vineyard_id and b.id = r.block_id
              left join lot l on l.vineyard_id = t.vineyard_id and l.id = t.lot_id\s""";

    private final JdbcClient jdbc;
    private final JdbcTemplate template;

    TaskStore(JdbcClient jdbc, JdbcTemplate template) {
        this.jdbc = jdbc;
        this.template = template;
    }

    List<Stored> open() {
        return jdbc.sql(SELECT + "where t.status in ('OPEN', 'STARTED')")
                .query((r, n) -> new Stored(r))
                .list();
    }

    List<Stored> openOf(UUID account) {
        return jdbc.sql(SELECT
                        + "where t.status in ('OPEN', 'STARTED') and exists (select 1 from task_person p"
                        + " where p.vineyard_id = t.vineyard_id and p.task_id = t.id and p.account_id = :account)")
                .param("account", account)
                .query((r, n) -> new Stored(r))
                .list();
    }

    List<Stored> inRow(UUID row) {
        return jdbc.sql(SELECT + "where t.row_id = :row")
                .param("row", row)
                .query((r, n) -> new Stored(r))
                .list();
    }

    List<Stored> byIds(Collection<UUID> ids) {
        return jdbc.sql(SELECT + "where t.id = any(:ids)")
                .param("ids", ids.toArray(UUID[]::new))
                .query((r, n) -> new Stored(r))
                .list();
    }

    /** Locks tasks until the transaction ends, always in the same order. */
    Map<UUID, Stored> lock(Collection<UUID> ids) {
        Map<UUID, Stored> locked = new HashMap<>();
        jdbc.sql(SELECT + "where t.id = any(:ids) order by t.id for no key update of t")
                .param("ids", ids.toArray(UUID[]::new))
                .query((r, n) -> new Stored(r))
                .list()
                .forEach(t -> locked.put(t.id, t));
        return locked;
    }

    Optional<Stored> lock(UUID id) {
        return Optional.ofNullable(lock(List.of(id)).get(id));
    }

    /** Locks a row of vines against a second task being made on it at the same moment. */
    void lockRow(UUID row) {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended(:row, 6))")
                .param("row", row.toString())
                .query((r, n) -> n)
                .list();
    }

    boolean overlaps(UUID row, String step, Collection<Integer> places) {
        return jdbc.sql("select exists (select 1 from task where row_id = :row and step = :step"
                        + " and status in ('OPEN', 'STARTED') and places && cast(:places as int4multirange))")
                .param("row", row)
                .param("step", step)
                .param("places", PlaceRanges.text(places))
                .query(Boolean.class)
                .single();
    }

    UUID insert(
            String step,
            UUID row,
            @Nullable UUID lot,
            SortedSet<Integer> places,
            @Nullable LocalDate due,
            @Nullable String note,
            List<UUID> people) {
        UUID id = Ids.next();
        jdbc.sql("""
                        insert into task (id, step, row_id, lot_id, places, quantity, due, note)
                        values (:id, :step, :row, :lot, cast(:places as int4multirange), :quantity, :due, :note)""")
                .param("id", id)
                .param("step", step)
                .param("row", row)
                .param("lot", lot)
                .param("places", PlaceRanges.text(places))
                .param("quantity", places.size())
                .param("due", due)
                .param("note", note)
                .update();
        give(id, people);
        return id;
    }

    void give(UUID task, List<UUID> people) {
        jdbc.sql("delete from task_person where task_id = :task and not account_id = any(:people)")
                .param("task", task)
                .param("people", people.toArray(UUID[]::new))
                .update();
        for (UUID account : people) {
            jdbc.sql("insert into task_person (id, task_id, account_id) values (:id, :task, :account)"
                            + " on conflict do nothing")
                    .param("id", Ids.next())
                    .param("task", task)
                    .param("account", account)
                    .update();
        }
    }

    int change(UUID id, @Nullable LocalDate due, @Nullable String note, int version) {
        return jdbc.sql("update task set due = :due, note = :note, version = version + 1"
                        + " where id = :id and version = :version")
                .param("id", id)
                .param("due", due)
                .param("note", note)
                .param("version", version)
                .update();
    }

    /** Writes what is done and the status that follows from it. */
    void saveDone(Collection<Stored> tasks, LocalDate today) {
        template.batchUpdate(
                "update task set done_places = ?::int4multirange, done = ?, status = ?,"
                        + " ended_on = case when ? then coalesce(ended_on, ?) end, version = version + 1 where id = ?",
                tasks,
                100,
                (statement, t) -> {
                    statement.setString(1, PlaceRanges.text(t.done));
                    statement.setInt(2, t.done.size());
                    statement.setString(3, t.status.name());
                    statement.setBoolean(4, !t.status.isOpen());
                    statement.setObject(5, today);
                    statement.setObject(6, t.id);
                });
    }
}
