package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.review.calc.DeadPattern;
import org.rootling.review.calc.JoinCounts;
import org.rootling.review.calc.Stand;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where the dead and missing vines of a block stand, and whether that is more than chance. */
@Service
@Transactional(readOnly = true)
public class Clusters {

    /** The same block with the same losses gives the same answer each time it is opened. */
    private static final long SEED = 20_240_229;

    /**
     * What is known of a block's losses.
     *
     * @param stretches longest dead stretches with the number of their row
     */
    public record Found(Block block, JoinCounts joins, DeadPattern pattern, List<DeadStretch> stretches) {
        public boolean along() {
            return joins.along().clusteredP() < 0.05;
        }

        public boolean across() {
            return joins.across().clusteredP() < 0.05;
        }

        public boolean edge() {
            return pattern.edgeWorse(0.05);
        }
    }

    public record DeadStretch(UUID rowId, int row, int from, int to) {}

    private final Ground ground;
    private final VineQueries vines;

    Clusters(Ground ground, VineQueries vines) {
        this.ground = ground;
        this.vines = vines;
    }

    public Found of(Block block) {
        List<Row> rows = ground.rows(block.id());
        Map<UUID, SortedSet<Integer>> planted = vines.plantedPlaces(block.id());
        Map<UUID, List<Integer>> lost = vines.lostPlaces(block.id());
        List<Stand.Line> lines = new ArrayList<>();
        for (Row row : rows) {
            lines.add(new Stand.Line(
                    offset(row, block),
                    cells(
                            row.places(),
                            planted.getOrDefault(row.id(), new TreeSet<>()),
                            lost.getOrDefault(row.id(), List.of()))));
        }
        DeadPattern pattern = DeadPattern.of(lines);
        List<DeadStretch> stretches = pattern.stretches().stream()
                .map(s -> {
                    Row row = rows.get(s.row());
                    return new DeadStretch(row.id(), row.number(), s.from(), s.to());
                })
                .toList();
        return new Found(block, JoinCounts.of(Stand.of(lines), SEED), pattern, stretches);
    }

    private static List<Stand.Cell> cells(int places, SortedSet<Integer> planted, List<Integer> lost) {
        List<Stand.Cell> cells = new ArrayList<>(Collections.nCopies(places, Stand.Cell.NONE));
        planted.forEach(place -> {
            if (place <= places) {
                cells.set(place - 1, Stand.Cell.ALIVE);
            }
        });
        lost.forEach(place -> {
            if (place <= places) {
                cells.set(place - 1, Stand.Cell.DEAD);
            }
        });
        return cells;
    }

    /** How many places along the rows' bearing a row starts from the block's origin. */
    private static int offset(Row row, Block block) {
        List<Stretch> stretches = row.stretches();
        if (stretches.isEmpty()) {
            return 0;
        }
        Stretch first = stretches.get(0);
        Point at = first.position(first.firstPlace());
        double bearing = Math.toRadians(block.rowBearingDeg());
        double along = at.x() * Math.sin(bearing) + at.y() * Math.cos(bearing);
        return (int) Math.round(along / first.vineSpacingM());
    }
}
