package org.rootling.work;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.VineyardEvent;

/** Work was logged. */
public record WorkLogged(
        UUID vineyardId,
        UUID logId,
        UUID taskId,
        String step,
        UUID rowId,
        @Nullable UUID lotId,
        int places,
        UUID by,
        LocalDate on,
        int minutes)
        implements VineyardEvent {}
