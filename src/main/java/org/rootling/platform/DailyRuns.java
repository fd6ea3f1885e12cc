package org.rootling.platform;

import java.time.LocalDate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Does a piece of daily work once per vineyard and day, however many nodes try. */
@Component
public class DailyRuns {

    private final JdbcClient jdbc;

    DailyRuns(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /**
     * Runs the work in this transaction if nobody has done it for that day. A second node waits for the first one's
     * transaction and then finds it done; if the first dies, its row is gone and the second does the work.
     *
     * @return whether the work was done by this call
     */
    @Transactional
    public boolean once(String job, LocalDate day, Runnable work) {
        int inserted = jdbc.sql("insert into daily_run (job, day) values (:job, :day) on conflict do nothing")
                .param("job", job)
                .param("day", day)
                .update();
        if (inserted == 0) {
            return false;
        }
        work.run();
        return true;
    }
}
