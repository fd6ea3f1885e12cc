package org.rootling.review.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Sums over the vines that ever stood, replaced ones included, plantings taken back not. The database keeps them
 * ({@code vine_life_tally}), so that reading them takes as long for a million vines as for a thousand.
 */
@Component
@Transactional(readOnly = true)
class LifeSums {

    /**
     * Vines of one group that share an outcome.
     *
     * @param member what the group is known by: an id or a date; the nil id where it has none
     * @param outcome lost (L), alive when last seen (A), not seen since planting (U)
     * @param days whole days from planting to the loss, or to the last look
     */
    record Sum(String member, char outcome, int days, int vines) {
        boolean lost() {
            return outcome == 'L';
        }

        boolean unseen() {
            return outcome == 'U';
        }
    }

    /** A row that has lost more than the whole. */
    record Behind(UUID rowId, String block, int row, int seen, int lost) {}

    private final JdbcClient jdbc;

    LifeSums(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * Sums by one kind of group.
     *
     * @param grouping BLOCK, LOT, BED, PLANTER or DAY
     * @param blockId only vines of this block; null for all
     */
    List<Sum> by(String grouping, @Nullable UUID blockId) {
        return jdbc.sql("""
                        select case when grouping_by = 'DAY' then day::text else member::text end as member, outcome, days,
                               vines
                          from (select grouping_by, member, day, outcome, days, sum(vines) as vines from vine_life_tally
                                 where grouping_by = :grouping and (cast(:block as uuid) is null or block_id = :block)
                                 group by grouping_by, member, day, outcome, days) s
                        """)
                .param("grouping", grouping)
                .param("block", blockId)
                .query(LifeSums::sum)
                .list();
    }

    /** Sums by the rows of one block, from its vines; members are row numbers. */
    List<Sum> byRow(UUID blockId) {
        return jdbc.sql("""
                        select r.number::text as member, c.outcome, c.days, c.vines
                          from (select row_id, state_on - planted_on as days, count(*) as vines,
                                       case when state in ('DEAD', 'MISSING') then 'L' when state = 'PLANTED' then 'U'
                                            else 'A' end as outcome
                                  from vine
                                 where row_id in (select id from vine_row where block_id = :block)
                                   and block_id = :block and ended_how is distinct from 'UNDONE'
                                 group by row_id, days, outcome) c
                          join vine_row r on r.id = c.row_id
                        """).param("block", blockId).query(LifeSums::sum).list();
    }

    private static Sum sum(ResultSet row, int n) throws SQLException {
        return new Sum(
                row.getString("member"), row.getString("outcome").charAt(0), row.getInt("days"), row.getInt("vines"));
    }

    /**
     * Rows whose whole Wilson interval lies below the share alive of all rows together, worst first; present vines only,
     * a row of several lots as one line for each. The interval is the score test turned round, so it lies below exactly
     * where the score exceeds {@code z}. Read by the index of shares, from the worst on.
     */
    List<Behind> behind(double z, int most) {
        Double whole = jdbc.sql("""
                        select sum(growing + weak + not_moving)::float8
                               / nullif(sum(growing + weak + not_moving + dead + missing), 0) from vine_block_tally
                        """).query(Double.class).optional().orElse(null);
        if (whole == null) {
            return List.of();
        }
        return jdbc.sql("""
                        select w.row_id, b.code, r.number, w.seen, w.lost
                          from (select vineyard_id, block_id, row_id, dead + missing as lost, share_alive,
                                       growing + weak + not_moving + dead + missing as seen
                                  from vine_row_tally
                                 where share_alive < :whole
                                   and (:whole - share_alive) * sqrt(growing + weak + not_moving + dead + missing)
                                       > :z * sqrt(cast(:whole as float8) * (1 - :whole))
                                 order by share_alive, row_id limit :most) w
                          join vine_row r on r.vineyard_id = w.vineyard_id and r.id = w.row_id
                          join block b on b.vineyard_id = w.vineyard_id and b.id = w.block_id
                         order by w.share_alive, b.code, r.number
                        """)
                .param("whole", whole)
                .param("z", z)
                .param("most", most)
                .query((row, n) -> new Behind(
                        row.getObject("row_id", UUID.class),
                        row.getString("code"),
                        row.getInt("number"),
                        row.getInt("seen"),
                        row.getInt("lost")))
                .list();
    }
}
