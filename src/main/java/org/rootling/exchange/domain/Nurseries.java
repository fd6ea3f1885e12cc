package org.rootling.exchange.domain;

import java.util.UUID;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Finds the nursery that a line names. */
@Component
class Nurseries {

    private final JdbcClient jdbc;

    Nurseries(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    UUID of(ImportLine line) {
        String name = line.needed("nursery", 120);
        return jdbc.sql("select id from supplier where lower(name) = lower(:name) and withdrawn_at is null")
                .param("name", name)
                .query(UUID.class)
                .optional()
                .orElseThrow(() -> new Refused("exchange.import.no-nursery", name).at("nursery"));
    }
}
