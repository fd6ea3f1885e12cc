package org.rootling.people.domain;

import java.time.Duration;
import java.time.ZoneId;
import java.util.UUID;
import org.rootling.people.Founding;
import org.rootling.people.Role;
import org.rootling.platform.Tenancy;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Goes through the same doors as people do: set-up, invitation, token. */
@Component
class FoundingService implements Founding {

    private final PeopleService people;
    private final JdbcClient jdbc;

    FoundingService(PeopleService people, JdbcClient jdbc) {
        this.people = people;
        this.jdbc = jdbc;
    }

    @Override
    public boolean isNew() {
        return people.isNew();
    }

    @Override
    public Seat found(
            String vineyard,
            ZoneId zone,
            double latitude,
            double longitude,
            double altitudeM,
            String email,
            String name) {
        String password = password();
        String slug = people.foundVineyard(vineyard, zone, email, name, password);
        Seat owner = seat(slug, email, Role.OWNER, password);
        Tenancy.run(
                owner.vineyardId(),
                owner.accountId(),
                () -> people.describeVineyard(vineyard, zone, latitude, longitude, altitudeM, 0));
        return owner;
    }

    @Override
    public Seat add(Seat owner, Role role, String email, String name) {
        String password = password();
        String secret = Tenancy.as(
                owner.vineyardId(),
                owner.accountId(),
                () -> people.invite(role, Duration.ofDays(1), null, owner.accountId()));
        String slug = people.acceptAsNew(secret, email, name, password);
        return seat(slug, email, role, password);
    }

    private Seat seat(String slug, String email, Role role, String password) {
        UUID account = jdbc.sql("select id from rootling_sign_in(:email)")
                .param("email", email)
                .query(UUID.class)
                .single();
        UUID vineyard = people.seat(slug, account).orElseThrow().vineyard().id();
        String token = Tenancy.as(vineyard, account, () -> people.makeToken("demo", role, account, role));
        return new Seat(vineyard, account, role, email, password, token);
    }

    private static String password() {
        return Secrets.next().substring(0, 20);
    }
}
