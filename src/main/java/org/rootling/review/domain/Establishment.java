package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Members;
import org.rootling.planting.RowTally;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.review.calc.LifeTable;
import org.rootling.review.calc.LogRank;
import org.rootling.review.calc.ShareComparison;
import org.rootling.review.calc.ShareInterval;
import org.rootling.review.calc.SurvivalCurve;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whether the young vines take: shares alive, comparisons and survival over time, by what they have in common. */
@Service
@Transactional(readOnly = true)
public class Establishment {

    /** What vines are grouped by. */
    public enum By {
        BLOCK,
        LOT,
        VARIETY,
        ROOTSTOCK,
        PLANTER,
        DAY;

        public String key() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }

    /**
     * A group of vines.
     *
     * @param planted all that were ever planted, replaced ones included
     * @param seen of these, looked at since planting: what the share is of
     * @param alive of those seen, alive when last seen
     * @param lost dead or missing
     * @param unseen not looked at since planting
     * @param interval share alive of those seen; null where none was seen
     */
    public record Group(
            String name,
            int planted,
            int seen,
            int alive,
            int lost,
            int unseen,
            @Nullable ShareInterval interval) {}

    /**
     * The review by one grouping.
     *
     * @param groups by name
     * @param all everything together
     * @param pairs comparisons among {@code compared} groups, most different first
     * @param compared groups that were compared: those seen, the largest ones where there are many
     * @param curves survival of the largest groups
     * @param logRank test between those curves
     */
    public record Review(
            By by,
            List<Group> groups,
            Group all,
            List<ShareComparison.Pair> pairs,
            int compared,
            List<SurvivalCurve> curves,
            @Nullable LogRank logRank) {

        /** Pairs that differ beyond chance at the level 0.05, after the correction. */
        public List<ShareComparison.Pair> different() {
            return pairs.stream().filter(p -> p.correctedP() < 0.05).toList();
        }
    }

    /** A row that has lost more than the whole, beyond what its number allows. */
    public record RowBehind(UUID rowId, String block, int row, int seen, int lost, ShareInterval interval) {}

    public static final double CONFIDENCE = 0.95;

    /** 20 groups are 190 comparisons; more would drown any difference in the correction. */
    static final int MOST_COMPARED = 20;

    static final int MOST_CURVES = 8;

    private final Cohorts cohorts;
    private final Lots lots;
    private final Ground ground;
    private final Members members;
    private final Vines vines;

    Establishment(Cohorts cohorts, Lots lots, Ground ground, Members members, Vines vines) {
        this.cohorts = cohorts;
        this.lots = lots;
        this.ground = ground;
        this.members = members;
        this.vines = vines;
    }

    public Review by(By by) {
        return reviews(List.of(by)).get(0);
    }

    /** Several groupings from one reading of the sums. */
    public List<Review> reviews(List<By> groupings) {
        List<Cohorts.Cohort> all = cohorts.all();
        return groupings.stream().map(by -> review(by, all)).toList();
    }

    private Review review(By by, List<Cohorts.Cohort> cohorts) {
        Function<Cohorts.Cohort, String> naming = naming(by);
        Map<String, int[]> counts = new TreeMap<>();
        Map<String, LifeTable> lives = new LinkedHashMap<>();
        int[] total = new int[3];
        for (Cohorts.Cohort cohort : cohorts) {
            String name = naming.apply(cohort);
            int[] count = counts.computeIfAbsent(name, n -> new int[3]);
            int kind = cohort.unseen() ? 2 : cohort.lost() ? 1 : 0;
            count[kind] += cohort.vines();
            total[kind] += cohort.vines();
            lives.computeIfAbsent(name, n -> new LifeTable()).add(cohort.days(), cohort.lost(), cohort.vines());
        }
        List<Group> groups = new ArrayList<>();
        counts.forEach((name, count) -> groups.add(group(name, count)));
        List<Group> largest = groups.stream()
                .filter(g -> g.seen() > 0)
                .sorted(Comparator.comparingInt(Group::seen).reversed().thenComparing(Group::name))
                .limit(MOST_COMPARED)
                .sorted(Comparator.comparing(Group::name))
                .toList();
        ShareComparison comparison = ShareComparison.of(
                largest.stream()
                        .map(g -> new ShareComparison.Group(g.name(), g.seen(), g.alive()))
                        .toList(),
                CONFIDENCE);
        List<String> drawn = groups.stream()
                .sorted(Comparator.comparingInt(Group::planted).reversed().thenComparing(Group::name))
                .limit(MOST_CURVES)
                .map(Group::name)
                .sorted()
                .toList();
        List<LifeTable> tables = new ArrayList<>();
        List<SurvivalCurve> curves = new ArrayList<>();
        for (String name : drawn) {
            LifeTable table = lives.getOrDefault(name, new LifeTable());
            tables.add(table);
            curves.add(SurvivalCurve.of(name, table));
        }
        return new Review(
                by,
                groups,
                group("", total),
                comparison.pairs().stream()
                        .sorted(Comparator.comparingDouble(ShareComparison.Pair::correctedP)
                                .thenComparingDouble(ShareComparison.Pair::p))
                        .toList(),
                largest.size(),
                curves,
                LogRank.of(tables));
    }

    private static Group group(String name, int[] aliveLostUnseen) {
        int alive = aliveLostUnseen[0];
        int lost = aliveLostUnseen[1];
        int seen = alive + lost;
        return new Group(
                name,
                seen + aliveLostUnseen[2],
                seen,
                alive,
                lost,
                aliveLostUnseen[2],
                seen == 0 ? null : ShareInterval.wilson(alive, seen, CONFIDENCE));
    }

    private Function<Cohorts.Cohort, String> naming(By by) {
        return switch (by) {
            case BLOCK -> {
                Map<UUID, String> codes = blockCodes();
                yield c -> codes.getOrDefault(c.blockId(), "?");
            }
            case LOT -> named(Lot::code);
            case VARIETY -> named(Lot::variety);
            case ROOTSTOCK -> named(Lot::rootstock);
            case PLANTER -> {
                Map<UUID, String> names = members.names();
                yield c -> names.getOrDefault(c.plantedBy(), "?");
            }
            case DAY -> c -> c.plantedOn().toString();
        };
    }

    private Function<Cohorts.Cohort, String> named(Function<Lot, String> what) {
        Map<UUID, String> names = new TreeMap<>();
        lots.all().forEach(lot -> names.put(lot.id(), what.apply(lot)));
        return c -> names.getOrDefault(c.lotId(), "?");
    }

    private Map<UUID, String> blockCodes() {
        Map<UUID, String> codes = new TreeMap<>();
        for (Block block : ground.blocks()) {
            codes.put(block.id(), block.code());
        }
        return codes;
    }

    /**
     * Rows whose whole interval lies below the share of all rows together, worst first. Present vines only. With many
     * rows a few will be here by chance.
     */
    public List<RowBehind> rowsBehind(int most) {
        List<RowTally> rows = vines.tallies();
        long seen = 0;
        long alive = 0;
        for (RowTally row : rows) {
            seen += seen(row);
            alive += seen(row) - lost(row);
        }
        if (seen == 0) {
            return List.of();
        }
        double overall = (double) alive / seen;
        Map<UUID, String> codes = blockCodes();
        List<RowBehind> behind = new ArrayList<>();
        for (RowTally row : rows) {
            int rowSeen = seen(row);
            // Cheaper than an interval for each of ten thousand rows, and never wrong: a row at or above cannot be
            // behind.
            if (rowSeen == 0 || (rowSeen - lost(row)) >= overall * rowSeen) {
                continue;
            }
            ShareInterval interval = ShareInterval.wilson(rowSeen - lost(row), rowSeen, CONFIDENCE);
            if (interval.high() < overall) {
                behind.add(new RowBehind(
                        row.rowId(),
                        codes.getOrDefault(row.blockId(), "?"),
                        row.number(),
                        rowSeen,
                        lost(row),
                        interval));
            }
        }
        behind.sort(Comparator.comparingDouble(r -> r.interval().share()));
        return behind.subList(0, Math.min(most, behind.size()));
    }

    private static int lost(RowTally row) {
        return row.tally().of(VineState.DEAD) + row.tally().of(VineState.MISSING);
    }

    private static int seen(RowTally row) {
        return row.tally().present() - row.tally().of(VineState.PLANTED);
    }
}
