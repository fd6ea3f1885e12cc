package org.rootling.trellis;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** What other modules may know of the trellis. */
public interface Trellis {
    /** The parts of each row of a block, in the rows' order; empty while the block has no plan. */
    List<RowParts> parts(UUID blockId);

    /** The plan of a block in short. */
    Optional<PlanFacts> plan(UUID blockId);

    /**
     * What one row is built from.
     *
     * @param wireRuns wires strung from end to end, pairs counted twice
     * @param wireM metres of wire with tails
     */
    record RowParts(UUID rowId, int endPosts, int linePosts, int wireRuns, double wireM, int stakes, int guards) {}

    /**
     * @param topM height of the end post's top, metres
     * @param wires lines of wire, pairs counted once
     * @param pullN pull on each end as tightened, newtons
     */
    record PlanFacts(UUID blockId, double topM, int wires, double pullN) {}
}
