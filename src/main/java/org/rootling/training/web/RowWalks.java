package org.rootling.training.web;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Row;
import org.rootling.planting.Sighting;
import org.rootling.planting.Vine;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Refused;
import org.rootling.training.domain.Shoots;
import org.springframework.stereotype.Component;

/** What is said of a row on a walk, from the page or from a phone that had no signal. */
@Component
class RowWalks {

    private final Vines vines;
    private final Shoots shoots;
    private final RunText runs;

    RowWalks(Vines vines, Shoots shoots, RunText runs) {
        this.vines = vines;
        this.shoots = shoots;
        this.runs = runs;
    }

    /** Records the exceptions and what is said of all others. */
    void walk(Row row, RowController.WalkForm form, UUID by) {
        vines.walk(row.id(), sightings(row, form), form.on(), form.note(), by, null);
    }

    /** Records shoots and heights, vine by vine. */
    void shoots(Row row, ShootsController.ShootsForm form, UUID by) {
        Map<Integer, Integer> counts = orEmpty(form.shoots());
        Map<Integer, Integer> heights = orEmpty(form.height());
        Map<Integer, Boolean> chosen = orEmpty(form.chosen());
        TreeSet<Integer> places = new TreeSet<>(counts.keySet());
        places.addAll(heights.keySet());
        places.addAll(chosen.keySet());
        Map<Integer, Shoots.Seen> seen = new TreeMap<>();
        for (int place : places) {
            seen.put(
                    place,
                    new Shoots.Seen(counts.get(place), heights.get(place), Boolean.TRUE.equals(chosen.get(place))));
        }
        shoots.record(row.id(), seen, form.on(), by);
    }

    private static <T> Map<Integer, T> orEmpty(@Nullable Map<Integer, T> typed) {
        return typed == null ? Map.of() : typed;
    }

    private List<Sighting> sightings(Row row, RowController.WalkForm form) {
        Map<VineState, SortedSet<Integer>> named = new EnumMap<>(VineState.class);
        named.put(VineState.GROWING, runs.places(row, form.growing(), "growing"));
        named.put(VineState.WEAK, runs.places(row, form.weak(), "weak"));
        named.put(VineState.NOT_MOVING, runs.places(row, form.notMoving(), "notMoving"));
        named.put(VineState.DEAD, runs.places(row, form.dead(), "dead"));
        named.put(VineState.MISSING, runs.places(row, form.missing(), "missing"));
        List<Sighting> sightings = new ArrayList<>();
        named.forEach((state, places) -> {
            if (!places.isEmpty()) {
                sightings.add(new Sighting(state, places));
            }
        });
        SortedSet<Integer> walked = runs.places(row, form.places(), "places");
        if (form.rest() != null) {
            SortedSet<Integer> rest = living(row.id(), walked.isEmpty() ? RunText.all(row) : walked);
            for (SortedSet<Integer> exceptions : named.values()) {
                rest.removeAll(exceptions);
            }
            if (!rest.isEmpty()) {
                sightings.add(new Sighting(form.rest(), rest));
            }
        }
        if (sightings.isEmpty()) {
            throw new Refused("training.walk.nothing");
        }
        return sightings;
    }

    /** Those of the places whose vine lives: what "all others" means on a walk. */
    SortedSet<Integer> living(UUID rowId, SortedSet<Integer> places) {
        return vines.inRow(rowId).stream()
                .filter(v -> v.state().alive() && places.contains(v.place()))
                .map(Vine::place)
                .collect(Collectors.toCollection(TreeSet::new));
    }
}
