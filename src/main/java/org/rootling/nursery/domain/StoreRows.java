package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All beds and stores. */
interface StoreRows extends JpaRepository<StoreRow, UUID> {
    List<StoreRow> findAllByWithdrawnAtIsNullOrderByName();
}
