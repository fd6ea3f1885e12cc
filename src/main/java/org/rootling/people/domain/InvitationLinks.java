package org.rootling.people.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.util.UUID;
import org.rootling.people.Invitations;
import org.rootling.people.Role;
import org.rootling.platform.NotFound;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Invitations without a link yet, and new links for those whose link was lost. */
@Component
public class InvitationLinks implements Invitations {

    private final PeopleService people;
    private final JdbcClient jdbc;
    private final Clock clock;

    InvitationLinks(PeopleService people, JdbcClient jdbc, Clock realClock) {
        this.people = people;
        this.jdbc = jdbc;
        this.clock = realClock;
    }

    @Override
    public void prepare(Role role, Duration valid, String note, UUID by) {
        people.invite(role, valid, note, by);
    }

    /** Gives an open invitation a new secret, shown once; a link from before opens nothing any more. */
    public String renew(UUID id) {
        String secret = Secrets.next();
        int changed = jdbc.sql("""
                        update invitation set token_hash = :hash, version = version + 1
                         where vineyard_id = rootling_vineyard() and id = :id and used_at is null and withdrawn_at is null
                           and expires_at > :now""")
                .param("hash", Secrets.hash(secret))
                .param("id", id)
                .param("now", Timestamp.from(clock.instant()))
                .update();
        if (changed == 0) {
            throw new NotFound("invitation");
        }
        return secret;
    }
}
