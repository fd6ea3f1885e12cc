package org.rootling.work;

import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.rootling.platform.Refused;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Answers to the step CHECK as planting does to PLANT: notes what it was told, refuses place 13. */
@TestComponent
public class RecordingEffect implements StepEffect {
    final List<LoggedWork> told = new CopyOnWriteArrayList<>();
    final List<LoggedWork> takenBack = new CopyOnWriteArrayList<>();
    private final JdbcClient jdbc;

    RecordingEffect(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** The connection is cut, or the process dies, before the so-manieth log is told; once. */
    int cutBefore;

    boolean dies;

    @Override
    public boolean handles(String step) {
        return step.equals("CHECK");
    }

    @Override
    public void logged(LoggedWork work) {
        // The log must be there already, in the same transaction.
        jdbc.sql("select 1 from task_log where id = :id")
                .param("id", work.logId())
                .query(Integer.class)
                .single();
        if (cutBefore > 0 && told.size() + 1 == cutBefore) {
            cutBefore = 0;
            if (dies) {
                throw new AssertionError("the process died here");
            }
            jdbc.sql("select pg_terminate_backend(pg_backend_pid())")
                    .query(Boolean.class)
                    .single();
        }
        if (work.places().contains(13)) {
            throw new Refused("work.test.unlucky", 13);
        }
        told.add(work);
    }

    @Override
    public void undone(LoggedWork work) {
        takenBack.add(work);
    }
}
