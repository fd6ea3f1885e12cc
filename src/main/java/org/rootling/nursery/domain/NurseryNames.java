package org.rootling.nursery.domain;

import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;
import org.rootling.people.RecordNames;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Lots by their code, beds, stores and nurseries by their name, orders by their number. */
@Component
class NurseryNames implements RecordNames {

    private final JdbcClient jdbc;

    NurseryNames(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<UUID, String> names(Collection<UUID> ids) {
        Map<UUID, String> names = new HashMap<>();
        if (!ids.isEmpty()) {
            jdbc.sql("""
                            select id, code from lot where id in (:ids)
                            union all
                            select id, name from store where id in (:ids)
                            union all
                            select id, name from supplier where id in (:ids)
                            union all
                            select id, reference from nursery_order where id in (:ids)""").param("ids", ids).query(row -> {
                names.put(row.getObject(1, UUID.class), row.getString(2));
            });
        }
        return names;
    }
}
