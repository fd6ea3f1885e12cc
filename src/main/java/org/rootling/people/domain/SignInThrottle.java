package org.rootling.people.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/** Slows guessing: after five failures for an address or forty from one place, wait up to a quarter of an hour. */
@Component
public class SignInThrottle {

    static final int PER_EMAIL = 5;
    static final int PER_PLACE = 40;
    static final Duration WINDOW = Duration.ofMinutes(15);

    private final JdbcClient jdbc;
    private final TransactionTemplate apart;
    private final Clock clock;

    SignInThrottle(JdbcClient jdbc, PlatformTransactionManager transactions, Clock realClock) {
        this.jdbc = jdbc;
        this.apart = new TransactionTemplate(transactions);
        this.apart.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
        this.clock = realClock;
    }

    /** Whether a sign-in may be tried now. */
    public boolean allows(String email, String place) {
        return allows(email) && failures(placeKey(place)) < PER_PLACE;
    }

    /** Whether something that only the person signed in can try may be tried now. */
    public boolean allows(String name) {
        return failures(emailKey(name)) < PER_EMAIL;
    }

    /** Counts a failure for the e-mail address and the network address. */
    public void failed(String email, String place) {
        failed(email);
        count(placeKey(place));
    }

    /** Counts a failure of what only the person signed in can try. */
    public void failed(String name) {
        count(emailKey(name));
    }

    /** Forgets an address's failures after it signed in. */
    public void succeeded(String email) {
        jdbc.sql("delete from sign_in_throttle where key = :key or last_at < :old")
                .param("key", emailKey(email))
                .param("old", Timestamp.from(since()))
                .update();
    }

    /** In a transaction of its own: it stays when the form is refused and all of its work is taken back. */
    private void count(String key) {
        apart.executeWithoutResult(status -> jdbc.sql("""
                        insert into sign_in_throttle as t (key, failures, last_at) values (:key, 1, :now)
                        on conflict (key) do update set last_at = excluded.last_at,
                          failures = case when t.last_at < :old then 1 else t.failures + 1 end""")
                .param("key", key)
                .param("now", Timestamp.from(clock.instant()))
                .param("old", Timestamp.from(since()))
                .update());
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
