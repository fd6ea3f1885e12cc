package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.Rootling;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.boot.web.server.context.WebServerApplicationContext;
import org.springframework.context.ConfigurableApplicationContext;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A database of the first released schema, with the demo's rows, is opened by the program of today. */
class UpgradeTest {

    /** The owner's API token in the snapshot; its hash is in the file. */
    private static final String TOKEN = "rtl_BJ-cwELN-q5144OBODORoJ9ZXDnCrQSKl_OkQcyR7VU";

    @TempDir
    Path home;

    @Test
    void everyRowComesForwardAndTheProgramReadsThem() throws Exception {
        TestServer server = TestServer.start(home);
        try {
            server.migrate(TestSnapshot.SCHEMA);
            Map<String, Long> rows;
            try (Connection owner = server.asOwner()) {
                rows = TestSnapshot.enter(owner);
            }
            assertThat(rows).containsKeys("vine", "movement", "task_log", "lot_balance", "weather_day", "audit_entry");

            try (ConfigurableApplicationContext app = new SpringApplicationBuilder(Rootling.class)
                    .run(server.arguments(
                            "--server.port=0", "--rootling.jobs.first-after=PT24H", "--rootling.home=" + home))) {
                try (Connection owner = server.asOwner();
                        Statement statement = owner.createStatement()) {
                    for (Map.Entry<String, Long> table : rows.entrySet()) {
                        assertThat(one(statement, "select count(*) from " + table.getKey()))
                                .as(table.getKey())
                                .isEqualTo(table.getValue());
                    }
                    statement.execute("select set_config('rootling.vineyard', (select id::text from vineyard), false)");
                    assertThat(one(statement, "select count(*) from rootling_ledger_differences()"))
                            .isZero();
                    assertThat(one(statement, """
                            select count(*) from vine_row_tally t
                             where growing <> (select count(*) from vine v where v.row_id = t.row_id and v.lot_id = t.lot_id
                                and v.state = 'GROWING' and v.ended_on is null)""")).isZero();
                }
                int port = ((WebServerApplicationContext) app).getWebServer().getPort();
                JsonNode lots = JsonMapper.builder().build().readTree(get(port, "/api/v1/lots"));
                assertThat(lots.size()).isEqualTo(7);
            }
        } finally {
            server.stop();
        }
    }

    private static String get(int port, String path) throws Exception {
        HttpResponse<String> answer = HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + path))
                                .header("Authorization", "Bearer " + TOKEN)
                                .build(),
                        HttpResponse.BodyHandlers.ofString());
        assertThat(answer.statusCode()).isEqualTo(200);
        return answer.body();
    }

    private static long one(Statement statement, String sql) throws SQLException {
        try (ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }
}
