package org.rootling.exchange.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.UUID;
import java.util.function.LongConsumer;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.exchange.TestArchive;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.json.JsonMapper;

/** An archive that is stopped at its last record, or whose file fails in the middle: nothing of it stays. */
@AppTest
class RestoreStoppedTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    RestoreWork work;

    @Autowired
    JdbcClient jdbc;

    @TempDir
    Path folder;

    private TestVineyard into;
    private UUID run;
    private Path file;

    @BeforeEach
    void anArchiveThatWasLookedAt() throws IOException {
        TestVineyard from = vineyards.fresh();
        from.run(() -> jdbc.sql(
                        "insert into own_variety (id, name, colour) values (gen_random_uuid(), 'Hill Gold', 'WHITE')")
                .update());
        byte[] archive = TestArchive.of(from);
        into = vineyards.fresh();
        TestArchive.upload(into, archive);
        run = into.inside(() ->
                jdbc.sql("select id from archive_restore").query(UUID.class).single());
        file = Files.write(folder.resolve("a.zip"), archive);
    }

    @Test
    void aWishToStopAfterTheLastRecordTakesBackAllOfIt() {
        state("CANCELLED");
        assertThatThrownBy(() -> enter(done -> {})).isInstanceOf(RestoreWork.Stopped.class);
        assertThat(varieties()).isZero();
        assertThat(state()).isEqualTo("CANCELLED");
    }

    @Test
    void aFileThatFailsInTheMiddleLeavesNothing() {
        state("RUNNING");
        assertThatThrownBy(() -> enter(done -> RestoreStoppedTest.<RuntimeException>fail(new IOException("no room"))))
                .hasRootCauseMessage("no room");
        assertThat(varieties()).isZero();
    }

    @Test
    void leftAloneItIsEntered() {
        state("RUNNING");
        enter(done -> {});
        assertThat(varieties()).isEqualTo(1);
        assertThat(state()).isEqualTo("DONE");
    }

    /** Throws what the signature does not say, as a reader of the file would in the middle of the work. */
    @SuppressWarnings("unchecked")
    private static <E extends Throwable> void fail(Throwable failure) throws E {
        throw (E) failure;
    }

    private void enter(LongConsumer progress) {
        into.run(() -> {
            try (ArchiveFile archive =
                    ArchiveFile.open(file, JsonMapper.builder().build())) {
                work.enter(archive, run, "a.zip", progress);
            } catch (IOException failure) {
                throw new UncheckedIOException(failure);
            }
        });
    }

    private int varieties() {
        return into.inside(() -> jdbc.sql("select count(*) from own_variety")
                .query(Integer.class)
                .single());
    }

    private void state(String state) {
        into.run(() -> jdbc.sql("update archive_restore set state = :state")
                .param("state", state)
                .update());
    }

    private String state() {
        return into.inside(() -> jdbc.sql("select state from archive_restore")
                .query(String.class)
                .single());
    }
}
