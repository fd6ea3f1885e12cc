package org.rootling.people.domain;

import java.util.UUID;
import org.springframework.data.jpa.repository.JpaRepository;

/** All accounts that the current thread may see. */
interface Accounts extends JpaRepository<Account, UUID> {}
