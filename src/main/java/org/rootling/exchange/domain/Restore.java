package org.rootling.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import org.flywaydb.core.api.MigrationVersion;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.AfterCommit;
import org.rootling.platform.DaemonThreads;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Pieces;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.json.JsonMapper;

/** Puts an archive back into an empty vineyard: taken in, looked at, shown, then entered in the background. */
@Service
public class Restore implements DisposableBean {

    private static final Logger LOG = LoggerFactory.getLogger(Restore.class);
    private static final DateTimeFormatter MADE_AT = DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm");

    /** A node that says nothing for so long was stopped. */
    private static final Duration SILENCE = Duration.ofMinutes(2);

    private static final Duration KEPT = Duration.ofDays(7);

    /** One kind of record in the archive. */
    public record Counted(String table, long rows) {}

    /** A person of the archive, and who that is here. */
    public record Someone(
            String name, String email, @Nullable String member) {}

    /** What an archive holds. */
    public record Found(
            String vineyard, String madeAt, String zone, long rows, List<Counted> tables, List<Someone> people) {}

    /** How it stands. */
    public record Run(
            UUID id,
            String fileName,
            String state,
            long rowsAll,
            long rowsDone,
            @Nullable Found found,
            @Nullable String reasonKey,
            List<String> reasonArgs,
            boolean silent) {

        public boolean working() {
            return !silent && (state.equals("CHECKING") || state.equals("RUNNING"));
        }

        /** Whether it can be entered now. */
        public boolean ready() {
            return found != null
                    && (state.equals("READY")
                            || state.equals("FAILED")
                            || state.equals("CANCELLED")
                            || (state.equals("RUNNING") && silent));
        }

        public int percent() {
            return rowsAll == 0 ? 0 : (int) Math.min(100, rowsDone * 100 / rowsAll);
        }
    }

    private final JdbcClient jdbc;
    private final RestoreWork work;
    private final Archive archive;
    private final JsonMapper json;
    private final Clock clock;
    private final Pieces files;
    private final TransactionTemplate apart;
    private final ExecutorService background = Executors.newFixedThreadPool(1, DaemonThreads.named("restore"));

    Restore(
            JdbcClient jdbc,
            RestoreWork work,
            Archive archive,
            JsonMapper json,
            PlatformTransactionManager transactions,
            Clock realClock) {
        this.jdbc = jdbc;
        this.files = new Pieces(jdbc, "archive_part", "restore_id");
        this.apart = new TransactionTemplate(transactions);
        this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
        this.work = work;
        this.archive = archive;
        this.json = json;
        this.clock = realClock;
    }

    /** Whether an archive could be put into the current vineyard: nothing was recorded in it yet. */
    public boolean isEmpty() {
        return work.firstFilled() == null;
    }

    /** Takes in an upload and begins to look at it. An earlier one that was not entered is forgotten. */
    @Transactional(rollbackFor = IOException.class)
    public UUID take(String fileName, InputStream content, UUID by) throws IOException {
        if (!isEmpty()) {
            throw new Refused("exchange.restore.not-empty").at("file");
        }
        jdbc.sql("delete from archive_restore where vineyard_id = rootling_vineyard() and state <> 'DONE'")
                .update();
        UUID id = Ids.next();
        String name = fileName.isBlank() ? "archive.zip" : fileName.replaceAll("[\\p{Cntrl}]", "");
        jdbc.sql("""
                        insert into archive_restore (id, file_name, bytes, state, by_account, at, seen_at)
                        values (:id, :name, 0, 'CHECKING', :by, :now, :now)""")
                .param("id", id)
                .param("name", name.length() > 200 ? name.substring(0, 200) : name)
                .param("by", by)
                .param("now", now())
                .update();
        long bytes = files.keep(id, content);
        if (bytes == 0) {
            throw new Refused("exchange.restore.no-archive").at("file");
        }
        jdbc.sql("update archive_restore set bytes = :bytes where vineyard_id = rootling_vineyard() and id = :id")
                .param("bytes", bytes)
                .param("id", id)
                .update();
        AfterCommit.run(() -> later(id, () -> check(id)));
        return id;
    }

    /** Begins to enter a looked-at archive. */
    @Transactional
    public void start(UUID id) {
        Run run = run(id).orElseThrow(() -> new NotFound("archive"));
        if (!run.ready()) {
            throw new Refused("exchange.restore.not-ready");
        }
        if (!isEmpty()) {
            throw new Refused("exchange.restore.not-empty");
        }
        state(id, "RUNNING", null);
        AfterCommit.run(() -> later(id, () -> enter(id)));
    }

    /** Forgets uploads that nobody looked at for a week and that were not entered. */
    void forgetOld() {
        jdbc.sql("""
                        delete from archive_restore
                         where vineyard_id = rootling_vineyard() and state <> 'DONE' and seen_at < :old""").param("old", Timestamp.from(clock.instant().minus(KEPT))).update();
    }

    /** Stops the work; nothing of it stays. */
    public void cancel(UUID id) {
        jdbc.sql("""
                        update archive_restore set state = 'CANCELLED'
                         where vineyard_id = rootling_vineyard() and id = :id and state in ('RUNNING', 'CHECKING')""").param("id", id).update();
    }

    /** The last upload of the current vineyard. */
    public Optional<Run> last() {
        return jdbc.sql(
                        "select id from archive_restore where vineyard_id = rootling_vineyard() order by at desc limit 1")
                .query(UUID.class)
                .optional()
                .flatMap(this::run);
    }

    /** How one upload stands. */
    public Optional<Run> run(UUID id) {
        Instant silentSince = clock.instant().minus(SILENCE);
        return jdbc.sql("select * from archive_restore where vineyard_id = rootling_vineyard() and id = :id")
                .param("id", id)
                .query((row, i) -> {
                    String found = row.getString("found");
                    return new Run(
                            row.getObject("id", UUID.class),
                            row.getString("file_name"),
                            row.getString("state"),
                            row.getLong("rows_all"),
                            row.getLong("rows_done"),
                            found == null ? null : json.readValue(found, Found.class),
                            row.getString("reason_key"),
                            List.of((String[]) row.getArray("reason_args").getArray()),
                            row.getTimestamp("seen_at").toInstant().isBefore(silentSince));
                })
                .optional();
    }

    private void check(UUID id) throws IOException {
        withFile(id, file -> {
            requireSchema(file.manifest().schema());
            file.requireUndamaged();
            work.requireKnownShape(file);
            List<Counted> tables = new ArrayList<>();
            long rows = 0;
            for (String table : file.tables()) {
                if (file.rows(table) > 0) {
                    tables.add(new Counted(table.replace('_', ' '), file.rows(table)));
                    rows += file.rows(table);
                }
            }
            List<Someone> people = work.people(file).stream()
                    .map(person -> new Someone(person.name(), person.email(), person.memberName()))
                    .toList();
            Manifest manifest = file.manifest();
            ZoneId zone = ZoneId.of(manifest.vineyard().zone());
            Found found = new Found(
                    String.valueOf(manifest.vineyard().name()),
                    MADE_AT.format(Instant.parse(manifest.madeAt()).atZone(zone)),
                    zone.getId(),
                    rows,
                    tables,
                    people);
            jdbc.sql("""
                            update archive_restore set state = 'READY', found = cast(:found as jsonb), rows_all = :rows, seen_at = :now
                             where vineyard_id = rootling_vineyard() and id = :id and state = 'CHECKING'""")
                    .param("found", json.writeValueAsString(found))
                    .param("rows", rows)
                    .param("now", now())
                    .param("id", id)
                    .update();
        });
    }

    /** An older archive is taken when all it has still exists; one from a later schema is not understood. */
    private void requireSchema(String of) {
        MigrationVersion theirs;
        try {
            theirs = MigrationVersion.fromVersion(of);
        } catch (RuntimeException noVersion) {
            throw new Refused("exchange.restore.no-archive");
        }
        if (theirs.compareTo(MigrationVersion.fromVersion(archive.schema())) > 0) {
            throw new Refused("exchange.restore.later", of, archive.schema());
        }
    }

    private void enter(UUID id) throws IOException {
        String name = run(id).orElseThrow().fileName();
        withFile(
                id,
                file -> work.enter(file, id, name, done -> {
                    // In a transaction of its own, so that the page sees it, and sees that we are alive.
                    if (!Boolean.TRUE.equals(apart.execute(status -> tell(id, done)))) {
                        throw new RestoreWork.Stopped();
                    }
                }));
        files.forget(id);
    }

    /** Says how far it is; false where it shall stop. */
    private boolean tell(UUID id, long done) {
        return jdbc.sql("""
                        update archive_restore set rows_done = :done, seen_at = :now
                         where vineyard_id = rootling_vineyard() and id = :id and state = 'RUNNING'""")
                        .param("done", done)
                        .param("now", now())
                        .param("id", id)
                        .update()
                > 0;
    }

    private interface FileWork {
        void on(ArchiveFile file) throws IOException;
    }

    private void withFile(UUID id, FileWork on) throws IOException {
        Path path = Files.createTempFile("rootling", ".zip");
        try {
            try (OutputStream out = Files.newOutputStream(path)) {
                files.write(id, out);
            }
            try (ArchiveFile file = ArchiveFile.open(path, json)) {
                on.on(file);
            }
        } finally {
            Files.deleteIfExists(path);
        }
    }

    private interface Job {
        void run() throws IOException;
    }

    private void later(UUID id, Job job) {
        UUID vineyard = Tenancy.require();
        UUID account = Tenancy.accountOrNull();
        try {
            background.execute(() -> Tenancy.run(vineyard, account, () -> run(id, job)));
        } catch (RejectedExecutionException stopping) {
            LOG.info("not begun, the program is stopping");
        }
    }

    private void run(UUID id, Job job) {
        boolean entering = run(id).map(run -> run.state().equals("RUNNING")).orElse(false);
        String failed = entering ? "FAILED" : "REFUSED";
        try {
            job.run();
        } catch (RestoreWork.Stopped cancelled) {
            LOG.info("putting an archive back was cancelled");
        } catch (Refused refused) {
            state(id, failed, refused);
        } catch (java.time.DateTimeException zone) {
            state(id, failed, new Refused("exchange.restore.no-archive"));
        } catch (org.springframework.dao.DataAccessException refused) {
            LOG.warn("an archive was not put back", Wordless.of(refused));
            boolean filled = String.valueOf(refused.getMessage()).contains("not empty");
            state(id, failed, new Refused(filled ? "exchange.restore.not-empty" : "exchange.restore.unreadable"));
        } catch (IOException | RuntimeException failure) {
            LOG.warn("an archive was not put back", Wordless.of(failure));
            state(id, failed, new Refused("exchange.restore.unreadable"));
        }
    }

    private void state(UUID id, String state, @Nullable Refused reason) {
        jdbc.sql("""
                        update archive_restore set state = :state, rows_done = 0, seen_at = :now, reason_key = :key,
                               reason_args = :args
                         where vineyard_id = rootling_vineyard() and id = :id and state <> 'DONE'""")
                .param("state", state)
                .param("now", now())
                .param("key", reason == null ? null : reason.key())
                .param(
                        "args",
                        reason == null
                                ? new String[0]
                                : Arrays.stream(reason.args())
                                        .map(String::valueOf)
                                        .toArray(String[]::new))
                .param("id", id)
                .update();
    }

    private Timestamp now() {
        return Timestamp.from(clock.instant());
    }

    @Override
    public void destroy() {
        background.shutdownNow();
    }
}
