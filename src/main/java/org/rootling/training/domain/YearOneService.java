package org.rootling.training.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.Vineyards;
import org.rootling.planting.LotTally;
import org.rootling.planting.RowTally;
import org.rootling.planting.Tally;
import org.rootling.planting.Vine;
import org.rootling.planting.Vines;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.training.BlockYear;
import org.rootling.training.CareItem;
import org.rootling.training.CareLine;
import org.rootling.training.CareTick;
import org.rootling.training.RowYear;
import org.rootling.training.YearOne;
import org.rootling.training.calc.CareFacts;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Due;
import org.rootling.training.calc.StageEstimates;
import org.rootling.training.calc.StageSeen;
import org.rootling.training.calc.Timing;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Brings checklist, planting days, stages, weather and ticks together. */
@Service
@Transactional
class YearOneService implements YearOne {

    /** Ticks of an item that is done once count whenever they were made. */
    private static final LocalDate ONCE = LocalDate.of(1990, 1, 1);

    /** A block whose plantings lie further apart than this is judged by the latest ones. */
    private static final int ONE_SPRING_DAYS = 200;

    private final Checklist checklist;
    private final CareStore store;
    private final Stages stages;
    private final SiteWeather weather;
    private final Vines vines;
    private final Ground ground;
    private final Vineyards vineyards;

    YearOneService(
            Checklist checklist,
            CareStore store,
            Stages stages,
            SiteWeather weather,
            Vines vines,
            Ground ground,
            Vineyards vineyards) {
        this.checklist = checklist;
        this.store = store;
        this.stages = stages;
        this.weather = weather;
        this.vines = vines;
        this.ground = ground;
        this.vineyards = vineyards;
    }

    @Override
    public List<BlockYear> blocks() {
        return blocks(ground.blocks(), vines.lotTallies());
    }

    @Override
    public List<BlockYear> blocks(List<Block> all, List<LotTally> planted) {
        Map<UUID, Tally> tallies = planted.stream()
                .filter(t -> t.tally().present() > 0)
                .collect(Collectors.toMap(LotTally::blockId, LotTally::tally, Tally::plus));
        if (tallies.isEmpty()) {
            return List.of();
        }
        LocalDate today = vineyards.today();
        SiteWeather.Series site =
                weather.since(earliest(tallies.values().stream().toList()), today);
        Map<UUID, List<StageSeen>> seen = stages.byBlock();
        Map<UUID, Map<UUID, CareStore.Kept>> kept = new HashMap<>();
        for (CareStore.Kept one : store.keptTallies()) {
            kept.computeIfAbsent(one.blockId(), k -> new HashMap<>()).put(one.itemId(), one);
        }
        List<CareItem> items = checklist.items();
        StageEstimates learned = stages.learned(seen, () -> planted);
        // Blocks planted on the same days in which the same was seen are due the same.
        record Alike(@Nullable LocalDate first, @Nullable LocalDate last, List<StageSeen> seen) {}
        Map<Alike, Map<UUID, Due>> due = new HashMap<>();
        List<BlockYear> years = new ArrayList<>();
        for (Block block : all) {
            Tally tally = tallies.get(block.id());
            if (tally == null) {
                continue;
            }
            Alike alike =
                    new Alike(tally.firstPlanted(), tally.lastPlanted(), seen.getOrDefault(block.id(), List.of()));
            Map<UUID, Due> dues =
                    due.computeIfAbsent(alike, a -> dues(items, facts(tally, today, site, a.seen(), learned)));
            Map<UUID, CareStore.Kept> ofBlock = kept.getOrDefault(block.id(), Map.of());
            List<CareLine> lines = lines(items, dues, tally.alive(), round -> {
                CareStore.Kept count = ofBlock.get(round.item().id());
                return count != null && count.roundFrom().equals(round.since()) ? count.places() : 0;
            });
            years.add(new BlockYear(block, tally, lines));
        }
        return years;
    }

    @Override
    public Optional<BlockYear> block(UUID blockId) {
        Block block = ground.block(blockId).orElseThrow(() -> new NotFound("block"));
        Tally tally = blockTally(blockId);
        if (tally.present() == 0) {
            return Optional.empty();
        }
        List<CareItem> items = checklist.items();
        Map<UUID, Due> dues = dues(items, blockFacts(blockId, tally));
        Map<UUID, Integer> done = new HashMap<>();
        Map<UUID, Integer> alive = aliveByRow(blockId);
        for (CareStore.Covered one : store.covered(blockId, rounds(items, dues))) {
            done.merge(one.itemId(), Math.min(one.places(), alive.getOrDefault(one.rowId(), 0)), Integer::sum);
        }
        return Optional.of(new BlockYear(
                block,
                tally,
                lines(
                        items,
                        dues,
                        tally.alive(),
                        r -> done.getOrDefault(r.item().id(), 0))));
    }

    @Override
    public Map<UUID, Integer> openByRow(UUID blockId) {
        Tally tally = blockTally(blockId);
        if (tally.present() == 0) {
            return Map.of();
        }
        List<CareItem> items = checklist.items();
        Map<UUID, Due> dues = dues(items, blockFacts(blockId, tally));
        Map<UUID, Map<UUID, Integer>> done = new HashMap<>();
        for (CareStore.Covered one : store.covered(blockId, rounds(items, dues))) {
            done.computeIfAbsent(one.rowId(), k -> new HashMap<>()).put(one.itemId(), one.places());
        }
        Map<UUID, Integer> open = new HashMap<>();
        for (RowTally row : vines.tallies(blockId)) {
            Map<UUID, Integer> ofRow = done.getOrDefault(row.rowId(), Map.of());
            List<CareLine> lines = lines(
                    items,
                    dues,
                    row.tally().alive(),
                    r -> ofRow.getOrDefault(r.item().id(), 0));
            open.put(row.rowId(), (int) lines.stream().filter(CareLine::open).count());
        }
        return open;
    }

    @Override
    public RowYear row(UUID rowId) {
        return row(ground.row(rowId).orElseThrow(() -> new NotFound("row")), vines.inRow(rowId));
    }

    @Override
    public RowYear row(Row row, List<Vine> standing) {
        List<Vine> alive = standing.stream().filter(v -> v.state().alive()).toList();
        List<CareTick> ticks = store.ticks(row.id());
        if (alive.isEmpty()) {
            return new RowYear(List.of(), ticks);
        }
        LocalDate first = alive.stream()
                .map(Vine::plantedOn)
                .min(Comparator.naturalOrder())
                .orElseThrow();
        LocalDate last = alive.stream()
                .map(Vine::plantedOn)
                .max(Comparator.naturalOrder())
                .orElseThrow();
        LocalDate today = vineyards.today();
        CareFacts facts = facts(
                new Tally(Map.of(), first, last),
                today,
                weather.since(first, today),
                stages.ofBlock(row.blockId()),
                stages.learned());
        List<CareItem> items = checklist.items();
        List<CareLine> lines = lines(items, dues(items, facts), alive.size(), round -> (int) alive.stream()
                .filter(v -> ticks.stream()
                        .anyMatch(t -> t.itemId().equals(round.item().id())
                                && t.places().contains(v.place())
                                && !t.on().isBefore(round.since())
                                && !t.on().isBefore(v.plantedOn())))
                .count());
        return new RowYear(lines, ticks);
    }

    @Override
    public void tick(
            Collection<UUID> itemIds,
            Map<UUID, SortedSet<Integer>> runs,
            LocalDate on,
            @Nullable String note,
            UUID by,
            @Nullable UUID logId) {
        List<CareItem> items =
                checklist.items().stream().filter(i -> itemIds.contains(i.id())).toList();
        if (items.size() < itemIds.size()) {
            throw new NotFound("checklist item");
        }
        if (items.isEmpty()) {
            throw new Refused("training.tick.no-items").at("items");
        }
        if (runs.isEmpty()) {
            throw new Refused("training.tick.no-places").at("places");
        }
        if (on.isAfter(vineyards.today())) {
            throw new Refused("training.date.ahead").at("on");
        }
        String text = note == null || note.isBlank() ? null : note.strip();
        Set<UUID> blocks = new LinkedHashSet<>();
        runs.forEach((rowId, places) -> {
            Row row = ground.row(rowId).orElseThrow(() -> new NotFound("row"));
            SortedSet<Integer> covered = coverable(row, places, on);
            items.forEach(i -> store.insertTick(i.id(), row.blockId(), rowId, covered, on, text, by, logId));
            blocks.add(row.blockId());
        });
        blocks.forEach(block -> items.forEach(item -> keepTally(item, block)));
    }

    /** Those of the places whose vine lived and stood there on that day. */
    private SortedSet<Integer> coverable(Row row, SortedSet<Integer> places, LocalDate on) {
        if (places.isEmpty()) {
            throw new Refused("training.tick.no-places").at("places");
        }
        if (places.first() < 1 || places.last() > row.places()) {
            throw new Refused("training.tick.outside", row.number(), row.places()).at("places");
        }
        List<Vine> living = vines.inRow(row.id()).stream()
                .filter(v -> v.state().alive() && places.contains(v.place()))
                .toList();
        if (living.isEmpty()) {
            throw new Refused("training.tick.no-vines", row.number()).at("places");
        }
        SortedSet<Integer> covered = living.stream()
                .filter(v -> !on.isBefore(v.plantedOn()))
                .map(Vine::place)
                .collect(Collectors.toCollection(TreeSet::new));
        if (covered.isEmpty()) {
            throw new Refused("training.tick.before-planting", row.number()).at("on");
        }
        return covered;
    }

    @Override
    public void untick(UUID tickId, UUID by) {
        CareStore.Withdrawn gone = store.withdrawTick(tickId, by).orElseThrow(() -> new NotFound("tick"));
        checklist.item(gone.itemId()).ifPresent(item -> keepTally(item, gone.blockId()));
    }

    /** Withdraws what a field log ticked, when the log is undone. */
    void untickLog(UUID logId, UUID by) {
        for (CareStore.Withdrawn gone : store.withdrawLog(logId, by)) {
            checklist.item(gone.itemId()).ifPresent(item -> keepTally(item, gone.blockId()));
        }
    }

    @Override
    @Transactional(readOnly = true)
    public List<CareTick> ticks(UUID rowId) {
        return store.ticks(rowId);
    }

    private void keepTally(CareItem item, UUID blockId) {
        Tally tally = blockTally(blockId);
        if (tally.present() == 0) {
            return;
        }
        LocalDate since = since(item, item.rule().on(blockFacts(blockId, tally)));
        Map<UUID, Integer> alive = aliveByRow(blockId);
        int places = store.covered(blockId, Map.of(item.id(), since)).stream()
                .mapToInt(c -> Math.min(c.places(), alive.getOrDefault(c.rowId(), 0)))
                .sum();
        store.keepBlockTally(blockId, item.id(), since, places);
    }

    private Map<UUID, Integer> aliveByRow(UUID blockId) {
        return vines.tallies(blockId).stream()
                .collect(Collectors.toMap(RowTally::rowId, r -> r.tally().alive()));
    }

    private Tally blockTally(UUID blockId) {
        return Tally.sum(vines.lotTallies().stream()
                .filter(t -> t.blockId().equals(blockId))
                .map(LotTally::tally)
                .toList());
    }

    private CareFacts blockFacts(UUID blockId, Tally tally) {
        LocalDate today = vineyards.today();
        return facts(
                tally,
                today,
                weather.since(earliest(List.of(tally)), today),
                stages.ofBlock(blockId),
                stages.learned());
    }

    private CareFacts facts(
            Tally tally, LocalDate today, SiteWeather.Series site, List<StageSeen> seen, StageEstimates learned) {
        LocalDate last = tally.lastPlanted();
        LocalDate first = tally.firstPlanted();
        if (last == null || first == null) {
            throw new IllegalArgumentException("nothing is planted there");
        }
        LocalDate from = first.isBefore(last.minusDays(ONE_SPRING_DAYS)) ? last : first;
        List<StageSeen> all = new ArrayList<>(seen);
        all.addAll(stages.expected(learned, site.heat(), from, today));
        return new CareFacts(today, from, last, vineyards.current().southern(), all, site.heat(), site.rain());
    }

    private static LocalDate earliest(List<Tally> tallies) {
        return tallies.stream()
                .map(Tally::firstPlanted)
                .filter(Objects::nonNull)
                .min(Comparator.naturalOrder())
                .orElseThrow();
    }

    /** An item's current round: from which day on ticks count. */
    private record Round(CareItem item, LocalDate since) {}

    private static LocalDate since(CareItem item, Due due) {
        CareRule rule = item.rule();
        LocalDate from = due.from();
        boolean returns = rule.repeatDays() != null || rule.timing() instanceof Timing.AfterRain;
        return returns && from != null ? from : ONCE;
    }

    /** The current round of each item, by item id. */
    private static Map<UUID, Due> dues(List<CareItem> items, CareFacts facts) {
        Map<UUID, Due> dues = new HashMap<>();
        items.forEach(item -> dues.put(item.id(), item.rule().on(facts)));
        return dues;
    }

    private static Map<UUID, LocalDate> rounds(List<CareItem> items, Map<UUID, Due> dues) {
        Map<UUID, LocalDate> since = new HashMap<>();
        items.forEach(item -> since.put(item.id(), since(item, due(dues, item))));
        return since;
    }

    private static Due due(Map<UUID, Due> dues, CareItem item) {
        return Objects.requireNonNull(dues.get(item.id()));
    }

    private static List<CareLine> lines(
            List<CareItem> items, Map<UUID, Due> dues, int alive, ToIntFunction<Round> done) {
        Map<UUID, CareLine> lines = new LinkedHashMap<>();
        for (CareItem item : items) {
            Due due = due(dues, item);
            int covered = Math.min(alive, done.applyAsInt(new Round(item, since(item, due))));
            lines.put(item.id(), new CareLine(item, due, covered, alive, null));
        }
        return lines.values().stream()
                .map(line -> {
                    UUID after = line.item().afterItemId();
                    CareLine before = after == null ? null : lines.get(after);
                    return before == null || before.done() >= alive
                            ? line
                            : new CareLine(
                                    line.item(),
                                    line.due(),
                                    line.done(),
                                    alive,
                                    before.item().name());
                })
                .sorted(Comparator.comparing(CareLine::standing))
                .toList();
    }
}
