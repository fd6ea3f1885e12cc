package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All warnings. */
interface HoldWarnings extends JpaRepository<HoldWarning, UUID> {
    List<HoldWarning> findAllByClosedOnIsNull();
}
