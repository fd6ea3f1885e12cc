package org.rootling.ground.domain;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A boundary that a block has or had. */
public record FormerBoundary(
        Instant at,
        @Nullable UUID by,
        BoundarySource source,
        double areaM2,
        @Nullable String note) {}
