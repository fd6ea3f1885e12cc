package org.rootling.ground;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.rootling.platform.NotFound;

/** The blocks and rows of the current vineyard. Lists are in natural order: by code, by number. */
public interface Ground {

    List<Block> blocks();

    Optional<Block> block(UUID id);

    /** By code, upper or lower case. */
    Optional<Block> blockByCode(String code);

    /**
     * The block of that code.
     *
     * @throws NotFound when there is none
     */
    default Block requireBlock(String code) {
        return blockByCode(code).orElseThrow(() -> new NotFound("block"));
    }

    /** The rows in use, by number. */
    List<Row> rows(UUID blockId);

    /** The rows in use of several blocks, by number; a block without rows is not in it. */
    Map<UUID, List<Row>> rowsOf(Collection<UUID> blockIds);

    /** Metres of row from end post to end post of these blocks, of the rows in use; a block without rows is not in it. */
    Map<UUID, Double> rowMetres(Collection<UUID> blockIds);

    /** A row, also one that a later layout has replaced. */
    Optional<Row> row(UUID rowId);

    /** A row in use. */
    Optional<Row> row(String blockCode, int number);

    /** The rows in use before and after this one in its block, as far as there are. */
    List<Row> neighbours(Row row);

    /**
     * A row in use, held so until the transaction ends: whoever puts something into its places begins with this. Without
     * it a new layout could take the row away between the look and the deed.
     *
     * @throws org.rootling.platform.Refused when a later layout has replaced the row
     * @throws NotFound when there never was such a row
     */
    Row hold(UUID rowId);

    /** Those rows, also replaced ones, by block and number. */
    List<Row> rowsById(Collection<UUID> ids);

    /**
     * The row and places that a run names.
     *
     * @throws org.rootling.platform.Refused when there is no such block or row, or the row has not all of the places
     */
    ResolvedRun resolve(PlaceRun run);
}
