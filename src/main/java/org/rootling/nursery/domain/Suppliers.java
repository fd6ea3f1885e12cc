package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All nurseries. */
interface Suppliers extends JpaRepository<Supplier, UUID> {
    List<Supplier> findAllByWithdrawnAtIsNullOrderByName();
}
