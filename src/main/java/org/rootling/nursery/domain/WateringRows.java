package org.rootling.nursery.domain;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All waterings. */
interface WateringRows extends JpaRepository<WateringRow, UUID> {}
