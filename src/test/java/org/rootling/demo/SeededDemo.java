package org.rootling.demo;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import org.rootling.people.Founding.Seat;
import org.rootling.people.Role;
import org.rootling.platform.VineyardTime;
import org.rootling.support.TestVineyard;
import org.springframework.beans.factory.config.AutowireCapableBeanFactory;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The demo's scenario in a vineyard of a test. */
class SeededDemo {

    private final AutowireCapableBeanFactory beans;
    private final VineyardTime time;
    private final JdbcClient jdbc;

    SeededDemo(AutowireCapableBeanFactory beans, VineyardTime time, JdbcClient jdbc) {
        this.beans = beans;
        this.time = time;
        this.jdbc = jdbc;
    }

    /** Works as on the demo's first day. */
    void onFirstDay(Runnable work) {
        LocalDate real = time.now().atZone(ZoneOffset.UTC).toLocalDate();
        time.shiftBy(Duration.ofDays(ChronoUnit.DAYS.between(real, DemoClock.FIRST_DAY)));
        try {
            work.run();
        } finally {
            time.shiftBy(Duration.ZERO);
        }
    }

    void seed(TestVineyard vineyard) {
        List<Seat> seats = new ArrayList<>();
        for (Role role : new Role[] {Role.OWNER, Role.LEAD, Role.HELPER, Role.READER}) {
            seats.add(new Seat(
                    vineyard.id(), vineyard.account(role), role, vineyard.email(role), "", vineyard.token(role)));
        }
        vineyard.run(() -> beans.createBean(QuillowBank.class).seed(seats));
    }

    /** The demo looks for a schedule in the background; until that ends, its rows still change. */
    void awaitEndOfSearches(TestVineyard vineyard) {
        for (int i = 0; i < 1200; i++) {
            int running = vineyard.inside(() -> jdbc.sql(
                            "select (select count(*) from work_schedule where state = 'RUNNING') + (select count(*) from work_outlook where state = 'RUNNING')")
                    .query(Integer.class)
                    .single());
            if (running == 0) {
                return;
            }
            try {
                Thread.sleep(100);
            } catch (InterruptedException stopped) {
                Thread.currentThread().interrupt();
                throw new AssertionError(stopped);
            }
        }
        throw new AssertionError("the demo's search does not end");
    }
}
