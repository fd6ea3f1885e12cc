package org.rootling.ground.domain;

import jakarta.persistence.LockModeType;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.rootling.ground.Block;
import org.springframework.data.jpa.repository.JpaRepository;
import org.springframework.data.jpa.repository.Lock;
import org.springframework.data.jpa.repository.Query;

/** All blocks of the current vineyard. */
interface Blocks extends JpaRepository<BlockEntity, UUID> {
    /** As the other modules see them, without their outlines. */
    @Query("""
            select new org.rootling.ground.Block(b.id, b.code, b.name, b.areaM2, b.rowSpacingM, b.vineSpacingM,
                                                 b.rowBearingDeg, b.rowCount, b.placeCount, b.version)
              from BlockEntity b where b.withdrawnAt is null order by b.code""")
    List<Block> shown();

    Optional<BlockEntity> findByCodeAndWithdrawnAtIsNull(String code);

    /** The block as it is now, and nobody else changes it until the transaction ends. */
    @Lock(LockModeType.PESSIMISTIC_WRITE)
    Optional<BlockEntity> findForChangeByCodeAndWithdrawnAtIsNull(String code);
}
