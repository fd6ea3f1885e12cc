package org.rootling.nursery.domain;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All lots. */
interface LotRows extends JpaRepository<LotRow, UUID> {
    Optional<LotRow> findByCode(String code);

    List<LotRow> findAllByDeliveryLineIdInOrderBySeriesYearAscSeriesNoAsc(Collection<UUID> deliveryLineIds);
}
