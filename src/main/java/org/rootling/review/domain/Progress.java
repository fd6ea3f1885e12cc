package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Level;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Members;
import org.rootling.planting.LotTally;
import org.rootling.planting.Tally;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.review.calc.Reorder;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How far the vineyard is, from kept sums only: as much work for a hundred vines as for a million. */
@Service
@Transactional(readOnly = true)
public class Progress {

    /**
     * Vines of a lot that wait in one place.
     *
     * @param where the store's name; null for vines placed nowhere yet or lifted
     * @param level how pressing; null where no clock runs because they stand nowhere
     * @param until the day their time is up; null where it is not within a year or cannot be told
     */
    public record Waiting(
            String lot,
            String variety,
            String rootstock,
            int count,
            @Nullable String where,
            boolean lifted,
            @Nullable Level level,
            @Nullable LocalDate until) {

        boolean pressing() {
            return level == null || level != Level.EASY;
        }
    }

    /**
     * Places and vines of a block, or of a kind of vine.
     *
     * @param code block code, or variety
     * @param second block name, or rootstock
     * @param places planting positions; 0 where it makes no sense
     */
    public record Line(String code, String second, int places, Tally tally) {
        public int empty() {
            return Math.max(0, places - tally.present());
        }

        public int of(String state) {
            return tally.of(VineState.valueOf(state));
        }
    }

    /** What to reorder of a variety on a rootstock. */
    public record ReorderLine(String variety, String rootstock, Reorder order) {}

    /** Open tasks of one person (null: of nobody). */
    public record Duty(@Nullable UUID account, String name, int late, int soon, int later) {}

    /** Open tasks by when they are due, and by whom. */
    public record Due(List<Task> late, List<Task> soon, int open, List<Duty> byPerson) {}

    /** Everything the page of counts says. */
    public record Count(
            List<Waiting> waiting,
            int waitingVines,
            List<Line> blocks,
            List<Line> kinds,
            Line all,
            Due due,
            List<ReorderLine> reorder,
            List<Block> ground) {}

    /** What the first page says. */
    public record Today(
            List<Waiting> pressing,
            int waitingVines,
            Line all,
            Due due,
            boolean anyLot,
            boolean anyHold,
            List<Block> ground,
            List<LotTally> tallies) {

        public boolean anyBlock() {
            return !ground.isEmpty();
        }

        public boolean anyTask() {
            return due.open() > 0;
        }

        public boolean begun() {
            return anyLot || anyBlock() || anyTask();
        }
    }

    /** Due within so many days counts as soon. */
    public static final int SOON_DAYS = 7;

    private final Lots lots;
    private final Ground ground;
    private final Vines vines;
    private final Tasks tasks;
    private final Members members;

    Progress(Lots lots, Ground ground, Vines vines, Tasks tasks, Members members) {
        this.lots = lots;
        this.ground = ground;
        this.vines = vines;
        this.tasks = tasks;
        this.members = members;
    }

    /**
     * The page of counts.
     *
     * @param spareShare spares to reorder, as a share of the vines needed
     * @param bundle vines in a bundle
     */
    public Count count(LocalDate today, double spareShare, int bundle) {
        List<Lot> all = lots.all();
        List<Waiting> waiting = waiting(all);
        List<Block> blocks = ground.blocks();
        List<LotTally> tallies = vines.lotTallies();
        Map<UUID, Tally> byBlock = new HashMap<>();
        tallies.forEach(t -> byBlock.merge(t.blockId(), t.tally(), Tally::plus));
        List<Line> blockLines = blocks.stream()
                .map(b -> new Line(b.code(), b.name(), b.places(), byBlock.getOrDefault(b.id(), Tally.NONE)))
                .toList();
        List<Task> open = tasks.open();
        List<Line> kinds = kinds(all, tallies);
        return new Count(
                waiting,
                waiting.stream().mapToInt(Waiting::count).sum(),
                blockLines,
                kinds,
                sum(blockLines),
                due(today, open),
                reorder(all, kinds, open, spareShare, bundle),
                blocks);
    }

    public Today today(LocalDate today) {
        List<Lot> all = lots.all();
        List<Waiting> waiting = waiting(all);
        List<Block> blocks = ground.blocks();
        List<LotTally> tallies = vines.lotTallies();
        Tally tally = Tally.sum(tallies.stream().map(LotTally::tally).toList());
        return new Today(
                waiting.stream().filter(Waiting::pressing).toList(),
                waiting.stream().mapToInt(Waiting::count).sum(),
                new Line("", "", blocks.stream().mapToInt(Block::places).sum(), tally),
                due(today, tasks.open()),
                !all.isEmpty(),
                all.stream().anyMatch(lot -> lot.held() > 0 || lot.planted() > 0),
                blocks,
                tallies);
    }

    private static Line sum(List<Line> lines) {
        return new Line(
                "",
                "",
                lines.stream().mapToInt(Line::places).sum(),
                Tally.sum(lines.stream().map(Line::tally).toList()));
    }

    /** Holds as the nursery orders them, most pressing first; before them what stands nowhere. */
    private List<Waiting> waiting(List<Lot> all) {
        List<Waiting> waiting = new ArrayList<>();
        for (Lot lot : all) {
            if (lot.unplaced() > 0) {
                waiting.add(new Waiting(
                        lot.code(), lot.variety(), lot.rootstock(), lot.unplaced(), null, false, null, null));
            }
            if (lot.lifted() > 0) {
                waiting.add(
                        new Waiting(lot.code(), lot.variety(), lot.rootstock(), lot.lifted(), null, true, null, null));
            }
        }
        for (Hold hold : lots.holds()) {
            waiting.add(new Waiting(
                    hold.lotCode(),
                    hold.variety(),
                    hold.rootstock(),
                    hold.count(),
                    hold.store(),
                    false,
                    hold.level(),
                    hold.runsOutOn()));
        }
        return waiting;
    }

    private record Kind(String variety, String rootstock) implements Comparable<Kind> {
        static Kind of(Lot lot) {
            return new Kind(lot.variety(), lot.rootstock());
        }

        @Override
        public int compareTo(Kind other) {
            return Comparator.comparing(Kind::variety)
                    .thenComparing(Kind::rootstock)
                    .compare(this, other);
        }
    }

    private static List<Line> kinds(List<Lot> all, List<LotTally> tallies) {
        Map<UUID, Kind> kinds = new HashMap<>();
        all.forEach(lot -> kinds.put(lot.id(), Kind.of(lot)));
        Map<Kind, Tally> sums = new TreeMap<>();
        for (LotTally tally : tallies) {
            Kind kind = kinds.get(tally.lotId());
            if (kind != null) {
                sums.merge(kind, tally.tally(), Tally::plus);
            }
        }
        return sums.entrySet().stream()
                .map(e -> new Line(e.getKey().variety(), e.getKey().rootstock(), 0, e.getValue()))
                .toList();
    }

    /** What to reorder for the dead and missing, less what is in hand and not yet meant for a planting task. */
    private static List<ReorderLine> reorder(
            List<Lot> all, List<Line> kinds, List<Task> open, double spareShare, int bundle) {
        Map<UUID, Integer> meant = new HashMap<>();
        for (Task task : open) {
            if (task.step().equals("PLANT") && task.lotId() != null) {
                meant.merge(task.lotId(), Math.max(0, task.quantity() - task.done()), Integer::sum);
            }
        }
        Map<Kind, Integer> inHand = new HashMap<>();
        for (Lot lot : all) {
            int free = Math.max(0, lot.balance() - meant.getOrDefault(lot.id(), 0));
            inHand.merge(Kind.of(lot), free, Integer::sum);
        }
        List<ReorderLine> lines = new ArrayList<>();
        for (Line kind : kinds) {
            int gaps = kind.tally().of(VineState.DEAD) + kind.tally().of(VineState.MISSING);
            if (gaps > 0) {
                int free = inHand.getOrDefault(new Kind(kind.code(), kind.second()), 0);
                lines.add(new ReorderLine(kind.code(), kind.second(), Reorder.of(gaps, free, spareShare, bundle)));
            }
        }
        return lines;
    }

    private Due due(LocalDate today, List<Task> all) {
        Map<UUID, String> names = members.names();
        List<Task> late = new ArrayList<>();
        List<Task> soon = new ArrayList<>();
        Map<UUID, int[]> byPerson = new HashMap<>();
        int[] nobody = new int[3];
        int open = 0;
        for (Task task : all) {
            open++;
            LocalDate day = task.due();
            int when = day == null || day.isAfter(today.plusDays(SOON_DAYS)) ? 2 : day.isBefore(today) ? 0 : 1;
            if (when == 0) {
                late.add(task);
            } else if (when == 1) {
                soon.add(task);
            }
            if (task.people().isEmpty()) {
                nobody[when]++;
            }
            task.people().forEach(person -> byPerson.computeIfAbsent(person, p -> new int[3])[when]++);
        }
        Comparator<Task> byDay =
                Comparator.comparing(Task::due, Comparator.nullsLast(Comparator.<LocalDate>naturalOrder()));
        late.sort(byDay);
        soon.sort(byDay);
        List<Duty> duties = new ArrayList<>();
        byPerson.forEach((person, counts) ->
                duties.add(new Duty(person, names.getOrDefault(person, "?"), counts[0], counts[1], counts[2])));
        duties.sort(Comparator.comparing(Duty::name));
        if (nobody[0] + nobody[1] + nobody[2] > 0) {
            duties.add(new Duty(null, "", nobody[0], nobody[1], nobody[2]));
        }
        return new Due(late, soon, open, duties);
    }
}
