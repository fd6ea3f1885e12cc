package org.rootling.people;

import java.util.Collection;
import java.util.Map;
import java.util.UUID;

/** What people call the records of a module, for pages that know only their ids; modules implement it. */
public interface RecordNames {

    /** Names of those of these records of the current vineyard that the module knows. */
    Map<UUID, String> names(Collection<UUID> ids);
}
