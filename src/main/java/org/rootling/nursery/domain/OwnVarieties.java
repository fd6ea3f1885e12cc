package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All varieties the vineyard added. */
interface OwnVarieties extends JpaRepository<OwnVariety, UUID> {
    List<OwnVariety> findAllByWithdrawnAtIsNullOrderByName();
}
