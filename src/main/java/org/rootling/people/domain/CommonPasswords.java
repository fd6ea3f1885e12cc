package org.rootling.people.domain;

import com.nulabinc.zxcvbn.Zxcvbn;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.springframework.stereotype.Component;

/**
 * Passwords that are guessed first. A short list of long ones from memory (no source), and beyond it the dictionary of some
 * thirty thousand common passwords, names and words of zxcvbn, which also sees them joined, mirrored, repeated, typed along
 * the keyboard or with digits for letters (Wheeler, "zxcvbn: Low-Budget Password Strength Estimation", USENIX Security 2016).
 */
@Component
class CommonPasswords {

    private static final Set<String> KNOWN = Set.of(
            "123456789012",
            "1234567890123",
            "12345678901234",
            "123456789012345",
            "1234567890123456",
            "password1234",
            "password12345",
            "password123456",
            "passwordpassword",
            "qwertyuiop12",
            "qwertyuiopas",
            "qwertyuiop123",
            "qwertyuiopasdf",
            "1q2w3e4r5t6y",
            "1qaz2wsx3edc",
            "q1w2e3r4t5y6",
            "abcdefghijkl",
            "abcdefghijklm",
            "iloveyou1234",
            "iloveyouiloveyou",
            "letmeinletmein",
            "welcome12345",
            "welcome123456",
            "administrator",
            "administrator1",
            "changeme1234",
            "changemechangeme",
            "correcthorsebatterystaple",
            "football1234",
            "baseball1234",
            "sunshine1234",
            "princess1234",
            "asdfghjkl123",
            "zxcvbnm12345",
            "aaaaaaaaaaaa",
            "vineyard1234",
            "rootlingrootling",
            "grapevine123",
            "grapevine1234");

    /** Scores below this need fewer than 10^8 guesses. */
    private static final int LEAST_SCORE = 3;

    /** What is looked at; estimating takes longer with length, and no longer password is weak by its beginning alone. */
    private static final int LONGEST = 64;

    /** Read from the dictionaries only when a first password is chosen; a start of the program does not wait for them. */
    private static final class Loaded {
        static final Zxcvbn ESTIMATE = new Zxcvbn();
    }

    /** Whether a guesser who knows the person's name and address would come to it soon. */
    boolean guessable(String password, String email, String name) {
        String begin = password.length() > LONGEST ? password.substring(0, LONGEST) : password;
        return Loaded.ESTIMATE
                        .measure(begin, List.of(email, email.replaceAll("@.*", ""), name, "rootling", "vineyard"))
                        .getScore()
                < LEAST_SCORE;
    }

    boolean contains(String password) {
        String lower = password.toLowerCase(Locale.ROOT);
        return KNOWN.contains(lower) || lower.chars().distinct().count() < 4;
    }
}
