package org.rootling.nursery;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Where the vines of lots stand in the vineyard now and how many of them live; the planting side tells, the nursery's trace
 * and the cost of a living vine rest on it. */
public interface PlantedOf {

    /**
     * A run of places with vines of one lot.
     *
     * @param places such as "B2 r7 3-18"
     * @param from first day on which vines of it were planted there
     * @param href path of the row's page inside the vineyard, null if there is none
     */
    record Stand(
            UUID lotId,
            String places,
            int vines,
            @Nullable LocalDate from,
            @Nullable String href) {}

    /** The runs of places of these lots, by lot and place. */
    List<Stand> standsOf(Collection<UUID> lotIds);

    /** How many vines of these lots live in their places, as last seen; lots without any may be left out. */
    Map<UUID, Integer> livingOf(Collection<UUID> lotIds);
}
