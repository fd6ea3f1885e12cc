package org.rootling.nursery.domain;

import java.util.Optional;
import java.util.UUID;
import org.rootling.nursery.StoreKind;
import org.springframework.data.jpa.repository.JpaRepository;

/** All limits the vineyard has set. */
interface StoreLimits extends JpaRepository<StoreLimit, UUID> {
    Optional<StoreLimit> findByKindAndAllowance(StoreKind kind, String allowance);
}
