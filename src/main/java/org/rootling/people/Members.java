package org.rootling.people;

import java.util.List;
import java.util.Map;
import java.util.UUID;

/** The people of the current vineyard. */
public interface Members {

    /** Present members by name. */
    List<Member> list();

    /** Names of all who ever were members, by account id; for showing who did something. */
    Map<UUID, String> names();

    /** One person's name, or "?" where the account is not of this vineyard. */
    default String name(UUID accountId) {
        return names().getOrDefault(accountId, "?");
    }
}
