package org.rootling.people.domain;

import java.time.Instant;
import java.util.Locale;

/** Makes codes as an app does that was told a secret by hand. */
public final class TestCodes {

    private TestCodes() {}

    /** The code of an instant, from the secret as the page shows it. */
    public static String at(String typedSecret, Instant instant) {
        return Totp.code(secret(typedSecret), Totp.step(instant.getEpochSecond()));
    }

    private static byte[] secret(String typed) {
        String plain = typed.replace(" ", "").toUpperCase(Locale.ROOT);
        byte[] bytes = new byte[plain.length() * 5 / 8];
        int bits = 0;
        int held = 0;
        int at = 0;
        for (char letter : plain.toCharArray()) {
            held = held << 5 | "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".indexOf(letter);
            bits += 5;
            if (bits >= 8) {
                bits -= 8;
                bytes[at++] = (byte) (held >> bits);
                held &= (1 << bits) - 1;
            }
        }
        return bytes;
    }
}
