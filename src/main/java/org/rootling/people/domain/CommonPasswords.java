package org.rootling.people.domain;

import java.util.Locale;
import java.util.Set;
import org.springframework.stereotype.Component;

/**
 * Passwords of twelve and more characters that are guessed first: keyboard runs, repeats and common phrases. Short common
 * ones are already refused by their length. From memory, no source.
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

    boolean contains(String password) {
        String lower = password.toLowerCase(Locale.ROOT);
        return KNOWN.contains(lower) || lower.chars().distinct().count() < 4;
    }
}
