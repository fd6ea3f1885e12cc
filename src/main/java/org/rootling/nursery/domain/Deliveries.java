package org.rootling.nursery.domain;

import jakarta.persistence.LockModeType;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;

/** All deliveries. */
interface Deliveries extends JpaRepository<Delivery, UUID> {
    List<Delivery> findAllByOrderByReceivedOnDesc();

    /** For a change of the delivery or its lines: its version counts either. */
    @Lock(LockModeType.OPTIMISTIC_FORCE_INCREMENT)
    Optional<Delivery> findForChangeById(UUID id);
}
