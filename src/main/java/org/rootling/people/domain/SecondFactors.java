package org.rootling.people.domain;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.platform.Vault;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionTemplate;

/** A code from a phone besides the password, and codes on paper for the day the phone is lost. */
@Service
public class SecondFactors {

    private static final int SECRET_BYTES = 20; // RFC 4226, section 4: 160 bits are recommended
    private static final int CODES = 10;
    private static final SecureRandom RANDOM = new SecureRandom();

    /** How a person's second factor stands; {@code secret} only while it is being set up. */
    public record State(boolean on, int codesLeft, @Nullable Secret secret) {}

    /** What an app must learn: as an address for a picture to scan, and to be typed. */
    public record Secret(String address, String typed) {}

    private record Stored(byte[] secret, boolean confirmed, long lastStep) {}

    private final JdbcClient jdbc;
    private final Vault vault;
    private final Clock clock;
    private final TransactionTemplate transaction;

    SecondFactors(JdbcClient jdbc, Vault vault, Clock realClock, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.vault = vault;
        this.clock = realClock;
        this.transaction = transaction;
    }

    /** Whether signing in needs a code. */
    public boolean needed(UUID account) {
        return as(account, () -> stored(account).filter(Stored::confirmed).isPresent());
    }

    /** Whether owners and leads of the current vineyard must have one. */
    public boolean requiredHere() {
        return jdbc.sql("select codes_required from vineyard where id = rootling_vineyard()")
                .query(Boolean.class)
                .single();
    }

    /** Asks it of the owners and leads of the current vineyard, or no longer; who asks it of others has one. */
    public void requireHere(boolean required, UUID by) {
        if (required && !stored(by).filter(Stored::confirmed).isPresent()) {
            throw new Refused("people.codes.yours-first");
        }
        jdbc.sql("update vineyard set codes_required = :required, version = version + 1 where id = rootling_vineyard()")
                .param("required", required)
                .update();
    }

    public State state(UUID account, String email) {
        return as(account, () -> {
            Optional<Stored> stored = stored(account);
            boolean on = stored.filter(Stored::confirmed).isPresent();
            int left = jdbc.sql("select count(*) from recovery_code where account_id = :account and used_at is null")
                    .param("account", account)
                    .query(Integer.class)
                    .single();
            Secret secret = on || stored.isEmpty() ? null : secret(stored.get().secret(), email);
            return new State(on, left, secret);
        });
    }

    private static Secret secret(byte[] secret, String email) {
        String typed = Totp.base32(secret);
        String label =
                URLEncoder.encode("Rootling:" + email, StandardCharsets.UTF_8).replace("+", "%20");
        return new Secret(
                "otpauth://totp/" + label + "?secret=" + typed + "&issuer=Rootling",
                typed.replaceAll("(.{4})(?=.)", "$1 "));
    }

    /** Makes a secret that counts only once a code made from it was given. */
    public void begin(UUID account) {
        byte[] secret = new byte[SECRET_BYTES];
        RANDOM.nextBytes(secret);
        as(
                account,
                () -> jdbc.sql("""
                                insert into second_factor (account_id, secret) values (:account, :secret)
                                on conflict (account_id) do update set secret = excluded.secret, made_at = now(), last_step = 0
                                 where second_factor.confirmed_at is null""")
                        .param("account", account)
                        .param("secret", vault.lock(secret, account.toString()))
                        .update());
    }

    /** Turns it on with a first code; returns the recovery codes, which are shown only now. */
    public List<String> confirm(UUID account, String code) {
        return as(
                account,
                () -> transaction.execute(status -> {
                    Stored stored = stored(account)
                            .filter(found -> !found.confirmed())
                            .orElseThrow(() -> new Refused("people.factor.not-begun").at("code"));
                    long step = matching(stored, code).orElseThrow(() -> new Refused("people.factor.wrong").at("code"));
                    jdbc.sql(
                                    "update second_factor set confirmed_at = now(), last_step = :step where account_id = :account")
                            .param("step", step)
                            .param("account", account)
                            .update();
                    return newCodes(account);
                }));
    }

    /** New recovery codes in place of the old. */
    public List<String> renew(UUID account) {
        return as(account, () -> transaction.execute(status -> newCodes(account)));
    }

    private List<String> newCodes(UUID account) {
        jdbc.sql("delete from recovery_code where account_id = :account")
                .param("account", account)
                .update();
        List<String> codes = new ArrayList<>();
        for (int i = 0; i < CODES; i++) {
            // 128 random bits: so many that a plain hash of them is enough.
            byte[] random = new byte[16];
            RANDOM.nextBytes(random);
            String code = Totp.base32(random).toLowerCase(Locale.ROOT);
            codes.add(code.replaceAll("(.{4})(?=.)", "$1-"));
            jdbc.sql("insert into recovery_code (account_id, code_hash) values (:account, :hash)")
                    .param("account", account)
                    .param("hash", Secrets.hash(code))
                    .update();
        }
        return codes;
    }

    /** Turns it off. */
    public void end(UUID account) {
        as(
                account,
                () -> transaction.execute(status -> {
                    jdbc.sql("delete from recovery_code where account_id = :account")
                            .param("account", account)
                            .update();
                    return jdbc.sql("delete from second_factor where account_id = :account")
                            .param("account", account)
                            .update();
                }));
    }

    /** Whether a code opens the door now: one of the phone's, each once, or one from paper, each once. */
    public boolean takes(UUID account, String typed) {
        String code = typed.toLowerCase(Locale.ROOT).replaceAll("[\\s-]", "");
        return as(
                account,
                () -> code.matches("[0-9]{" + Totp.DIGITS + "}")
                        ? takesStep(account, code)
                        : takesPaper(account, code));
    }

    private boolean takesStep(UUID account, String code) {
        Optional<Stored> stored = stored(account).filter(Stored::confirmed);
        Optional<Long> step = stored.flatMap(found -> matching(found, code));
        // Of two requests with one code, one changes the row. The secret is locked anew, so that the key can be
        // changed.
        return step.isPresent()
                && jdbc.sql("update second_factor set last_step = :step, secret = :secret"
                                        + " where account_id = :account and last_step < :step")
                                .param("step", step.get())
                                .param("secret", vault.lock(stored.get().secret(), account.toString()))
                                .param("account", account)
                                .update()
                        == 1;
    }

    private boolean takesPaper(UUID account, String code) {
        return jdbc.sql("""
                        update recovery_code set used_at = :now
                         where account_id = :account and code_hash = :hash and used_at is null""")
                        .param("now", Timestamp.from(clock.instant()))
                        .param("account", account)
                        .param("hash", Secrets.hash(code))
                        .update()
                == 1;
    }

    /** The step whose code this is: now, or one step to either side (RFC 6238, section 5.2), later than the last taken. */
    private Optional<Long> matching(Stored stored, String typed) {
        byte[] given = typed.replaceAll("\\s", "").getBytes(StandardCharsets.UTF_8);
        long now = Totp.step(clock.instant().getEpochSecond());
        for (long step = now - 1; step <= now + 1; step++) {
            byte[] right = Totp.code(stored.secret(), step).getBytes(StandardCharsets.UTF_8);
            if (step > stored.lastStep() && MessageDigest.isEqual(right, given)) {
                return Optional.of(step);
            }
        }
        return Optional.empty();
    }

    private Optional<Stored> stored(UUID account) {
        return jdbc.sql("select secret, confirmed_at, last_step from second_factor where account_id = :account")
                .param("account", account)
                .query((row, i) -> new Stored(
                        vault.open(row.getBytes("secret"), account.toString()),
                        row.getTimestamp("confirmed_at") != null,
                        row.getLong("last_step")))
                .optional();
    }

    private static <T> T as(UUID account, java.util.function.Supplier<T> work) {
        return Tenancy.as(null, account, work);
    }
}
