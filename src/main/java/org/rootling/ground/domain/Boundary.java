package org.rootling.ground.domain;

import org.jspecify.annotations.Nullable;
import org.rootling.ground.calc.Field;

/**
 * A boundary as it was found.
 *
 * @param field checked, with the exclusions that came with it
 * @param note how well it is known, in words; null when nothing is known
 * @param latitude of the origin of its metres, degrees north; null when it is not known where on Earth it lies
 * @param longitude of the origin, degrees east
 */
public record Boundary(
        Field field,
        BoundarySource source,
        @Nullable String note,
        @Nullable Double latitude,
        @Nullable Double longitude) {

    /** Corners typed in metres, on no particular spot of the Earth. */
    public static Boundary typed(Field field) {
        return new Boundary(field, BoundarySource.TYPED, null, null, null);
    }
}
