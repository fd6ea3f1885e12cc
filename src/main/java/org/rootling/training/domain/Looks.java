package org.rootling.training.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.planting.Sighting;
import org.rootling.planting.Vine;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.training.calc.Bbch;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** One look at one vine: state, shoots, height, stage and note together, all or nothing. */
@Service
@Transactional
public class Looks {

    private final Vines vines;
    private final Shoots shoots;
    private final Stages stages;

    Looks(Vines vines, Shoots shoots, Stages stages) {
        this.vines = vines;
        this.shoots = shoots;
        this.stages = stages;
    }

    /**
     * Records what was seen; what is null or empty was not looked at.
     *
     * @param picture id of a photo kept with it
     */
    public void record(
            UUID vineId,
            @Nullable VineState state,
            Shoots.Seen seen,
            @Nullable Bbch stage,
            LocalDate on,
            @Nullable String note,
            @Nullable UUID picture,
            UUID by) {
        Vine vine = vines.byId(vineId).filter(Vine::present).orElseThrow(() -> new NotFound("vine"));
        TreeSet<Integer> here = new TreeSet<>(List.of(vine.place()));
        String text = note == null || note.isBlank() ? null : note.strip();
        if (state == null && seen.empty() && stage == null && text == null && picture == null) {
            throw new Refused("training.look.nothing");
        }
        if (state != null) {
            vines.walk(vine.rowId(), List.of(new Sighting(state, here)), on, note, by, null);
        } else if (text != null && picture == null) {
            vines.note(vine.rowId(), here, text, on, by);
        }
        if (picture != null) {
            vines.photo(vine.rowId(), here, picture, state == null ? text : null, on, by);
        }
        if (!seen.empty()) {
            shoots.record(vine.rowId(), Map.of(vine.place(), seen), on, by);
        }
        if (stage != null) {
            stages.recordVine(vineId, stage, on, note, by);
        }
    }
}
