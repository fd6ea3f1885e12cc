package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.rootling.exchange.domain.Leftovers;
import org.rootling.platform.Jobs;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What was made to be fetched, or brought and never entered, is not kept for good. */
@AppTest
class LeftoversTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Leftovers leftovers;

    @Autowired
    Jobs jobs;

    @Autowired
    JdbcClient jdbc;

    @Test
    void filesAndAnswersGoAfterADayAndArchivesThatWereNotEnteredAfterAWeek() {
        TestVineyard vineyard = vineyards.fresh();
        UUID old = vineyard.inside(() -> jobs.start(
                "Old", "/", progress -> Jobs.Ended.file("x.txt", "text/plain", out -> out.write(new byte[] {1}))));
        UUID young = vineyard.inside(() -> jobs.start(
                "Young", "/", progress -> Jobs.Ended.file("x.txt", "text/plain", out -> out.write(new byte[] {1}))));
        for (UUID job : new UUID[] {old, young}) {
            assertThat(vineyard.inside(() -> jobs.soon(job, Duration.ofSeconds(20)))
                            .state())
                    .isEqualTo("DONE");
        }
        TestArchive.upload(vineyard, new byte[] {1, 2, 3});
        vineyard.run(() -> jdbc.sql("update background_job set started_at = now() - interval '25 hours' where id = :id")
                .param("id", old)
                .update());

        leftovers.forget();

        assertThat(vineyard.inside(() -> jobs.job(old))).isEmpty();
        assertThat(vineyard.inside(() -> jobs.job(young))).isPresent();
        assertThat(count(vineyard, "background_file")).isEqualTo(1);
        assertThat(count(vineyard, "archive_part")).isEqualTo(1);

        vineyard.run(() -> jdbc.sql("update archive_restore set seen_at = now() - interval '8 days'")
                .update());
        leftovers.forget();
        assertThat(count(vineyard, "archive_part")).isZero();
        assertThat(count(vineyard, "archive_restore")).isZero();
    }

    private int count(TestVineyard vineyard, String table) {
        return vineyard.inside(() ->
                jdbc.sql("select count(*) from " + table).query(Integer.class).single());
    }
}
