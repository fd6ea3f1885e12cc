package org.rootling.planting.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.nursery.PlantedOf;
import org.rootling.planting.PlaceSets;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Tells the nursery where the vines of its lots stand now, and how many live. */
@Component
@Transactional(readOnly = true)
class LotsInTheGround implements PlantedOf {

    private final JdbcClient jdbc;

    LotsInTheGround(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public List<Stand> standsOf(Collection<UUID> lotIds) {
        if (lotIds.isEmpty()) {
            return List.of();
        }
        return new ArrayList<>(jdbc.sql("""
                        select v.lot_id, v.row_id, b.code, r.number, count(*)::int as vines, min(v.planted_on) as first,
                               range_agg(int4range(v.place, v.place + 1))::text as places
                          from vine v
                          join vine_row r on r.vineyard_id = v.vineyard_id and r.id = v.row_id
                          join block b on b.vineyard_id = r.vineyard_id and b.id = r.block_id
                         where v.ended_on is null and v.lot_id in (:lots)
                         group by v.lot_id, v.row_id, b.code, r.number
                         order by v.lot_id, b.code, r.number
                        """)
                .param("lots", lotIds)
                .query((rs, n) -> new Stand(
                        rs.getObject("lot_id", UUID.class),
                        rs.getString("code") + " r" + rs.getInt("number") + " "
                                + PlaceSets.words(PlaceSets.fromMultirange(rs.getString("places"))),
                        rs.getInt("vines"),
                        rs.getObject("first", LocalDate.class),
                        "/rows/" + rs.getObject("row_id", UUID.class)))
                .list());
    }

    @Override
    public Map<UUID, Integer> livingOf(Collection<UUID> lotIds) {
        Map<UUID, Integer> living = new HashMap<>();
        if (!lotIds.isEmpty()) {
            jdbc.sql("""
                            select lot_id, sum(planted + growing + weak + not_moving)::int as living
                              from vine_block_tally where lot_id in (:lots) group by lot_id
                            """)
                    .param("lots", lotIds)
                    .query((rs, n) -> living.put(rs.getObject("lot_id", UUID.class), rs.getInt("living")))
                    .list();
        }
        return living;
    }
}
