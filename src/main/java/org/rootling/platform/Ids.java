package org.rootling.platform;

import java.security.SecureRandom;
import java.util.UUID;

/** Makes row ids: UUID version 7 (RFC 9562), so that rows made together lie together in an index. */
public final class Ids {

    private static final SecureRandom RANDOM = new SecureRandom();

    private Ids() {}

    /** A new id. */
    public static UUID next() {
        long millis = System.currentTimeMillis();
        long high = (millis << 16) | 0x7000L | (RANDOM.nextInt() & 0x0fffL);
        long low = 0x8000000000000000L | (RANDOM.nextLong() & 0x3fffffffffffffffL);
        return new UUID(high, low);
    }
}
