package org.rootling.nursery.domain;

import jakarta.persistence.LockModeType;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;

/** All orders. */
interface NurseryOrders extends JpaRepository<NurseryOrder, UUID> {
    List<NurseryOrder> findAllByOrderByOrderedOnDescReferenceAsc();

    /** For a change of the order or its lines: its version counts either. */
    @Lock(LockModeType.OPTIMISTIC_FORCE_INCREMENT)
    Optional<NurseryOrder> findForChangeById(UUID id);
}
