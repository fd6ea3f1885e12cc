package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All delivery lines. */
interface DeliveryLines extends JpaRepository<DeliveryLine, UUID> {
    List<DeliveryLine> findAllByDeliveryIdOrderByLineNo(UUID deliveryId);
}
