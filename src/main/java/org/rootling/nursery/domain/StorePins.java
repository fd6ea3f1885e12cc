package org.rootling.nursery.domain;

import java.util.List;
import java.util.UUID;
import org.rootling.ground.PlanPins;
import org.rootling.ground.Point;
import org.rootling.platform.Paths;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Beds and stores on the plans of the blocks they lie in or by. */
@Component
class StorePins implements PlanPins {

    private final JdbcClient jdbc;
    private final MessageSource messages;

    StorePins(JdbcClient jdbc, MessageSource messages) {
        this.jdbc = jdbc;
        this.messages = messages;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Pin> pins(UUID blockId) {
        String word = messages.getMessage("nursery.stores.pin", null, LocaleContextHolder.getLocale());
        return jdbc.sql("""
                        select id, name, east_m, north_m from store
                         where block_id = :block and withdrawn_at is null order by lower(name)
                        """)
                .param("block", blockId)
                .query((rs, n) -> new Pin(
                        new Point(rs.getDouble("east_m"), rs.getDouble("north_m")),
                        rs.getString("name"),
                        word,
                        Paths.to("/stores/" + rs.getObject("id", UUID.class))))
                .list();
    }
}
