package org.rootling.planting.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lots;
import org.rootling.people.Vineyards;
import org.rootling.planting.LotTally;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.PlaceNote;
import org.rootling.planting.PlaceSets;
import org.rootling.planting.RowTally;
import org.rootling.planting.Sighting;
import org.rootling.planting.Vine;
import org.rootling.planting.VineEvent;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.planting.VinesPlanted;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The rules of planting and of what may be said of a vine. */
@Service
@Transactional
class VineService implements Vines {

    private final VineStore store;
    private final Ground ground;
    private final Lots lots;
    private final Vineyards vineyards;
    private final ApplicationEventPublisher events;

    VineService(VineStore store, Ground ground, Lots lots, Vineyards vineyards, ApplicationEventPublisher events) {
        this.store = store;
        this.ground = ground;
        this.lots = lots;
        this.vineyards = vineyards;
        this.events = events;
    }

    @Override
    public void plant(NewPlanting p) {
        Row row = ground.hold(p.rowId());
        requirePlaces(row, p.places());
        requireNotAhead(p.on());
        store.lockRow(p.rowId());
        List<Vine> standing = store.lock(p.rowId(), p.places());
        SortedSet<Integer> taken =
                places(standing.stream().filter(v -> v.state().alive()).toList());
        if (!taken.isEmpty()) {
            throw new Refused("planting.plant.taken", PlaceSets.words(taken)).at("places");
        }
        SortedSet<Integer> younger = places(
                standing.stream().filter(v -> v.plantedOn().isAfter(p.on())).toList());
        if (!younger.isEmpty()) {
            throw new Refused("planting.plant.before-old", PlaceSets.words(younger)).at("on");
        }
        lots.plant(p.lotId(), p.places().size(), p.on(), p.reference());
        UUID bed = lots.storeBefore(p.reference()).orElse(null);
        store.insertPlanting(p.reference(), p.rowId(), p.lotId(), p.places(), p.on(), p.by(), bed);
        if (!standing.isEmpty()) {
            store.endReplaced(p.rowId(), places(standing), p.reference(), p.on());
        }
        store.insertVines(p.reference(), row.blockId(), p.rowId(), p.lotId(), p.places(), p.on(), p.by());
        events.publishEvent(new VinesPlanted(
                Tenancy.require(),
                p.reference(),
                p.rowId(),
                p.lotId(),
                p.places().size(),
                p.on()));
    }

    @Override
    public void undo(UUID plantingId, LocalDate on, UUID by) {
        VineStore.Planted planted = store.lockPlanting(plantingId).orElseThrow(() -> new NotFound("planting"));
        if (planted.undone()) {
            throw new Refused("planting.undo.already");
        }
        requireNotAhead(on);
        if (on.isBefore(planted.on())) {
            throw new Refused("planting.undo.before-planting", planted.on()).at("on");
        }
        List<Integer> replaced = store.replacedSince(plantingId);
        if (!replaced.isEmpty()) {
            throw new Refused("planting.undo.replaced", PlaceSets.words(replaced));
        }
        store.lock(planted.rowId(), planted.places());
        lots.undoPlant(plantingId, on);
        store.undo(plantingId, on, by);
    }

    @Override
    public void observe(
            UUID rowId, SortedSet<Integer> places, VineState state, LocalDate on, @Nullable String note, UUID by) {
        walk(rowId, List.of(new Sighting(state, places)), on, note, by, null);
    }

    @Override
    public void walk(
            UUID rowId, List<Sighting> sightings, LocalDate on, @Nullable String note, UUID by, @Nullable UUID logId) {
        SortedSet<Integer> all = new TreeSet<>();
        for (Sighting sighting : sightings) {
            if (!VineState.SEEN.contains(sighting.state())) {
                throw new Refused("planting.walk.not-a-sight").at("state");
            }
            SortedSet<Integer> twice = new TreeSet<>(sighting.places());
            twice.retainAll(all);
            if (!twice.isEmpty()) {
                throw new Refused("planting.walk.twice", PlaceSets.words(twice)).at("places");
            }
            all.addAll(sighting.places());
        }
        String reason = stripped(note);
        List<Vine> standing = standing(rowId, all, on);
        for (Sighting sighting : sightings) {
            if (sighting.places().isEmpty()) {
                continue;
            }
            requireReason(standing, sighting, on, reason);
            store.insertObservation(rowId, sighting.places(), sighting.state(), reason, null, on, by, logId);
            store.setState(rowId, sighting, on);
        }
    }

    @Override
    public void note(UUID rowId, SortedSet<Integer> places, String note, LocalDate on, UUID by) {
        String text = stripped(note);
        if (text == null) {
            throw new Refused("planting.note.empty").at("note");
        }
        standing(rowId, places, on);
        store.insertObservation(rowId, places, null, text, null, on, by, null);
    }

    @Override
    public void photo(
            UUID rowId, SortedSet<Integer> places, UUID picture, @Nullable String note, LocalDate on, UUID by) {
        standing(rowId, places, on);
        store.insertObservation(rowId, places, null, stripped(note), picture, on, by, null);
    }

    /** The present vines in these places, or a refusal where one has none or was not planted yet on that day. */
    private List<Vine> standing(UUID rowId, SortedSet<Integer> places, LocalDate on) {
        Row row = row(rowId);
        requirePlaces(row, places);
        requireNotAhead(on);
        List<Vine> standing = store.lock(rowId, places);
        SortedSet<Integer> without = new TreeSet<>(places);
        without.removeAll(places(standing));
        if (!without.isEmpty()) {
            throw new Refused("planting.walk.no-vine", PlaceSets.words(without)).at("places");
        }
        SortedSet<Integer> unplanted =
                places(standing.stream().filter(v -> on.isBefore(v.plantedOn())).toList());
        if (!unplanted.isEmpty()) {
            throw new Refused("planting.walk.before-planting", PlaceSets.words(unplanted)).at("on");
        }
        return standing;
    }

    /** A vine that lives after it was dead or missing, in the order of days, needs a reason. */
    private static void requireReason(List<Vine> standing, Sighting sighting, LocalDate on, @Nullable String reason) {
        if (reason != null) {
            return;
        }
        SortedSet<Integer> odd = places(standing.stream()
                .filter(v -> sighting.places().contains(v.place()))
                .filter(v -> on.isBefore(v.stateOn())
                        ? !sighting.state().alive() && v.state().alive()
                        : sighting.state().alive() && !v.state().alive())
                .toList());
        if (!odd.isEmpty()) {
            throw new Refused("planting.walk.needs-reason", PlaceSets.words(odd)).at("note");
        }
    }

    private Row row(UUID rowId) {
        return ground.row(rowId).orElseThrow(() -> new NotFound("row"));
    }

    private static void requirePlaces(Row row, SortedSet<Integer> places) {
        if (places.isEmpty()) {
            throw new Refused("planting.places.none").at("places");
        }
        if (places.first() < 1 || places.last() > row.places()) {
            throw new Refused("planting.places.outside", row.places()).at("places");
        }
    }

    private void requireNotAhead(LocalDate on) {
        if (on.isAfter(vineyards.today())) {
            throw new Refused("planting.date.ahead").at("on");
        }
    }

    private static SortedSet<Integer> places(List<Vine> vines) {
        return vines.stream().map(Vine::place).collect(Collectors.toCollection(TreeSet::new));
    }

    private static @Nullable String stripped(@Nullable String text) {
        return text == null || text.isBlank() ? null : text.strip();
    }

    @Override
    @Transactional(readOnly = true)
    public List<Vine> inRow(UUID rowId) {
        return store.inRow(rowId);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Vine> at(UUID rowId, int place) {
        return store.at(rowId, place);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Vine> byId(UUID id) {
        return store.byId(id);
    }

    @Override
    @Transactional(readOnly = true)
    public List<Vine> formerly(UUID rowId, int place) {
        return store.formerly(rowId, place);
    }

    @Override
    @Transactional(readOnly = true)
    public List<RowTally> tallies() {
        return store.tallies();
    }

    @Override
    @Transactional(readOnly = true)
    public List<RowTally> tallies(UUID blockId) {
        return store.tallies(blockId);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<RowTally> tally(UUID rowId) {
        return store.tally(rowId);
    }

    @Override
    @Transactional(readOnly = true)
    public List<LotTally> lotTallies() {
        return store.lotTallies();
    }

    @Override
    @Transactional(readOnly = true)
    public SortedMap<LocalDate, Integer> livingByDay(UUID blockId) {
        return store.livingByDay(blockId);
    }

    @Override
    @Transactional(readOnly = true)
    public List<VineEvent> history(UUID vineId) {
        return store.history(vineId);
    }

    @Override
    @Transactional(readOnly = true)
    public List<PlaceNote> placeNotes(UUID rowId) {
        return store.placeNotes(rowId);
    }
}
