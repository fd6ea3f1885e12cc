package org.rootling.nursery.domain;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** Numbers the lots of a year. */
@Component
class LotSeries {

    private final JdbcClient jdbc;

    LotSeries(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** The next number of a year's lots; a second delivery at the same moment waits for the first. */
    @Transactional(propagation = Propagation.MANDATORY)
    public int next(int year) {
        return jdbc.sql("""
                        insert into lot_series as s (year, last_no) values (:year, 1)
                        on conflict (vineyard_id, year) do update set last_no = s.last_no + 1 returning last_no
                        """).param("year", year).query(Integer.class).single();
    }
}
