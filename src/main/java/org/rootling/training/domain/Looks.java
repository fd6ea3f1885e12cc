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
import org.rootling.platform.UnitText;
import org.rootling.training.ShootCount;
import org.rootling.training.calc.Bbch;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** One look at one vine: state, shoots, height, stage and note together, all or nothing. */
@Service
@Transactional
public class Looks {

    /** A height that falls to less than half within so many days needs a word: it may be in another unit. */
    private static final int ONE_SUMMER_DAYS = 120;

    private final Vines vines;
    private final Shoots shoots;
    private final Stages stages;
    private final UnitText units;

    Looks(Vines vines, Shoots shoots, Stages stages, UnitText units) {
        this.vines = vines;
        this.shoots = shoots;
        this.stages = stages;
        this.units = units;
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
        Integer height = seen.heightCm();
        if (height != null && text == null) {
            requireNoFall(vineId, height, on);
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

    private void requireNoFall(UUID vineId, int height, LocalDate on) {
        for (ShootCount before : shoots.ofVine(vineId)) {
            Integer was = before.heightCm();
            if (was != null && before.on().isBefore(on)) {
                if (height * 2 < was && before.on().plusDays(ONE_SUMMER_DAYS).isAfter(on)) {
                    throw new Refused(
                                    "training.shoots.fell", units.height(height, 0), units.height(was, 0), before.on())
                            .at("height");
                }
                return;
            }
        }
    }
}
