package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.Optional;
import org.rootling.nursery.HoldRanShort;
import org.rootling.nursery.Lots;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.stereotype.Component;

/** When a hold runs short, its lot's open planting is due by the day the hold runs out, if it was to be later. */
@Component
class HoldDues {

    private final Lots lots;
    private final JdbcClient jdbc;

    HoldDues(Lots lots, JdbcClient jdbc) {
        this.lots = lots;
        this.jdbc = jdbc;
    }

    @ApplicationModuleListener
    void on(HoldRanShort event) {
        Optional<LocalDate> plantBy = lots.plantBy(event.lotId());
        if (plantBy.isPresent()) {
            jdbc.sql("""
                            update task set due = :due, version = version + 1
                             where lot_id = :lot and step = 'PLANT' and status in ('OPEN', 'STARTED')
                               and (due is null or due > :due)""")
                    .param("due", plantBy.get())
                    .param("lot", event.lotId())
                    .update();
        }
    }
}
