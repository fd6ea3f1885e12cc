package org.rootling.ground;

import java.util.Optional;
import java.util.SortedSet;
import java.util.UUID;
import org.rootling.platform.Refused;

/** Implemented by whoever has put something into the places of a row, so that the ground does not move under it. */
public interface RowGuard {

    /** Why the rows of this block may not be laid out anew; empty when they may. */
    Optional<Refused> mayChange(UUID blockId);

    /** Places of this row in which something stands or stood. */
    SortedSet<Integer> taken(UUID rowId);
}
