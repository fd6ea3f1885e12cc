package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All rootstocks the vineyard added. */
interface OwnRootstocks extends JpaRepository<OwnRootstock, UUID> {
    List<OwnRootstock> findAllByWithdrawnAtIsNullOrderByName();
}
