package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All deliveries. */
interface Deliveries extends JpaRepository<Delivery, UUID> {
    List<Delivery> findAllByOrderByReceivedOnDesc();
}
