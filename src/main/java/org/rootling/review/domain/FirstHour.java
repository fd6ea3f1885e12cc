package org.rootling.review.domain;

import java.util.ArrayList;
import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The way from an empty vineyard to the first delivery in its bed, and what comes after; each step knows if it is done. */
@Service
@Transactional(readOnly = true)
public class FirstHour {

    /**
     * One step.
     *
     * @param name part of message keys
     * @param path where it is done, inside the vineyard
     * @param firstHour whether it belongs to the first hour, or comes after it
     */
    public record Step(String name, String path, boolean firstHour, boolean done) {}

    private final JdbcClient jdbc;

    FirstHour(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** All steps in their order. */
    public List<Step> steps() {
        return jdbc.sql("""
                        select (select latitude is not null from vineyard where id = rootling_vineyard()) as place,
                               exists (select 1 from supplier) as nursery,
                               exists (select 1 from store where withdrawn_at is null) as store,
                               exists (select 1 from delivery) as delivery,
                               exists (select 1 from hold) as bed,
                               exists (select 1 from block where withdrawn_at is null) as ground,
                               exists (select 1 from vine_row where withdrawn_at is null) as rows,
                               exists (select 1 from task) as work,
                               (select count(*) > 1 from membership where vineyard_id = rootling_vineyard() and ended_at is null) as people
                        """)
                .query((row, i) -> {
                    List<Step> steps = new ArrayList<>();
                    steps.add(new Step("place", "/settings", true, row.getBoolean("place")));
                    steps.add(new Step("nursery", "/nurseries", true, row.getBoolean("nursery")));
                    steps.add(new Step("store", "/stores/new", true, row.getBoolean("store")));
                    steps.add(new Step("delivery", "/deliveries/new", true, row.getBoolean("delivery")));
                    steps.add(new Step("bed", "/lots", true, row.getBoolean("bed")));
                    steps.add(new Step("ground", "/blocks", false, row.getBoolean("ground")));
                    steps.add(new Step("rows", "/blocks", false, row.getBoolean("rows")));
                    steps.add(new Step("work", "/work/plan", false, row.getBoolean("work")));
                    steps.add(new Step("people", "/people", false, row.getBoolean("people")));
                    return steps;
                })
                .single();
    }
}
