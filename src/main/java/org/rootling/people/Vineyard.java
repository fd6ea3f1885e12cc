package org.rootling.people;

import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A vineyard: where it is and what time it keeps.
 *
 * @param latitude degrees, north positive; null when not yet told
 * @param longitude degrees, east positive; null when not yet told
 * @param altitudeM metres above the sea; null when not told
 */
public record Vineyard(
        UUID id,
        String slug,
        String name,
        ZoneId zone,
        @Nullable Double latitude,
        @Nullable Double longitude,
        @Nullable Double altitudeM,
        int version) {

    /** South of the equator the growing year starts on 1 July. North where no latitude is told. */
    public boolean southern() {
        return latitude != null && latitude < 0;
    }
}
