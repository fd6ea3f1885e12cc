package org.rootling.ground.domain;

import jakarta.persistence.LockModeType;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;

/** All blocks of the current vineyard. */
interface Blocks extends JpaRepository<BlockEntity, UUID> {
    Optional<BlockEntity> findByCodeAndWithdrawnAtIsNull(String code);

    /** The block as it is now, and nobody else changes it until the transaction ends. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    Optional<BlockEntity> findForChangeByCodeAndWithdrawnAtIsNull(String code);
}
