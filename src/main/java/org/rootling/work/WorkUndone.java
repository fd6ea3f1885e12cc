package org.rootling.work;

import java.util.UUID;
import org.rootling.platform.VineyardEvent;

/** Logged work was taken back. */
public record WorkUndone(UUID vineyardId, UUID logId, UUID taskId, String step) implements VineyardEvent {}
