package org.rootling.nursery;

import java.util.List;
import java.util.UUID;
import org.rootling.platform.VineyardEvent;

/** A delivery was taken in; each line is a lot now. */
public record DeliveryReceived(UUID vineyardId, UUID deliveryId, List<UUID> lotIds) implements VineyardEvent {}
