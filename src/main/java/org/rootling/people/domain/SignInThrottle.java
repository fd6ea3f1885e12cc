package org.rootling.people.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Slows guessing: after five failures for an address or forty from one place, wait up to a quarter of an hour. */
@Component
public class SignInThrottle {

    static final int PER_EMAIL = 5;
    static final int PER_PLACE = 40;
    static final Duration WINDOW = Duration.ofMinutes(15);

    private final JdbcClient jdbc;
    private final Clock clock;

    SignInThrottle(JdbcClient jdbc, Clock realClock) {
        this.jdbc = jdbc;
        this.clock = realClock;
    }

    /** Whether a sign-in may be tried now. */
    public boolean allows(String email, String place) {
        return failures(emailKey(email)) < PER_EMAIL && failures(placeKey(place)) < PER_PLACE;
    }

    /** Counts a failure for the e-mail address and the network address. */
    public void failed(String email, String place) {
        count(emailKey(email));
        count(placeKey(place));
    }

    /** Forgets an address's failures after it signed in. */
    public void succeeded(String email) {
        jdbc.sql("delete from sign_in_throttle where key = :key or last_at < :old")
                .param("key", emailKey(email))
                .param("old", Timestamp.from(since()))
                .update();
    }

    private void count(String key) {
        jdbc.sql("""
                        insert into sign_in_throttle as t (key, failures, last_at) values (:key, 1, :now)
                        on conflict (key) do update set last_at = excluded.last_at,
                          failures = case when t.last_at < :old then 1 else t.failures + 1 end""")
                .param("key", key)
                .param("now", Timestamp.from(clock.instant()))
                .param("old", Timestamp.from(since()))
                .update();
    }

    private int failures(String key) {
        return jdbc.sql("select failures from sign_in_throttle where key = :key and last_at >= :old")
                .param("key", key)
                .param("old", Timestamp.from(since()))
                .query(Integer.class)
                .optional()
                .orElse(0);
    }

    private Instant since() {
        return clock.instant().minus(WINDOW);
    }

    private static String emailKey(String email) {
        return Secrets.hash("email " + email.strip().toLowerCase(Locale.ROOT));
    }

    private static String placeKey(String place) {
        return Secrets.hash("place " + place);
    }
}
