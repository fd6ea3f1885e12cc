package org.rootling.work.domain;

import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.ground.RowGuard;
import org.rootling.platform.Refused;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Rows with tasks stay where they are until the tasks are dropped. */
@Component
class WorkRowGuard implements RowGuard {
    private final JdbcClient jdbc;
    private final ObjectProvider<Ground> ground;

    WorkRowGuard(JdbcClient jdbc, ObjectProvider<Ground> ground) {
        this.jdbc = jdbc;
        this.ground = ground;
    }

    @Override
    public Optional<Refused> mayChange(UUID blockId) {
        UUID[] rows = ground.getObject().rows(blockId).stream().map(Row::id).toArray(UUID[]::new);
        int tasks = jdbc.sql("select count(*) from task where row_id = any(:rows) and status <> 'DROPPED'")
                .param("rows", rows)
                .query(Integer.class)
                .single();
        return tasks == 0 ? Optional.empty() : Optional.of(new Refused("work.guard.tasks", tasks));
    }

    @Override
    public SortedSet<Integer> taken(UUID rowId) {
        SortedSet<Integer> taken = new TreeSet<>();
        jdbc.sql("select done_places::text from task where row_id = :row and done > 0")
                .param("row", rowId)
                .query(String.class)
                .list()
                .forEach(t -> taken.addAll(PlaceRanges.read(t)));
        return taken;
    }
}
