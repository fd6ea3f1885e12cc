package org.rootling.people;

import java.time.Instant;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * People who come to the current vineyard for a day or a few without an account of their own. A link signs their phone in,
 * as helper and no more, until it ends; what they do carries their name.
 */
public interface Guests {

    /** A link is open for so many days at most, today counted. */
    int MOST_DAYS = 14;

    /**
     * A link of one person.
     *
     * @param account whom their records name
     * @param secret end of the link's address; stored only as a hash
     * @param until when it ends
     */
    record Link(UUID account, String secret, Instant until) {}

    /**
     * Makes a link that ends with the last of some days. An earlier link of the same person ends.
     *
     * @param account of a guest who was here before; null makes a new one
     * @throws org.rootling.platform.Refused when the days are not 1 to {@link #MOST_DAYS}
     * @throws org.rootling.platform.NotFound when the account is no guest of this vineyard
     */
    Link link(@Nullable UUID account, String name, int days);

    /** Ends a guest's link at once, and with it what their phone may do. */
    void end(UUID account);

    /** All who ever were guests here, and when their link ends or ended. */
    Map<UUID, Instant> until();
}
