package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.UnaryOperator;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
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
        ROW,
        LOT,
        VARIETY,
        ROOTSTOCK,
        BED,
        DAY,
        PLANTER;

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

    /** The standard normal quantile that goes with {@link #CONFIDENCE}, two-sided. */
    private static final double Z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - CONFIDENCE) / 2);

    private final LifeSums sums;
    private final GroupNames names;

    Establishment(LifeSums sums, GroupNames names) {
        this.sums = sums;
        this.names = names;
    }

    /**
     * The review by one grouping.
     *
     * @param block only vines of this block; null for all, except that rows are always those of one block
     */
    public Review by(By by, @Nullable Block block) {
        if (by == By.ROW) {
            return review(by, block == null ? List.of() : sums.byRow(block.id()));
        }
        return review(by, sums.by(GroupNames.kept(by), block == null ? null : block.id()));
    }

    /** Several groupings of the whole vineyard. */
    public List<Review> reviews(List<By> groupings) {
        return groupings.stream().map(by -> by(by, null)).toList();
    }

    private Review review(By by, List<LifeSums.Sum> sums) {
        UnaryOperator<String> naming = names.of(by);
        Map<String, String> known = new HashMap<>();
        Map<String, int[]> counts = new TreeMap<>(GroupNames.ORDER);
        Map<String, LifeTable> lives = new HashMap<>();
        int[] total = new int[3];
        for (LifeSums.Sum sum : sums) {
            String name = known.computeIfAbsent(sum.member(), naming);
            int[] count = counts.computeIfAbsent(name, n -> new int[3]);
            int kind = sum.unseen() ? 2 : sum.lost() ? 1 : 0;
            count[kind] += sum.vines();
            total[kind] += sum.vines();
            lives.computeIfAbsent(name, n -> new LifeTable()).add(sum.days(), sum.lost(), sum.vines());
        }
        List<Group> groups = new ArrayList<>();
        counts.forEach((name, count) -> groups.add(group(name, count)));
        List<Group> largest = groups.stream()
                .filter(g -> g.seen() > 0)
                .sorted(Comparator.comparingInt(Group::seen).reversed().thenComparing(Group::name))
                .limit(MOST_COMPARED)
                .sorted(Comparator.comparing(Group::name, GroupNames.ORDER))
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
                .sorted(GroupNames.ORDER)
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

    /**
     * Rows whose whole interval lies below the share of all rows together, worst first. Present vines only. With many
     * rows a few will be here by chance.
     */
    public List<RowBehind> rowsBehind(int most) {
        return sums.behind(Z, most).stream()
                .map(r -> new RowBehind(
                        r.rowId(),
                        r.block(),
                        r.row(),
                        r.seen(),
                        r.lost(),
                        ShareInterval.wilson(r.seen() - r.lost(), r.seen(), CONFIDENCE)))
                .toList();
    }
}
