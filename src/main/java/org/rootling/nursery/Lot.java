package org.rootling.nursery;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A nursery lot: vines of one variety, clone and rootstock that came together.
 *
 * @param code short code on its label, such as 27-A
 * @param varietyColour name of a {@link VineColour}
 * @param nursery name of the nursery that supplied it
 * @param passport traceability code of its plant passport, as far as known
 * @param received day of delivery
 * @param count vines it came with, less those split off
 * @param balance vines not yet planted, rejected, returned or lost
 * @param unplaced of these, vines that stand nowhere yet
 * @param lifted of these, vines lifted for planting
 * @param held of these, vines in beds and stores
 * @param planted vines planted from it
 */
public record Lot(
        UUID id,
        String code,
        String variety,
        String varietyColour,
        @Nullable String cloneName,
        String rootstock,
        String nursery,
        @Nullable String passport,
        LocalDate received,
        int count,
        int balance,
        int unplaced,
        int lifted,
        int held,
        int planted) {}
