package org.rootling.planting.domain;

import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.ground.RowGuard;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Rows do not move under the vines that stand in them. */
@Component
@Transactional(readOnly = true)
class VinesInTheGround implements RowGuard {

    private final VineStore store;

    VinesInTheGround(VineStore store) {
        this.store = store;
    }

    @Override
    public Optional<Refused> mayChange(UUID blockId) {
        int present = store.present(blockId);
        return present == 0 ? Optional.empty() : Optional.of(new Refused("planting.guard.vines-stand", present));
    }

    @Override
    public SortedSet<Integer> taken(UUID rowId) {
        return new TreeSet<>(store.taken(rowId));
    }
}
