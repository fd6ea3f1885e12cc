package org.rootling.people;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/** The people of the current vineyard. */
public interface Members {

    /** Present members by name. */
    List<Member> list();

    /**
     * Names of all who ever were members, by account id; for showing who did something. Of people with the same name those
     * who came later have a number behind it.
     */
    Map<UUID, String> names();

    /** The language a member chose, for what is sent to them; English for who follows their browser. */
    Locale language(UUID accountId);

    /** One person's name, or "?" where the account is not of this vineyard. */
    default String name(UUID accountId) {
        return names().getOrDefault(accountId, "?");
    }
}
