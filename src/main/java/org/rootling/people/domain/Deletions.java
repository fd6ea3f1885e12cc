package org.rootling.people.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;

/** Deleting an account or a vineyard: asked for, can be taken back for a while, then really done. */
@Service
public class Deletions {

    /** How long a deletion can be taken back. */
    public static final Duration ACCOUNT_WAITS = Duration.ofDays(14);

    public static final Duration VINEYARD_WAITS = Duration.ofDays(30);

    private static final Logger LOG = LoggerFactory.getLogger(Deletions.class);

    private final JdbcClient jdbc;
    private final Clock clock;

    Deletions(JdbcClient jdbc, Clock realClock) {
        this.jdbc = jdbc;
        this.clock = realClock;
    }

    /** When the account will be deleted, if that was asked for. */
    public Optional<Instant> ofAccount(UUID account) {
        return Tenancy.as(null, account, () -> asked("account", account));
    }

    /** When the current vineyard will be deleted, if that was asked for. */
    public Optional<Instant> ofVineyard() {
        return asked("vineyard", Tenancy.require());
    }

    private Optional<Instant> asked(String table, UUID id) {
        return jdbc.sql("select delete_after from " + table + " where id = :id and delete_after is not null")
                .param("id", id)
                .query((row, i) -> row.getTimestamp(1).toInstant())
                .optional();
    }

    /** Asks for the account to be deleted; refused while a vineyard would be left without an owner. */
    public void askForAccount(UUID account) {
        Tenancy.run(null, account, () -> {
            List<String> alone = ownedAlone(account);
            if (!alone.isEmpty()) {
                throw new Refused("people.delete.last-owner", String.join(", ", alone));
            }
            set("account", account, ACCOUNT_WAITS);
        });
    }

    private List<String> ownedAlone(UUID account) {
        record Owned(UUID id, String name) {}
        List<Owned> owned = jdbc.sql("""
                        select v.id, v.name from membership m join vineyard v on v.id = m.vineyard_id
                         where m.account_id = :account and m.role = 'OWNER' and m.ended_at is null order by v.name""")
                .param("account", account)
                .query((row, i) -> new Owned(row.getObject("id", UUID.class), row.getString("name")))
                .list();
        List<String> alone = new ArrayList<>();
        for (Owned vineyard : owned) {
            boolean another = Tenancy.as(
                    vineyard.id(),
                    account,
                    () -> jdbc.sql("""
                                    select exists (select 1 from membership where vineyard_id = rootling_vineyard()
                                       and account_id <> :account and role = 'OWNER' and ended_at is null)""")
                            .param("account", account)
                            .query(Boolean.class)
                            .single());
            if (!another) {
                alone.add(vineyard.name());
            }
        }
        return alone;
    }

    public void keepAccount(UUID account) {
        Tenancy.run(null, account, () -> set("account", account, null));
    }

    /** Asks for the current vineyard to be deleted; its name must be typed. */
    public void askForVineyard(String typed, String name) {
        if (!typed.strip().equals(name)) {
            throw new Refused("people.delete.name-wrong").at("name");
        }
        set("vineyard", Tenancy.require(), VINEYARD_WAITS);
    }

    public void keepVineyard() {
        set("vineyard", Tenancy.require(), null);
    }

    private void set(String table, UUID id, @Nullable Duration waits) {
        jdbc.sql("update " + table + " set delete_after = :at where id = :id")
                .param(
                        "at",
                        waits == null ? null : Timestamp.from(clock.instant().plus(waits)))
                .param("id", id)
                .update();
    }

    /** What is kept about a person, to take home before they go. */
    public Map<String, Object> aboutMe(UUID account) {
        return Tenancy.as(null, account, () -> {
            Map<String, Object> mine = new LinkedHashMap<>();
            mine.put(
                    "account",
                    jdbc.sql("select id, email, name, locale, units, contrast, created_at from account where id = :id")
                            .param("id", account)
                            .query()
                            .singleRow());
            mine.put("vineyards", jdbc.sql("""
                                    select v.name, m.role, m.since, m.ended_at from membership m join vineyard v on v.id = m.vineyard_id
                                     where m.account_id = :id order by m.since""").param("id", account).query().listOfRows());
            return mine;
        });
    }

    /** Deletes what has waited long enough. Any node may; each deletion is one transaction. */
    @Scheduled(initialDelayString = "${rootling.jobs.first-after:PT5M}", fixedDelayString = "PT1H")
    public void deleteDue() {
        for (int i = 0; i < 1000; i++) {
            String deleted = Tenancy.as(
                    null,
                    null,
                    () -> jdbc.sql("select rootling_delete_next()")
                            .query((row, n) -> Optional.ofNullable(row.getString(1)))
                            .single()
                            .orElse(null));
            if (deleted == null) {
                return;
            }
            LOG.info("deleted one {} after its waiting time", deleted);
        }
    }
}
