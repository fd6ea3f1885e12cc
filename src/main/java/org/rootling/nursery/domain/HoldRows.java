package org.rootling.nursery.domain;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All holds. */
interface HoldRows extends JpaRepository<HoldRow, UUID> {}
