package org.rootling.people.web;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder.SecretKeyFactoryAlgorithm;

/**
 * PBKDF2 with HMAC-SHA-512. Each hash says how many rounds it took, so that they can be raised, more than once, while older
 * passwords go on working; whoever signs in with one gets a hash of today's rounds.
 */
final class SlowHash implements PasswordEncoder {

    /** Hashes that do not say it took so many. */
    static final int ROUNDS = 220_000;

    private static final Pattern KEPT = Pattern.compile("\\{pbkdf2-512(?:-(\\d{1,9}))?}(.+)");

    private final int rounds;

    SlowHash(int rounds) {
        this.rounds = rounds;
    }

    @Override
    public String encode(@Nullable CharSequence password) {
        String said = rounds == ROUNDS ? "{pbkdf2-512}" : "{pbkdf2-512-" + rounds + "}";
        return said + of(rounds).encode(password);
    }

    @Override
    public boolean matches(@Nullable CharSequence password, @Nullable String kept) {
        Matcher parts = KEPT.matcher(kept == null ? "" : kept);
        return parts.matches() && of(rounds(parts)).matches(password, parts.group(2));
    }

    @Override
    public boolean upgradeEncoding(@Nullable String kept) {
        Matcher parts = KEPT.matcher(kept == null ? "" : kept);
        return parts.matches() && rounds(parts) < rounds;
    }

    private static int rounds(Matcher parts) {
        String said = parts.group(1);
        return said == null ? ROUNDS : Integer.parseInt(said);
    }

    private static Pbkdf2PasswordEncoder of(int rounds) {
        return new Pbkdf2PasswordEncoder("", 16, rounds, SecretKeyFactoryAlgorithm.PBKDF2WithHmacSHA512);
    }
}
