package org.rootling.training;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.training.calc.Bbch;

/**
 * A growth stage that somebody saw.
 *
 * @param vineId null where it holds for the block
 */
public record Stage(
        UUID id,
        UUID blockId,
        @Nullable UUID vineId,
        Bbch stage,
        LocalDate on,
        UUID by,
        @Nullable String note) {}
