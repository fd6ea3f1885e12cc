package org.rootling.work.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.rootling.platform.AfterCommit;
import org.rootling.platform.DaemonThreads;
import org.rootling.platform.Tenancy;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Work that goes on in the background of one node. How it stands, the wish to stop it and its answer are in a table with
 * {@code state}, {@code started_at}, {@code heard_at} and {@code cancel_asked}, where any node finds them.
 */
final class BackgroundRuns {
    private static final Logger LOG = LoggerFactory.getLogger(BackgroundRuns.class);
    private static final Duration SILENCE = Duration.ofSeconds(30);
    private static final int LOOK_MS = 300;

    private final String table;
    private final JdbcClient jdbc;
    private final ScheduledExecutorService threads;

    BackgroundRuns(String table, int threads, JdbcClient jdbc) {
        this.table = table;
        this.jdbc = jdbc;
        this.threads = Executors.newScheduledThreadPool(threads, DaemonThreads.named(table));
    }

    /** Does the work as the current vineyard and person once the current transaction is committed; notes if it fails. */
    void start(UUID id, Runnable work) {
        UUID vineyard = Tenancy.require();
        UUID account = Tenancy.accountOrNull();
        AfterCommit.run(() -> threads.execute(() -> Tenancy.run(vineyard, account, () -> watched(id, work))));
    }

    private void watched(UUID id, Runnable work) {
        try {
            work.run();
        } catch (RuntimeException failure) {
            LOG.error("{} {} failed", table, id, Wordless.of(failure));
            jdbc.sql("update " + table + " set state = 'FAILED' where id = :id")
                    .param("id", id)
                    .update();
        }
    }

    /** Looks now and then, until cancelled, whether somebody asked a run to stop. */
    Future<?> whenStopAsked(UUID id, Runnable stop) {
        UUID vineyard = Tenancy.require();
        return threads.scheduleWithFixedDelay(
                () -> Tenancy.run(vineyard, null, () -> {
                    if (stopAsked(id)) {
                        stop.run();
                    }
                }),
                LOOK_MS,
                LOOK_MS,
                TimeUnit.MILLISECONDS);
    }

    /** Gives a sign of life and asks whether to stop. */
    boolean stopAsked(UUID id) {
        return jdbc.sql("update " + table + " set heard_at = now() where id = :id returning cancel_asked")
                .param("id", id)
                .query(Boolean.class)
                .optional()
                .orElse(true);
    }

    void cancel(UUID id) {
        jdbc.sql("update " + table + " set cancel_asked = true where id = :id and state = 'RUNNING'")
                .param("id", id)
                .update();
    }

    /** The newest, whether it runs or ended. */
    <T> Optional<T> latest(RowMapper<T> row) {
        return jdbc.sql(
                        "select *, state = 'RUNNING' and heard_at < now() - make_interval(secs => :silence) as dead from "
                                + table + " order by started_at desc, id desc limit 1")
                .param("silence", SILENCE.toSeconds())
                .query(row)
                .optional();
    }

    /** The state of a row of {@link #latest}; one whose node fell silent counts as failed. */
    static String state(ResultSet row) throws SQLException {
        return row.getBoolean("dead") ? "FAILED" : row.getString("state");
    }

    void stop() {
        threads.shutdownNow();
    }
}
