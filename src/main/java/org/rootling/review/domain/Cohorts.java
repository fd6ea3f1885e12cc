package org.rootling.review.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.rootling.planting.VineState;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Sums over the vines that ever stood, replaced ones included, plantings taken back not. */
@Component
@Transactional(readOnly = true)
class Cohorts {

    /**
     * Vines that share block, lot, planting day, planter, state and the day it was seen.
     *
     * @param seenOn the day the state was seen; the planting day for vines not looked at since
     */
    record Cohort(
            UUID blockId,
            UUID lotId,
            LocalDate plantedOn,
            UUID plantedBy,
            VineState state,
            LocalDate seenOn,
            int vines) {

        boolean lost() {
            return !state.alive();
        }

        boolean unseen() {
            return state == VineState.PLANTED;
        }

        /** Whole days from planting to death, or to the last look. */
        int days() {
            return (int) (seenOn.toEpochDay() - plantedOn.toEpochDay());
        }
    }

    private final JdbcClient jdbc;

    Cohorts(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    List<Cohort> all() {
        return jdbc.sql("""
                        select block_id, lot_id, planted_on, planted_by, state, state_on, count(*) as vines
                          from vine
                         where ended_how is distinct from 'UNDONE'
                         group by vineyard_id, block_id, lot_id, planted_on, planted_by, state, state_on
                        """)
                .query((row, n) -> new Cohort(
                        row.getObject("block_id", UUID.class),
                        row.getObject("lot_id", UUID.class),
                        row.getObject("planted_on", LocalDate.class),
                        row.getObject("planted_by", UUID.class),
                        VineState.valueOf(row.getString("state")),
                        row.getObject("state_on", LocalDate.class),
                        row.getInt("vines")))
                .list();
    }
}
