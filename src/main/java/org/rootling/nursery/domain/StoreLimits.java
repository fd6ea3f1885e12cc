package org.rootling.nursery.domain;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.rootling.nursery.StoreKind;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Query;

/** All limits the vineyard has set. */
interface StoreLimits extends JpaRepository<StoreLimit, UUID> {
    /** Written out: the plan of a query made from {@link #findAll} is made anew each time. */
    @Query("select l from StoreLimit l")
    List<StoreLimit> every();

    Optional<StoreLimit> findByKindAndAllowance(StoreKind kind, String allowance);
}
