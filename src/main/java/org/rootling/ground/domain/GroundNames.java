package org.rootling.ground.domain;

import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.rootling.people.RecordNames;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Blocks by their code, rows as "B2 r7". */
@Component
class GroundNames implements RecordNames {

    private final JdbcClient jdbc;

    GroundNames(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<UUID, String> names(Collection<UUID> ids) {
        Map<UUID, String> names = new HashMap<>();
        if (!ids.isEmpty()) {
            jdbc.sql("""
                            select id, code from block where id in (:ids)
                            union all
                            select r.id, b.code || ' r' || r.number from vine_row r join block b on b.id = r.block_id
                             where r.id in (:ids)""").param("ids", ids).query(row -> {
                names.put(row.getObject(1, UUID.class), row.getString(2));
            });
        }
        return names;
    }
}
