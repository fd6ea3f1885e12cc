package org.rootling.training.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Row;
import org.rootling.planting.Vine;
import org.rootling.planting.VineMark;
import org.rootling.training.ShootCount;

/**
 * One place of a drawn row.
 *
 * @param vineId null where the place is empty
 * @param state state key, or empty
 * @param path outline in a box of 20 by 20
 */
public record PlaceMark(
        int place,
        @Nullable UUID vineId,
        String state,
        String path,
        @Nullable ShootCount shoots) {

    /** Every place of the row in order. */
    static List<PlaceMark> of(Row row, List<Vine> vines, Map<UUID, ShootCount> shoots) {
        Map<Integer, Vine> standing = new HashMap<>();
        vines.forEach(v -> standing.put(v.place(), v));
        List<PlaceMark> marks = new ArrayList<>();
        for (int place = 1; place <= row.places(); place++) {
            Vine vine = standing.get(place);
            VineMark mark = VineMark.of(vine == null ? null : vine.state());
            marks.add(new PlaceMark(
                    place,
                    vine == null ? null : vine.id(),
                    mark.key(),
                    mark.path(),
                    vine == null ? null : shoots.get(vine.id())));
        }
        return marks;
    }
}
