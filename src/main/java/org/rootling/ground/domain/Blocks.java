package org.rootling.ground.domain;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All blocks of the current vineyard. */
interface Blocks extends JpaRepository<BlockEntity, UUID> {
    List<BlockEntity> findByWithdrawnAtIsNullOrderByCode();

    Optional<BlockEntity> findByCodeAndWithdrawnAtIsNull(String code);
}
