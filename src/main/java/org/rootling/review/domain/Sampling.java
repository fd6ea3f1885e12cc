package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.planting.PlaceSets;
import org.rootling.review.calc.SamplingPlan;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Which vines of a block to look at so that its share alive is known as well as wanted. */
@Service
@Transactional(readOnly = true)
public class Sampling {

    /** Places to look at in one row, written as a run, and as the database keeps them. */
    public record RowSample(UUID rowId, int row, String places, String range, int vines) {}

    /** The plan: how many of how many, and where. */
    public record Plan(int vines, int size, List<RowSample> rows) {}

    private final Ground ground;
    private final VineQueries queries;

    Sampling(Ground ground, VineQueries queries) {
        this.ground = ground;
        this.queries = queries;
    }

    /**
     * The plan for a block; the same seed gives the same vines again.
     *
     * @param confidence level, 0 to 1
     * @param margin half width wanted, 0 to 0.5
     * @param expected share thought to be alive, 0 to 1
     */
    public Plan plan(Block block, double confidence, double margin, double expected, long seed) {
        List<Row> rows = ground.rows(block.id());
        Map<UUID, SortedSet<Integer>> planted = queries.plantedPlaces(block.id());
        List<List<Integer>> lists = new ArrayList<>();
        for (Row row : rows) {
            lists.add(List.copyOf(planted.getOrDefault(row.id(), new TreeSet<>())));
        }
        List<Integer> counts = lists.stream().map(List::size).toList();
        int all = counts.stream().mapToInt(Integer::intValue).sum();
        int size = SamplingPlan.size(all, confidence, margin, expected);
        SortedMap<Integer, SortedSet<Integer>> chosen = new TreeMap<>();
        for (SamplingPlan.Pick pick : SamplingPlan.pick(counts, size, seed).picks()) {
            List<Integer> places = lists.get(pick.row());
            chosen.computeIfAbsent(pick.row(), r -> new TreeSet<>()).add(places.get(pick.vine() - 1));
        }
        List<RowSample> samples = new ArrayList<>();
        chosen.forEach((index, places) -> {
            Row row = rows.get(index);
            samples.add(new RowSample(
                    row.id(), row.number(), PlaceSets.words(places), PlaceSets.toMultirange(places), places.size()));
        });
        return new Plan(all, size, samples);
    }
}
