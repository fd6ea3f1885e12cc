package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.rootling.trellis.RowProgress;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Tells the trellis pages how far posts, wire, stakes and guards have come, from the tasks and their logs. */
@Component
class TrellisProgress implements RowProgress {

    private static final List<String> STEPS =
            Arrays.stream(Step.values()).map(Step::name).toList();

    private final JdbcClient jdbc;

    TrellisProgress(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Done> of(Collection<UUID> rowIds) {
        if (rowIds.isEmpty()) {
            return List.of();
        }
        return jdbc.sql("""
                        select t.row_id, t.step, sum(t.done) as done, sum(t.quantity) as quantity,
                               max((select max(l.on_day) from task_log l
                                     where l.vineyard_id = t.vineyard_id and l.task_id = t.id
                                       and not exists (select 1 from task_log_undo u
                                                        where u.vineyard_id = l.vineyard_id and u.log_id = l.id))) as last_on
                          from task t
                         where t.row_id in (:rows) and t.step in (:steps)
                           and t.status <> 'DROPPED'
                         group by t.row_id, t.step""")
                .param("rows", rowIds)
                .param("steps", STEPS)
                .query((row, i) -> new Done(
                        row.getObject("row_id", UUID.class),
                        Step.valueOf(row.getString("step")),
                        row.getInt("done"),
                        row.getInt("quantity"),
                        row.getObject("last_on", LocalDate.class)))
                .list();
    }
}
