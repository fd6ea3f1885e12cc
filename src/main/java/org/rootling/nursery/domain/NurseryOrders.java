package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All orders. */
interface NurseryOrders extends JpaRepository<NurseryOrder, UUID> {
    List<NurseryOrder> findAllByOrderByOrderedOnDescReferenceAsc();
}
