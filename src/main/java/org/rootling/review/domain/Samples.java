package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.people.Vineyards;
import org.rootling.planting.PlaceSets;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.review.calc.ShareInterval;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Samples that were drawn and kept, and what they tell once their vines have been looked at. */
@Service
@Transactional
public class Samples {

    /** Samples read at once, the latest. */
    private static final int MOST = 20;

    /**
     * A kept sample.
     *
     * @param confidence wanted, 0 to 1
     * @param margin half width wanted, 0 to 0.5
     * @param vines vines of the block when it was drawn
     * @param size vines to look at
     * @param looked of these, looked at since; those known to be lost need no second look
     * @param alive of these, alive
     */
    public record Kept(
            UUID id,
            String block,
            LocalDate drawnOn,
            double confidence,
            double margin,
            int vines,
            int size,
            int looked,
            int alive) {

        /** Whether nothing of it is left to look at. */
        public boolean complete() {
            return looked >= size;
        }

        /** The certainty wanted, in percent to one decimal. */
        public double surePercent() {
            return Math.round(confidence * 1000) / 10.0;
        }

        /** The half width wanted, in points to one decimal. */
        public double marginPoints() {
            return Math.round(margin * 1000) / 10.0;
        }

        /** The share alive of the whole block by this sample; null before the first look. */
        public @Nullable ShareInterval interval() {
            return looked == 0 ? null : ShareInterval.ofFinite(alive, looked, vines, confidence);
        }
    }

    /** The vine that stood in each place of a sample on the day it was drawn. */
    private static final String SPOTS = """
            with spot as (
              select s.id, s.drawn_on, p.row_id, generate_series(lower(run), upper(run) - 1) as place
                from sample_plan s
                join sample_place p on p.vineyard_id = s.vineyard_id and p.sample_id = s.id
               cross join lateral unnest(p.places) run
               where s.withdrawn_at is null and %s),
            looked as (
              select spot.id, spot.row_id, spot.place, v.state,
                     coalesce(v.state in ('DEAD', 'MISSING') or v.state <> 'PLANTED' and v.state_on >= spot.drawn_on, false)
                       as seen
                from spot
                left join lateral (
                  select state, state_on, planted_on from vine
                   where row_id = spot.row_id and place = spot.place and ended_on is null and planted_on <= spot.drawn_on
                  union all
                  select state, state_on, planted_on from vine
                   where row_id = spot.row_id and place = spot.place and ended_on is not null
                     and ended_how <> 'UNDONE' and planted_on <= spot.drawn_on and ended_on >= spot.drawn_on
                   order by planted_on limit 1) v on true)
            """;

    private final JdbcClient jdbc;
    private final Sampling sampling;
    private final Vineyards vineyards;

    Samples(JdbcClient jdbc, Sampling sampling, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.sampling = sampling;
        this.vineyards = vineyards;
    }

    /**
     * Draws a sample and keeps it; see {@link Sampling#plan}.
     *
     * @throws Refused if no vine stands in the block
     */
    public UUID keep(Block block, double confidence, double margin, double expected, long seed, UUID by) {
        Sampling.Plan plan = sampling.plan(block, confidence, margin, expected, seed);
        if (plan.size() == 0) {
            throw new Refused("review.count.no-vines");
        }
        UUID id = Ids.next();
        jdbc.sql("""
                        insert into sample_plan (id, block_id, drawn_on, drawn_by, confidence, margin, vines, size)
                        values (:id, :block, :on, :by, :confidence, :margin, :vines, :size)""")
                .param("id", id)
                .param("block", block.id())
                .param("on", vineyards.today())
                .param("by", by)
                .param("confidence", confidence)
                .param("margin", margin)
                .param("vines", plan.vines())
                .param("size", plan.size())
                .update();
        for (Sampling.RowSample row : plan.rows()) {
            jdbc.sql("""
                            insert into sample_place (id, sample_id, row_id, places)
                            values (:line, :id, :row, cast(:places as int4multirange))""")
                    .param("line", Ids.next())
                    .param("id", id)
                    .param("row", row.rowId())
                    .param("places", row.range())
                    .update();
        }
        return id;
    }

    /** The latest samples of a block, or of all blocks where none is told. */
    @Transactional(readOnly = true)
    public List<Kept> latest(@Nullable UUID blockId) {
        boolean any = jdbc.sql("select exists (select 1 from sample_plan where withdrawn_at is null)")
                .query(Boolean.class)
                .single();
        if (!any) {
            return List.of();
        }
        return jdbc.sql(SPOTS.formatted("""
                        s.id in (select id from sample_plan
                                  where withdrawn_at is null
                                    and (cast(:block as uuid) is null or block_id = cast(:block as uuid))
                                  order by drawn_on desc, id desc limit :most)""") + """
                        select s.id, b.code, s.drawn_on, s.confidence, s.margin, s.vines, s.size,
                               count(*) filter (where l.seen) as looked,
                               count(*) filter (where l.seen and l.state not in ('DEAD', 'MISSING')) as alive
                          from looked l
                          join sample_plan s on s.id = l.id
                          join block b on b.vineyard_id = s.vineyard_id and b.id = s.block_id
                         group by s.vineyard_id, s.id, b.code order by s.drawn_on desc, s.id desc
                        """)
                .param("block", blockId)
                .param("most", MOST)
                .query((row, n) -> new Kept(
                        row.getObject("id", UUID.class),
                        row.getString("code"),
                        row.getObject("drawn_on", LocalDate.class),
                        row.getDouble("confidence"),
                        row.getDouble("margin"),
                        row.getInt("vines"),
                        row.getInt("size"),
                        row.getInt("looked"),
                        row.getInt("alive")))
                .list();
    }

    /** What of a sample nobody has looked at since it was drawn. */
    @Transactional(readOnly = true)
    public List<Sampling.RowSample> open(UUID sampleId) {
        return jdbc.sql(SPOTS.formatted("s.id = :id") + """
                        select l.row_id, r.number, count(*) as vines,
                               range_agg(int4range(l.place, l.place + 1))::text as places
                          from looked l join vine_row r on r.id = l.row_id
                         where not l.seen group by l.row_id, r.number order by r.number
                        """)
                .param("id", sampleId)
                .query((row, n) -> new Sampling.RowSample(
                        row.getObject("row_id", UUID.class),
                        row.getInt("number"),
                        PlaceSets.words(PlaceSets.fromMultirange(row.getString("places"))),
                        row.getString("places"),
                        row.getInt("vines")))
                .list();
    }

    /** Takes a sample back; it stays on record as withdrawn. */
    public void withdraw(UUID id) {
        int changed = jdbc.sql("update sample_plan set withdrawn_at = now() where id = :id and withdrawn_at is null")
                .param("id", id)
                .update();
        if (changed == 0) {
            throw new NotFound("sample");
        }
    }
}
