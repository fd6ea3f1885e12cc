package org.rootling.work.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.work.Found;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Entries that contradict, kept until settled. */
@Repository
class ConflictStore {
    /** A conflict as stored. */
    record Stored(
            UUID id,
            UUID taskId,
            SortedSet<Integer> places,
            List<Found> found,
            @Nullable Integer minutes,
            @Nullable String note,
            @Nullable UUID person,
            Instant at,
            UUID by,
            Instant takenAt,
            String kind,
            @Nullable UUID against,
            String reason,
            List<String> args,
            boolean settled,
            int version) {}

    private static final String SELECT = """
            select id, task_id, places::text as places, minutes, note, person_id, at, by_account, taken_at, kind, against,
              reason_key, reason_args, settled_at is not null as settled, version,
              (select string_agg((f ->> 'place') || ' ' || (f ->> 'what'), ';' order by (f ->> 'place')::int)
                 from jsonb_array_elements(found) f) as found
              from log_conflict\s""";

    private final JdbcClient jdbc;

    ConflictStore(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Keeps a conflict; the same entry once only. */
    void keep(Verdict.Against a, Instant takenAt) {
        LogStore.Stored log = a.log();
        jdbc.sql("""
                        insert into log_conflict (id, task_id, places, found, minutes, note, person_id, at, by_account, taken_at, kind,
                          against, reason_key, reason_args)
                        select :id, :task, cast(:places as int4multirange),
                          coalesce((select jsonb_agg(jsonb_build_object('place', p, 'what', w))
                             from unnest(cast(:foundPlaces as int[]), cast(:foundWhat as text[])) as f(p, w)), '[]'),
                          :minutes, :note, :person, :at, :by, :taken, :kind, :against, :reason, :args
                        on conflict do nothing""")
                .param("id", log.id())
                .param("task", log.taskId())
                .param("places", PlaceRanges.text(log.places()))
                .param("foundPlaces", log.found().stream().map(Found::place).toArray(Integer[]::new))
                .param("foundWhat", log.found().stream().map(Found::what).toArray(String[]::new))
                .param("minutes", log.minutes())
                .param("note", log.note())
                .param("person", log.person())
                .param("at", Timestamp.from(log.at()))
                .param("by", log.by())
                .param("taken", Timestamp.from(takenAt))
                .param("kind", a.kind().name())
                .param("against", a.against())
                .param("reason", a.reason())
                .param("args", a.args().toArray(String[]::new))
                .update();
    }

    List<Stored> open() {
        return jdbc.sql(SELECT + "where settled_at is null order by taken_at, id limit 200")
                .query(ConflictStore::row)
                .list();
    }

    int countOpen() {
        return jdbc.sql("select count(*) from log_conflict where settled_at is null")
                .query(Integer.class)
                .single();
    }

    Optional<Stored> lock(UUID id) {
        return jdbc.sql(SELECT + "where id = :id for update")
                .param("id", id)
                .query(ConflictStore::row)
                .optional();
    }

    void settle(UUID id, Instant at, UUID by, String how) {
        jdbc.sql("update log_conflict set settled_at = :at, settled_by = :by, settled_how = :how, version = version + 1"
                        + " where id = :id")
                .param("id", id)
                .param("at", Timestamp.from(at))
                .param("by", by)
                .param("how", how)
                .update();
    }

    private static Stored row(ResultSet r, int n) throws SQLException {
        List<Found> found = new ArrayList<>();
        String text = r.getString("found");
        if (text != null) {
            for (String f : text.split(";")) {
                String[] parts = f.split(" ", 2);
                found.add(new Found(Integer.parseInt(parts[0]), parts[1]));
            }
        }
        return new Stored(
                r.getObject("id", UUID.class),
                r.getObject("task_id", UUID.class),
                PlaceRanges.read(r.getString("places")),
                found,
                r.getObject("minutes", Integer.class),
                r.getString("note"),
                r.getObject("person_id", UUID.class),
                r.getTimestamp("at").toInstant(),
                r.getObject("by_account", UUID.class),
                r.getTimestamp("taken_at").toInstant(),
                r.getString("kind"),
                r.getObject("against", UUID.class),
                r.getString("reason_key"),
                List.of((String[]) r.getArray("reason_args").getArray()),
                r.getBoolean("settled"),
                r.getInt("version"));
    }
}
