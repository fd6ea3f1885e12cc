package org.rootling.ground;

import java.util.UUID;

/**
 * A block as the other modules see it.
 *
 * @param code short name, upper case, unique among the blocks in use
 * @param areaM2 inside the boundary, square metres, as on the map
 * @param rowSpacingM from row line to row line, metres; 0 before the first layout
 * @param vineSpacingM from vine to vine, metres; 0 before the first layout
 * @param rowBearingDeg degrees clockwise from north in the block's plane, which is the ground unrolled where it falls
 * @param rows lines with places
 * @param places planting positions in all rows
 */
public record Block(
        UUID id,
        String code,
        String name,
        double areaM2,
        double rowSpacingM,
        double vineSpacingM,
        double rowBearingDeg,
        int rows,
        int places,
        int version) {}
