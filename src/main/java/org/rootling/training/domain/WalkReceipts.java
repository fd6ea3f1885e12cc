package org.rootling.training.domain;

import java.util.UUID;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Takes each walk once: its number is kept as a form's receipt in the transaction of its work. */
@Service
public class WalkReceipts {

    private final JdbcClient jdbc;

    WalkReceipts(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Does the work unless it was done under this number before; what fails leaves no receipt. */
    @Transactional
    public void once(UUID number, Runnable work) {
        int first = jdbc.sql("insert into form_receipt (id) values (:id) on conflict do nothing")
                .param("id", number)
                .update();
        if (first == 1) {
            work.run();
        }
    }
}
