package org.rootling.platform;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.springframework.core.env.Environment;
import org.springframework.core.env.Profiles;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** When the whole database was last kept, and whether that is too long ago. */
@Component("backups")
public class Backups {

    /** What to warn of; {@code days} is null when there never was a backup. */
    public record Warning(@Nullable Long days) {}

    private final JdbcClient jdbc;
    private final Clock clock;
    private final Duration warnAfter;

    Backups(JdbcClient jdbc, Clock realClock, Environment environment) {
        this.jdbc = jdbc;
        this.clock = realClock;
        boolean demo = environment.acceptsProfiles(Profiles.of("demo"));
        this.warnAfter = demo
                ? Duration.ZERO
                : environment.getProperty("rootling.backup.warn-after", Duration.class, Duration.ofDays(7));
    }

    /**
     * A warning for the current vineyard's owner, or null: the last backup is older than {@code rootling.backup.warn-after} (7
     * days; zero never warns), or there is none though the vineyard is older than that.
     */
    public @Nullable Warning warning() {
        if (warnAfter.isZero()) {
            return null;
        }
        Instant limit = clock.instant().minus(warnAfter);
        return jdbc.sql("""
                        select (select max(at) from backup_made) as last, v.created_at < :limit as grown
                          from vineyard v where v.id = rootling_vineyard()""")
                .param("limit", Timestamp.from(limit))
                .query((row, i) -> {
                    Timestamp last = row.getTimestamp("last");
                    if (last == null) {
                        return java.util.Optional.ofNullable(row.getBoolean("grown") ? new Warning(null) : null);
                    }
                    return java.util.Optional.ofNullable(
                            last.toInstant().isBefore(limit)
                                    ? new Warning(Duration.between(last.toInstant(), clock.instant())
                                            .toDays())
                                    : null);
                })
                .optional()
                .flatMap(warning -> warning)
                .orElse(null);
    }
}
