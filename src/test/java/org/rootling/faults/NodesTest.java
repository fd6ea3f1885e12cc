package org.rootling.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.time.Duration;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.Rootling;
import org.rootling.platform.db.TestServer;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.web.server.context.WebServerApplicationContext;
import org.springframework.context.ConfigurableApplicationContext;

/** Two nodes on one database, behind a proxy: one is stopped under load; then the database goes away and comes back. */
class NodesTest {

    private static final HttpClient CLIENT = HttpClient.newHttpClient();
    private static final int HELPERS = 4;

    @TempDir
    Path home;

    @Test
    void oneNodeIsStoppedUnderLoadAndTheDatabaseGoesAndComesBack() throws Exception {
        TestServer database = TestServer.start(home);
        int databasePort = database.port();
        ConfigurableApplicationContext one = node(database);
        ConfigurableApplicationContext two = node(database);
        try {
            int left = port(two);
            FaultVineyard vineyard;
            try (Connection owner = database.asOwner()) {
                vineyard = FaultVineyard.make(owner, 120);
            }
            TestProxy proxy = TestProxy.before(port(one), left);
            Helpers helpers = new Helpers(vineyard, HELPERS, proxy.port());
            try {
                helpers.awaitMore(60, Duration.ofSeconds(60));
                assertThat(helpers.failures).isEmpty();
                one.close();
                helpers.awaitMore(60, Duration.ofSeconds(60));
            } finally {
                helpers.close();
                proxy.close();
            }
            // A stopping node finishes what it has begun and takes nothing new: at most what each helper had under way
            // is
            // lost, is said to be, and is sent again.
            assertThat(helpers.strange).isEmpty();
            assertThat(helpers.failures.keySet()).isSubsetOf(502, 503);
            assertThat(helpers.failures.values().stream()
                            .mapToInt(AtomicInteger::get)
                            .sum())
                    .isLessThanOrEqualTo(HELPERS);
            try (Connection owner = database.asOwner();
                    PreparedStatement find = owner.prepareStatement("select count(*) from task_log where id = ?")) {
                for (UUID id : helpers.acknowledged) {
                    find.setObject(1, id);
                    try (ResultSet row = find.executeQuery()) {
                        row.next();
                        assertThat(row.getLong(1)).isEqualTo(1);
                    }
                }
            }

            behindTls(left);
            database.stop();
            HttpResponse<String> page = get(left, "/sign-in", null);
            assertThat(page.statusCode()).isEqualTo(503);
            assertThat(page.headers().firstValue("Retry-After")).contains("10");
            assertThat(page.body())
                    .contains("The database is away")
                    .contains(page.headers().firstValue("X-Request-Number").orElseThrow())
                    .doesNotContain("Exception");
            HttpResponse<String> api = get(left, "/api/v1/lots", vineyard.token());
            assertThat(api.statusCode()).isEqualTo(503);
            assertThat(api.headers().firstValue("Content-Type").orElse("")).contains("application/problem+json");
            assertThat(get(left, "/actuator/health/readiness", null).statusCode())
                    .as("the node itself is well; its proxy lets its page through")
                    .isEqualTo(200);
            assertThat(get(left, "/actuator/health", null).statusCode()).isEqualTo(503);

            database = TestServer.startOn(home, databasePort);
            for (int i = 0;
                    i < 300 && get(left, "/api/v1/lots", vineyard.token()).statusCode() != 200;
                    i++) {
                Helpers.pause(100);
            }
            assertThat(get(left, "/api/v1/lots", vineyard.token()).statusCode()).isEqualTo(200);
            assertThat(get(left, "/sign-in", null).statusCode()).isEqualTo(200);
        } finally {
            one.close();
            two.close();
            database.stop();
        }
    }

    private ConfigurableApplicationContext node(TestServer database) {
        return new SpringApplicationBuilder(Rootling.class)
                .run(database.arguments(
                        "--server.port=0",
                        "--rootling.jobs.first-after=PT24H",
                        "--server.forward-headers-strategy=native",
                        "--rootling.connections=4",
                        "--rootling.connection-wait-ms=1000",
                        "--rootling.home=" + home.resolve("node")));
    }

    /** As a proxy passes on what came by TLS: the cookie is for TLS only, and the browser is told to stay there. */
    private static void behindTls(int port) throws Exception {
        HttpResponse<String> answer = CLIENT.send(
                HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/sign-in"))
                        .header("X-Forwarded-Proto", "https")
                        .header("X-Forwarded-Host", "vines.example")
                        .build(),
                HttpResponse.BodyHandlers.ofString());
        assertThat(answer.headers().firstValue("Strict-Transport-Security").orElse(""))
                .contains("max-age=31536000");
        assertThat(answer.headers().firstValue("Set-Cookie").orElse("").toLowerCase(java.util.Locale.ROOT))
                .startsWith("__host-rootling=")
                .contains("; path=/;", "; secure", "; httponly", "; samesite=lax")
                .doesNotContain("domain");
        HttpResponse<String> plain = get(port, "/sign-in", null);
        assertThat(plain.headers().firstValue("Set-Cookie").orElse(""))
                .isNotEmpty()
                .doesNotContain("Secure");
    }

    private static int port(ConfigurableApplicationContext node) {
        return ((WebServerApplicationContext) node).getWebServer().getPort();
    }

    private static HttpResponse<String> get(int port, String path, String token) throws Exception {
        HttpRequest.Builder request = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + path))
                .header("Accept", "text/html, application/json");
        if (token != null) {
            request.header("Authorization", "Bearer " + token);
        }
        return CLIENT.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }
}
