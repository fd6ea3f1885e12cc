package org.rootling.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.time.Duration;
import java.util.Random;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The program, its database, or both are killed (SIGKILL) at random moments while helpers log; what was acknowledged is there
 * once. Three rounds here; {@code src/bench/run faults} does twenty.
 */
class KilledUnderLoadTest {

    private static final int ROUNDS = Integer.getInteger("rootling.fault-rounds", 2);

    @TempDir
    Path home;

    private int port;
    private Process server;

    @Test
    void everyAcknowledgedEntryIsThereOnce() throws Exception {
        long seed = Long.getLong("rootling.fault-seed", System.nanoTime());
        Random random = new Random(seed);
        try (ServerSocket free = new ServerSocket(0)) {
            port = free.getLocalPort();
        }
        try {
            startServer();
            FaultVineyard vineyard;
            try (Connection owner = asOwner()) {
                vineyard = FaultVineyard.make(owner, Math.max(250, ROUNDS * 80));
            }
            Helpers helpers = new Helpers(vineyard, 4, port);
            try {
                for (int round = 0; round < ROUNDS; round++) {
                    helpers.awaitMore(250, Duration.ofSeconds(90));
                    Helpers.pause(random.nextInt(400));
                    kill(2 - round % 3);
                }
                helpers.awaitMore(250, Duration.ofSeconds(90));
            } finally {
                helpers.close();
            }
            assertThat(helpers.strange).as("seed " + seed).isEmpty();
            check(vineyard, helpers, seed);
            System.out.println("faults: " + ROUNDS + " rounds, " + helpers.acknowledged.size()
                    + " acknowledged entries all there once, failed tries by status " + helpers.failures);
        } finally {
            if (server != null) {
                stopServer();
            }
        }
    }

    private void kill(int what) throws IOException, InterruptedException {
        if (what != 0) {
            long postmaster = Long.parseLong(Files.readAllLines(home.resolve("postgres/data/postmaster.pid"))
                    .get(0)
                    .trim());
            ProcessHandle.of(postmaster).ifPresent(ProcessHandle::destroyForcibly);
        }
        if (what != 1) {
            server.destroyForcibly();
            server.waitFor();
            startServer();
        }
    }

    private void check(FaultVineyard vineyard, Helpers helpers, long seed) throws Exception {
        try (Connection owner = asOwner();
                PreparedStatement find = owner.prepareStatement("select count(*) from task_log where id = ?")) {
            for (UUID id : helpers.acknowledged) {
                find.setObject(1, id);
                try (ResultSet row = find.executeQuery()) {
                    row.next();
                    assertThat(row.getLong(1))
                            .as("entry " + id + ", seed " + seed)
                            .isEqualTo(1);
                }
            }
            String mine = " where vineyard_id = '" + vineyard.id() + "'";
            long logs = FaultVineyard.count(owner, "select count(*) from task_log" + mine);
            assertThat(logs).isGreaterThanOrEqualTo(helpers.acknowledged.size());
            assertThat(FaultVineyard.count(owner, "select coalesce(sum(done), 0) from task" + mine))
                    .as("what the tasks say is what the logs say, seed " + seed)
                    .isEqualTo(logs);
        }
    }

    private Connection asOwner() throws Exception {
        String databasePort = Files.readAllLines(home.resolve("postgres/data/postmaster.pid"))
                .get(3)
                .trim();
        return DriverManager.getConnection(
                "jdbc:postgresql://127.0.0.1:" + databasePort + "/rootling",
                "rootling_owner",
                Files.readAllLines(home.resolve("postgres/owner.password")).get(0));
    }

    private void startServer() throws IOException, InterruptedException {
        server = new ProcessBuilder(
                        ProcessHandle.current().info().command().orElse("java"),
                        "-Xmx384m",
                        "-XX:TieredStopAtLevel=1",
                        "-cp",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
                        "org.rootling.Rootling",
                        "--server.port=" + port,
                        "--rootling.home=" + home,
                        "--rootling.jobs.first-after=PT24H")
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.appendTo(
                        home.resolve("server.log").toFile()))
                .start();
        for (int waited = 0; waited < 900; waited++) {
            if (!server.isAlive()) {
                throw new AssertionError("the server ended: " + Files.readString(home.resolve("server.log")));
            }
            if (healthy()) {
                return;
            }
            Thread.sleep(100);
        }
        throw new AssertionError("the server did not start: " + Files.readString(home.resolve("server.log")));
    }

    private boolean healthy() throws InterruptedException {
        try {
            return HttpClient.newHttpClient()
                            .send(
                                    HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/actuator/health"))
                                            .timeout(Duration.ofSeconds(5))
                                            .build(),
                                    HttpResponse.BodyHandlers.discarding())
                            .statusCode()
                    == 200;
        } catch (IOException notYet) {
            return false;
        }
    }

    private void stopServer() throws InterruptedException {
        server.destroy();
        server.waitFor();
    }
}
