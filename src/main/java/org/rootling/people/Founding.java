package org.rootling.people;

import java.time.ZoneId;
import java.util.UUID;

/** Makes a vineyard and its people without anyone typing; for seeding. */
public interface Founding {

    /** A person in a vineyard with the secrets that were made for them. */
    record Seat(UUID vineyardId, UUID accountId, Role role, String email, String password, String apiToken) {}

    /** Whether nothing has been set up yet. */
    boolean isNew();

    /**
     * A vineyard with its owner.
     *
     * @param latitude degrees north
     * @param longitude degrees east
     * @param altitudeM metres above the sea
     */
    Seat found(
            String vineyard,
            ZoneId zone,
            double latitude,
            double longitude,
            double altitudeM,
            String email,
            String name);

    /** A further person of the owner's vineyard. */
    Seat add(Seat owner, Role role, String email, String name);
}
