package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Work in the background is done whole, or stopped and nothing of it stays; only who asked for it sees it. */
@AppTest
class JobsTest {

    private static final Duration LONG = Duration.ofSeconds(20);

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Jobs jobs;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;

    @BeforeEach
    void vineyard() {
        vineyard = vineyards.fresh();
    }

    @Test
    void whatIsStoppedLeavesNothingBehind() throws InterruptedException {
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch stopped = new CountDownLatch(1);
        UUID id = vineyard.inside(() -> jobs.start("Slow work", "/", progress -> {
            begun.countDown();
            await(stopped);
            return Jobs.Ended.storing("/", () -> rename("Half done"));
        }));
        assertThat(begun.await(20, TimeUnit.SECONDS)).isTrue();
        vineyard.run(() -> jobs.cancel(id));
        assertThat(vineyard.inside(() -> jobs.job(id)).orElseThrow().stopping()).isTrue();
        stopped.countDown();
        assertThat(ended(id).state()).isEqualTo("CANCELLED");
        assertThat(name()).isNotEqualTo("Half done");
    }

    /** All is stored but not committed when the wish comes: it still counts. */
    @Test
    void aWishToStopAfterTheLastLineTakesBackAllOfIt() {
        AtomicReference<UUID> self = new AtomicReference<>();
        CountDownLatch known = new CountDownLatch(1);
        UUID id = vineyard.inside(() -> jobs.start(
                "Nearly done",
                "/",
                progress -> Jobs.Ended.storing("/", () -> {
                    rename("Half done");
                    await(known);
                    Thread other = new Thread(() -> vineyard.run(() -> jobs.cancel(self.get())));
                    other.start();
                    join(other);
                })));
        self.set(id);
        known.countDown();
        assertThat(ended(id).state()).isEqualTo("CANCELLED");
        assertThat(name()).isNotEqualTo("Half done");
    }

    @Test
    void aWishToStopThatComesTooLateChangesNothing() {
        UUID id = vineyard.inside(() ->
                jobs.start("Done", "/", progress -> Jobs.Ended.storing("/", () -> rename("All done"))));
        assertThat(ended(id).state()).isEqualTo("DONE");
        vineyard.run(() -> jobs.cancel(id));
        assertThat(ended(id).state()).isEqualTo("DONE");
        assertThat(name()).isEqualTo("All done");
    }

    private static void join(Thread thread) {
        try {
            thread.join(20_000);
        } catch (InterruptedException stopping) {
            Thread.currentThread().interrupt();
        }
    }

    @Test
    void aWishToStopIsHeardWhileTheWorkGoesOn() {
        UUID id = vineyard.inside(() -> jobs.start("Endless work", "/", progress -> {
            for (long done = 0; ; done++) {
                progress.at(done, 0);
            }
        }));
        vineyard.run(() -> jobs.cancel(id));
        assertThat(ended(id).state()).isEqualTo("CANCELLED");
    }

    @Test
    void whatIsRefusedSaysWhyAndTakesBackWhatItStored() {
        UUID id = vineyard.inside(() -> jobs.start(
                "Refused work",
                "/",
                progress -> Jobs.Ended.storing("/", () -> {
                    rename("Half done");
                    throw new Refused("platform.job.too-many", 7);
                })));
        Jobs.Job job = ended(id);
        assertThat(job.state()).isEqualTo("FAILED");
        assertThat(job.reason()).contains("7 pieces of work");
        assertThat(name()).isNotEqualTo("Half done");
    }

    @Test
    void aFileOfMoreThanOnePieceComesBackWhole() throws IOException {
        byte[] content = "0123456789abcdef".repeat(100_000).getBytes(StandardCharsets.US_ASCII);
        UUID id = vineyard.inside(() -> jobs.start(
                "A file", "/", progress -> Jobs.Ended.file("x.txt", "text/plain", out -> out.write(content))));
        Jobs.Job job = ended(id);
        assertThat(job.fileBytes()).isEqualTo(content.length);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        Tenancy.set(vineyard.id(), vineyard.account(Role.OWNER));
        try {
            jobs.file(job, out);
        } finally {
            Tenancy.clear();
        }
        assertThat(out.toByteArray()).isEqualTo(content);
    }

    @Test
    void nobodyElseSeesOrStopsIt() {
        CountDownLatch stopped = new CountDownLatch(1);
        UUID id = vineyard.inside(() -> jobs.start("Mine", "/", progress -> {
            await(stopped);
            return Jobs.Ended.storing("/", () -> {});
        }));
        Tenancy.run(vineyard.id(), vineyard.account(Role.LEAD), () -> {
            assertThat(jobs.job(id)).isEmpty();
            jobs.cancel(id);
        });
        stopped.countDown();
        assertThat(ended(id).state()).isEqualTo("DONE");
    }

    @Test
    void aPersonHasAFewAtATime() {
        CountDownLatch stopped = new CountDownLatch(1);
        try {
            for (int i = 0; i < 3; i++) {
                vineyard.inside(() -> jobs.start("One of three", "/", progress -> {
                    await(stopped);
                    return Jobs.Ended.storing("/", () -> {});
                }));
            }
            assertThatThrownBy(() -> vineyard.inside(
                            () -> jobs.start("Too many", "/", progress -> Jobs.Ended.storing("/", () -> {}))))
                    .isInstanceOf(Refused.class);
        } finally {
            stopped.countDown();
        }
    }

    private static void await(CountDownLatch latch) {
        try {
            latch.await(20, TimeUnit.SECONDS);
        } catch (InterruptedException stopping) {
            Thread.currentThread().interrupt();
        }
    }

    private Jobs.Job ended(UUID id) {
        return vineyard.inside(() -> jobs.soon(id, LONG));
    }

    private void rename(String name) {
        jdbc.sql("update vineyard set name = :name where id = rootling_vineyard()")
                .param("name", name)
                .update();
    }

    private String name() {
        return vineyard.inside(() -> jdbc.sql("select name from vineyard where id = rootling_vineyard()")
                .query(String.class)
                .single());
    }
}
