package org.rootling.people;

import java.time.Duration;
import java.util.UUID;

/** Invitations made for many people at once; for imports. */
public interface Invitations {

    /**
     * Prepares an invitation into the current vineyard. Its link is made when an owner asks to see it on the page of
     * people, so that no secret is kept anywhere in between.
     *
     * @param valid at most 60 days
     * @param note for whom it is, at most 200 characters
     * @throws org.rootling.platform.Refused when the days are out of range
     */
    void prepare(Role role, Duration valid, String note, UUID by);
}
