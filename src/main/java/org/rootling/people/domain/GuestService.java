package org.rootling.people.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Guests;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Guests as memberships that end by themselves. */
@Service
public class GuestService implements Guests {

    /** What a link opens. */
    public record Opened(String vineyard, String slug, ZonedDateTime until, SignedIn person) {}

    private final JdbcClient jdbc;
    private final Vineyards vineyards;
    private final Clock clock;

    GuestService(JdbcClient jdbc, Vineyards vineyards, Clock realClock) {
        this.jdbc = jdbc;
        this.vineyards = vineyards;
        this.clock = realClock;
    }

    @Override
    @Transactional
    public Link link(@Nullable UUID account, String name, int days) {
        if (days < 1 || days > MOST_DAYS) {
            throw new Refused("people.guest.days", MOST_DAYS).at("days");
        }
        if (account != null && !until().containsKey(account)) {
            throw new NotFound("guest");
        }
        UUID guest = account == null ? Ids.next() : account;
        ZoneId zone = vineyards.current().zone();
        Instant until = clock.instant()
                .atZone(zone)
                .toLocalDate()
                .plusDays(days)
                .atStartOfDay(zone)
                .toInstant();
        String secret = Secrets.next();
        jdbc.sql("select rootling_make_guest(:account, :name)")
                .param("account", guest)
                .param("name", name.strip())
                .query((row, i) -> i)
                .list();
        if (account == null) {
            jdbc.sql("insert into membership (id, account_id, role) values (:id, :account, 'HELPER')")
                    .param("id", Ids.next())
                    .param("account", guest)
                    .update();
        }
        jdbc.sql("""
                        update membership set ended_at = null, guest_until = :until, token_hash = :hash, version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account""")
                .param("account", guest)
                .param("until", Timestamp.from(until))
                .param("hash", Secrets.hash(secret))
                .update();
        return new Link(guest, secret, until);
    }

    @Override
    @Transactional
    public void end(UUID account) {
        jdbc.sql("""
                        update membership set ended_at = now(), token_hash = null, version = version + 1
                         where vineyard_id = rootling_vineyard() and account_id = :account and guest_until is not null
                           and ended_at is null""").param("account", account).update();
    }

    @Override
    @Transactional(readOnly = true)
    public Map<UUID, Instant> until() {
        Map<UUID, Instant> until = new HashMap<>();
        jdbc.sql("""
                        select account_id, least(guest_until, ended_at) as until from membership
                         where vineyard_id = rootling_vineyard() and guest_until is not null""")
                .query((row, i) -> until.put(
                        row.getObject("account_id", UUID.class),
                        row.getTimestamp("until").toInstant()))
                .list();
        return until;
    }

    /** The person and vineyard that a secret opens now. */
    public Optional<Opened> open(String secret) {
        return jdbc.sql("select * from rootling_guest(:hash)")
                .param("hash", Secrets.hash(secret))
                .query((row, i) -> new Opened(
                        row.getString("vineyard_name"),
                        row.getString("vineyard_slug"),
                        row.getTimestamp("guest_until").toInstant().atZone(ZoneId.of(row.getString("zone"))),
                        SignedIn.guest(
                                row.getObject("account_id", UUID.class),
                                row.getString("email"),
                                row.getString("name"))))
                .optional();
    }
}
