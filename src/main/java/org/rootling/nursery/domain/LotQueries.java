package org.rootling.nursery.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.nursery.Lot;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Lots with what stands where, in one question each. */
@Component
class LotQueries {

    private static final String SELECT = """
            select l.id, l.code, l.variety, l.colour, l.clone_name, l.rootstock, n.name as nursery, l.passport_trace,
                   l.received_on,
                   coalesce(-sum(b.count) filter (where b.account in ('OUTSIDE', 'SPLIT')), 0) as came,
                   coalesce(sum(b.count) filter (where b.account = 'UNPLACED'), 0) as unplaced,
                   coalesce(sum(b.count) filter (where b.account = 'LIFTED'), 0) as lifted,
                   coalesce(sum(b.count) filter (where b.account = 'HOLD'), 0) as held,
                   coalesce(sum(b.count) filter (where b.account = 'PLANTED'), 0) as planted
              from lot l
              join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
              join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
              join supplier n on n.vineyard_id = d.vineyard_id and n.id = d.supplier_id
              left join lot_balance b on b.vineyard_id = l.vineyard_id and b.lot_id = l.id
            """;
    private static final String GROUP = " group by l.vineyard_id, l.id, n.name order by l.series_year, l.series_no";

    private final JdbcClient jdbc;

    LotQueries(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Transactional(readOnly = true)
    public List<Lot> where(String condition, Map<String, ?> parameters) {
        return jdbc.sql(SELECT + (condition.isEmpty() ? "" : " where " + condition) + GROUP)
                .params(parameters)
                .query(LotQueries::lot)
                .list();
    }

    private static Lot lot(ResultSet rs, int n) throws SQLException {
        int unplaced = rs.getInt("unplaced");
        int lifted = rs.getInt("lifted");
        int held = rs.getInt("held");
        return new Lot(
                rs.getObject("id", UUID.class),
                rs.getString("code"),
                rs.getString("variety"),
                rs.getString("colour"),
                rs.getString("clone_name"),
                rs.getString("rootstock"),
                rs.getString("nursery"),
                rs.getString("passport_trace"),
                rs.getObject("received_on", LocalDate.class),
                rs.getInt("came"),
                unplaced + lifted + held,
                unplaced,
                lifted,
                held,
                rs.getInt("planted"));
    }
}
