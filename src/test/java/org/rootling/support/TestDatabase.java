package org.rootling.support;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import org.rootling.platform.db.DatabaseRoles;
import org.rootling.platform.db.TestServer;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;

/**
 * The one switch: a PostgreSQL container where a Docker engine answers, the embedded server elsewhere. One server for all
 * tests of the JVM; tests keep apart by working in vineyards of their own.
 */
public final class TestDatabase {

    private static final String OWNER = "rootling_owner";
    private static final String APP = "rootling_app";
    private static final Map<String, String> PROPERTIES = start();

    private TestDatabase() {}

    /** Spring properties that lead to the server. */
    public static Map<String, String> properties() {
        return PROPERTIES;
    }

    /** A connection as the role that owns the schema, past every fence; for looking behind the application's back. */
    public static Connection asOwner() throws SQLException {
        return DriverManager.getConnection(
                PROPERTIES.get("spring.flyway.url"),
                PROPERTIES.get("spring.flyway.user"),
                PROPERTIES.get("spring.flyway.password"));
    }

    /** A connection as the application's role, with nothing told about vineyard and person. */
    public static Connection asApp() throws SQLException {
        return DriverManager.getConnection(
                PROPERTIES.get("spring.datasource.url"),
                PROPERTIES.get("spring.datasource.username"),
                PROPERTIES.get("spring.datasource.password"));
    }

    private static Map<String, String> start() {
        try {
            return DockerClientFactory.instance().isDockerAvailable() ? container() : embedded();
        } catch (SQLException | IOException failure) {
            throw new IllegalStateException("no PostgreSQL for the tests", failure);
        }
    }

    @SuppressWarnings("resource") // lives as long as the JVM
    private static Map<String, String> container() throws SQLException {
        PostgreSQLContainer container = new PostgreSQLContainer("postgres:18");
        container.start();
        try (Connection connection = DriverManager.getConnection(
                        container.getJdbcUrl(), container.getUsername(), container.getPassword());
                Statement statement = connection.createStatement()) {
            DatabaseRoles.ensure(statement, "rootling", OWNER, "owner-password", APP, "app-password");
        }
        String url = "jdbc:postgresql://" + container.getHost() + ":" + container.getMappedPort(5432) + "/rootling";
        return properties(url, "owner-password", "app-password");
    }

    private static Map<String, String> embedded() throws IOException {
        Path home = Files.createTempDirectory("rootling-test");
        TestServer server = TestServer.start(home);
        Runtime.getRuntime().addShutdownHook(new Thread(() -> {
            awaitNobody();
            server.stop();
            server.delete(home);
        }));
        return properties(server.url(), server.ownerPassword(), server.appPassword());
    }

    private static Map<String, String> properties(String url, String ownerPassword, String appPassword) {
        // Many contexts share the server: none holds more connections than it uses.
        return Map.of(
                "spring.datasource.url", url,
                "spring.datasource.username", APP,
                "spring.datasource.password", appPassword,
                "spring.datasource.hikari.minimum-idle", "1",
                "spring.datasource.hikari.idle-timeout", "10000",
                "spring.flyway.url", url,
                "spring.flyway.user", OWNER,
                "spring.flyway.password", ownerPassword);
    }

    /** Hooks run all at once: the contexts close their pools first, or each waits ten seconds for a server that is gone. */
    private static void awaitNobody() {
        try (Connection connection = asOwner();
                PreparedStatement others = connection.prepareStatement(
                        "select count(*) from pg_stat_activity where usename = ? and pid <> pg_backend_pid()")) {
            others.setString(1, APP);
            for (int i = 0; i < 150; i++) {
                try (ResultSet count = others.executeQuery()) {
                    if (count.next() && count.getInt(1) == 0) {
                        return;
                    }
                }
                Thread.sleep(100);
            }
        } catch (SQLException gone) {
            return;
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
        }
    }
}
