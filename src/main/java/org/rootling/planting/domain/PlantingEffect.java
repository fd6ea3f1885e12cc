package org.rootling.planting.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.rootling.nursery.Lots;
import org.rootling.people.Vineyards;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.Sighting;
import org.rootling.planting.Vine;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.work.Found;
import org.rootling.work.LoggedWork;
import org.rootling.work.StepEffect;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * What logged work does to vines. Planting moves them from their lot into the places; what was found while planting goes
 * to the ledger or stays as a note. On every other step, dead and missing vines that were found become sightings.
 */
@Component
@Order(10)
@Transactional(propagation = Propagation.MANDATORY)
class PlantingEffect implements StepEffect {

    private static final String PLANT = "PLANT";
    private static final Set<String> ON_VINES = Set.of("WATER_IN", "GUARD", "TIE_IN", "PICK_SHOOTS");
    private static final String REASON = "found while planting";

    private final Vines vines;
    private final VineStore store;
    private final Lots lots;
    private final Vineyards vineyards;

    PlantingEffect(Vines vines, VineStore store, Lots lots, Vineyards vineyards) {
        this.vines = vines;
        this.store = store;
        this.lots = lots;
        this.vineyards = vineyards;
    }

    @Override
    public boolean handles(String step) {
        return true;
    }

    @Override
    public void logged(LoggedWork work) {
        if (PLANT.equals(work.step())) {
            plant(work);
        } else {
            if (ON_VINES.contains(work.step())) {
                refuseBeforePlanting(work);
            }
            see(work);
        }
    }

    /** What is done to a vine cannot have been done before it stood there, unless to the one before it. */
    private void refuseBeforePlanting(LoggedWork work) {
        for (Vine vine : vines.inRow(work.rowId())) {
            if (work.places().contains(vine.place())
                    && work.on().isBefore(vine.plantedOn())
                    && store.formerly(work.rowId(), vine.place()).isEmpty()) {
                throw new Refused("planting.work.before-planting", vine.place(), vine.plantedOn());
            }
        }
    }

    /**
     * The places of the log hold a vine afterwards, and no others: so lot, row and task agree. A vine found no good at one
     * of them was thrown away and another planted; at any other place it was thrown away and the place stays empty.
     */
    private void plant(LoggedWork work) {
        UUID lot = work.lotId();
        if (lot == null) {
            throw new Refused("planting.plant.no-lot");
        }
        SortedSet<Integer> places = work.places();
        int lost = 0;
        int rejected = 0;
        for (Found found : work.found()) {
            switch (found.what()) {
                case "wrong-variety" -> rejected++;
                case "broken", "no-root", "dead", "missing" -> lost++;
                default -> {}
            }
            store.insertPlaceNote(work.rowId(), found.place(), found.what(), work.on(), work.by(), work.logId());
        }
        if (!places.isEmpty()) {
            vines.plant(new NewPlanting(work.logId(), work.rowId(), places, lot, work.on(), work.by()));
        }
        if (lost > 0) {
            lots.lose(lot, lost, work.on(), Lots.Loss.LOST, REASON, work.logId());
        }
        if (rejected > 0) {
            lots.lose(lot, rejected, work.on(), Lots.Loss.REJECTED, REASON, work.logId());
        }
    }

    private void see(LoggedWork work) {
        if (work.found().isEmpty()) {
            return;
        }
        Map<VineState, SortedSet<Integer>> seen = new EnumMap<>(VineState.class);
        Set<Integer> standing =
                vines.inRow(work.rowId()).stream().map(Vine::place).collect(Collectors.toSet());
        for (Found found : work.found()) {
            // Before anything was planted there is no vine to be dead or missing; what was seen stays with the place.
            switch (standing.contains(found.place()) ? found.what() : "") {
                case "dead" ->
                    seen.computeIfAbsent(VineState.DEAD, k -> new TreeSet<>()).add(found.place());
                case "missing" ->
                    seen.computeIfAbsent(VineState.MISSING, k -> new TreeSet<>())
                            .add(found.place());
                default ->
                    store.insertPlaceNote(
                            work.rowId(), found.place(), found.what(), work.on(), work.by(), work.logId());
            }
        }
        List<Sighting> sightings = new ArrayList<>();
        seen.forEach((state, places) -> sightings.add(new Sighting(state, places)));
        if (!sightings.isEmpty()) {
            vines.walk(work.rowId(), sightings, work.on(), null, work.by(), work.logId());
        }
    }

    @Override
    public void undone(LoggedWork work) {
        LocalDate today = vineyards.today();
        UUID acting = Tenancy.accountOrNull();
        UUID by = acting == null ? work.by() : acting;
        if (PLANT.equals(work.step())) {
            if (store.lockPlanting(work.logId()).isPresent()) {
                vines.undo(work.logId(), today, by);
            } else if (lossesOnly(work)) {
                lots.undoPlant(work.logId(), today);
            }
        }
        store.withdrawLog(work.logId());
    }

    private static boolean lossesOnly(LoggedWork work) {
        return work.found().stream().anyMatch(f -> !f.what().equals("hole-too-wet"));
    }
}
