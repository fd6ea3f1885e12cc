package org.rootling.training;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Shoots and height of one vine on one day.
 *
 * @param shoots null where not counted
 * @param heightCm of the longest shoot above the soil, cm; null where not measured
 * @param chosen whether the one shoot that becomes the trunk was chosen
 */
public record ShootCount(
        UUID vineId,
        int place,
        LocalDate on,
        UUID by,
        @Nullable Integer shoots,
        @Nullable Integer heightCm,
        boolean chosen) {}
