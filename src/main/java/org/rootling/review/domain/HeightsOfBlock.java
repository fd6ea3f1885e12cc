package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.people.Vineyards;
import org.rootling.planting.Tally;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.UnitText;
import org.rootling.review.calc.Growth;
import org.rootling.review.calc.HeightSpread;
import org.rootling.review.calc.Reach;
import org.rootling.weather.calc.Seasons;
import org.rootling.weather.calc.Span;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Heights and shoots of a block's living vines in one season, as far as they were measured. */
@Service
@Transactional(readOnly = true)
public class HeightsOfBlock {

    /** Height of the lowest wire in cm where no trellis is planned: common practice, no source. */
    public static final int USUAL_WIRE_CM = 80;

    /** Shoots counted one by one up to here; more are one class. */
    public static final int MOST_SHOOTS = 4;

    /**
     * A vine of the list of those that will hardly reach the wire.
     *
     * @param chance 0 to 1 to reach it
     */
    public record Late(UUID id, int row, int place, int heightCm, LocalDate seenOn, double chance) {}

    /**
     * What is known.
     *
     * @param season the year it starts in
     * @param wireCm the wire to reach, cm
     * @param end last day of growth
     * @param living living vines of the block
     * @param spread of the latest heights; null where none was measured
     * @param shoots vines with 0, 1, 2, 3 and 4 or more shoots at their latest count
     * @param chosen vines whose one shoot is chosen
     * @param growth pace and rows
     * @param reach forecast for the wire; null where the pace is not known
     * @param lastLook latest day of measuring; null without
     */
    public record Found(
            Block block,
            int season,
            int wireCm,
            LocalDate end,
            int living,
            @Nullable HeightSpread spread,
            List<Integer> shoots,
            int chosen,
            Growth growth,
            @Nullable Reach reach,
            List<Late> late,
            @Nullable LocalDate lastLook) {
        public Found {
            shoots = List.copyOf(shoots);
            late = List.copyOf(late);
        }

        public int counted() {
            return shoots.stream().mapToInt(Integer::intValue).sum();
        }
    }

    private record Line(
            UUID vine,
            int row,
            int place,
            LocalDate on,
            @Nullable Integer heightCm,
            @Nullable Integer shoots,
            boolean chosen) {}

    private final JdbcClient jdbc;
    private final Vines vines;
    private final Vineyards vineyards;

    HeightsOfBlock(JdbcClient jdbc, Vines vines, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.vines = vines;
        this.vineyards = vineyards;
    }

    /** The season of today. */
    public int season() {
        return Seasons.of(vineyards.today(), vineyards.current().southern());
    }

    /** The last day of growth: 15 September, in the south 15 March (common practice, no source). */
    public LocalDate usualEnd(int season) {
        return vineyards.current().southern() ? LocalDate.of(season + 1, 3, 15) : LocalDate.of(season, 9, 15);
    }

    /** Height in cm of the lowest wire that is planned for a block. */
    public Optional<Integer> plannedWireCm(UUID blockId) {
        return jdbc.sql("""
                        select min(w.height_m) from trellis_wire w
                          join trellis_plan p on p.vineyard_id = w.vineyard_id and p.id = w.plan_id
                         where p.block_id = :block""")
                .param("block", blockId)
                .query(Double.class)
                .optional()
                .map(metres -> (int) Math.round(metres * 100));
    }

    /**
     * The heights of a season.
     *
     * @param wireCm height of the wire to reach, cm
     * @param end last day of growth
     */
    public Found of(Block block, int season, int wireCm, LocalDate end) {
        Span span = Seasons.whole(season, vineyards.current().southern());
        List<Line> lines = lines(block.id(), span);
        List<Growth.Vine> measured = new ArrayList<>();
        List<Line> lastOf = new ArrayList<>();
        List<Integer> heights = new ArrayList<>();
        int[] shoots = new int[MOST_SHOOTS + 1];
        int chosen = 0;
        for (int from = 0; from < lines.size(); ) {
            int to = from + 1;
            while (to < lines.size()
                    && lines.get(to).vine().equals(lines.get(from).vine())) {
                to++;
            }
            List<Growth.Look> looks = new ArrayList<>();
            Line lastHeight = null;
            Integer lastShoots = null;
            boolean one = false;
            for (Line line : lines.subList(from, to)) {
                Integer height = line.heightCm();
                if (height != null) {
                    looks.add(new Growth.Look((int) line.on().toEpochDay(), height));
                    lastHeight = line;
                }
                lastShoots = line.shoots() == null ? lastShoots : line.shoots();
                one |= line.chosen();
            }
            if (lastHeight != null) {
                measured.add(new Growth.Vine(lastHeight.row(), looks));
                lastOf.add(lastHeight);
                heights.add(looks.get(looks.size() - 1).cm());
            }
            if (lastShoots != null) {
                shoots[Math.min(MOST_SHOOTS, lastShoots)]++;
            }
            chosen += one ? 1 : 0;
            from = to;
        }
        Growth growth = Growth.of(measured);
        Reach reach = Reach.of(measured, growth.pace(), wireCm, (int) end.toEpochDay());
        List<Integer> counts = new ArrayList<>();
        for (int count : shoots) {
            counts.add(count);
        }
        return new Found(
                block,
                season,
                wireCm,
                end,
                living(block.id()),
                HeightSpread.of(heights, UnitText.us() ? HeightSpread.Scale.INCH : HeightSpread.Scale.CENTIMETRE),
                counts,
                chosen,
                growth,
                reach,
                reach == null
                        ? List.of()
                        : reach.unlikely().stream()
                                .map(c -> late(lastOf.get(c.vine()), c.chance()))
                                .toList(),
                lastOf.stream().map(Line::on).max(LocalDate::compareTo).orElse(null));
    }

    private static Late late(Line line, double chance) {
        Integer height = line.heightCm();
        return new Late(line.vine(), line.row(), line.place(), height == null ? 0 : height, line.on(), chance);
    }

    private int living(UUID blockId) {
        Tally tally = Tally.sum(vines.lotTallies().stream()
                .filter(t -> t.blockId().equals(blockId))
                .map(t -> t.tally())
                .toList());
        return tally.present() - tally.of(VineState.DEAD) - tally.of(VineState.MISSING);
    }

    /** What was measured of the vines that stand and live, vine by vine in the order of days. */
    private List<Line> lines(UUID blockId, Span span) {
        return jdbc.sql("""
                        select s.vine_id, r.number, s.place, s.seen_on, s.height_cm, s.shoots, s.chosen
                          from shoot_record s
                          join vine v on v.vineyard_id = s.vineyard_id and v.id = s.vine_id
                          join vine_row r on r.vineyard_id = s.vineyard_id and r.id = s.row_id
                         where s.block_id = :block and s.seen_on between :first and :last and s.withdrawn_at is null
                           and v.ended_on is null and v.state not in ('DEAD', 'MISSING')
                         order by r.number, s.place, s.vine_id, s.seen_on
                        """)
                .param("block", blockId)
                .param("first", span.first())
                .param("last", span.last())
                .query((row, n) -> new Line(
                        row.getObject("vine_id", UUID.class),
                        row.getInt("number"),
                        row.getInt("place"),
                        row.getObject("seen_on", LocalDate.class),
                        row.getObject("height_cm", Integer.class),
                        row.getObject("shoots", Integer.class),
                        row.getBoolean("chosen")))
                .list();
    }
}
