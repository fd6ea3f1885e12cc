package org.rootling.nursery.domain;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All order lines. */
interface OrderLines extends JpaRepository<OrderLine, UUID> {
    List<OrderLine> findAllByOrderIdOrderByLineNo(UUID orderId);

    List<OrderLine> findAllByOrderIdInOrderByLineNo(Collection<UUID> orderIds);
}
