package org.rootling.people.domain;

import java.nio.ByteBuffer;
import java.security.GeneralSecurityException;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * Time-based one-time passwords (RFC 6238, upon RFC 4226): HMAC over the number of the 30-second step since 1970, cut down to
 * decimal digits.
 */
final class Totp {

    static final int STEP_SECONDS = 30;
    static final int DIGITS = 6;

    private static final String ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
    private static final int[] TENS = {1, 10, 100, 1000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000};

    private Totp() {}

    /** The step that an instant falls into. */
    static long step(long epochSecond) {
        return Math.floorDiv(epochSecond, STEP_SECONDS);
    }

    /** The code of a step, as apps make it: SHA-1, six digits. */
    static String code(byte[] secret, long step) {
        return code(secret, step, DIGITS, "HmacSHA1");
    }

    static String code(byte[] secret, long step, int digits, String algorithm) {
        try {
            Mac mac = Mac.getInstance(algorithm);
            mac.init(new SecretKeySpec(secret, algorithm));
            byte[] hash = mac.doFinal(ByteBuffer.allocate(8).putLong(step).array());
            int offset = hash[hash.length - 1] & 0xf;
            int number = ByteBuffer.wrap(hash, offset, 4).getInt() & 0x7fff_ffff;
            return String.format(java.util.Locale.ROOT, "%0" + digits + "d", number % TENS[digits]);
        } catch (GeneralSecurityException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    /** Base 32 (RFC 4648) without padding, as apps take a secret typed by hand. */
    static String base32(byte[] bytes) {
        StringBuilder text = new StringBuilder();
        int bits = 0;
        int held = 0;
        for (byte one : bytes) {
            held = (held << 8) | (one & 0xff);
            for (bits += 8; bits >= 5; bits -= 5) {
                text.append(ALPHABET.charAt((held >> (bits - 5)) & 31));
            }
            held &= (1 << bits) - 1;
        }
        if (bits > 0) {
            text.append(ALPHABET.charAt((held << (5 - bits)) & 31));
        }
        return text.toString();
    }
}
