package org.rootling.platform.db;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.stream.Stream;

/** Lets the tests start the application's own embedded server and look into it. */
public final class TestServer {

    private final EmbeddedServer server;

    private TestServer(EmbeddedServer server) {
        this.server = server;
    }

    public static TestServer start(Path home) {
        return new TestServer(EmbeddedServer.start(home));
    }

    /** Starts it again where it was, so that those who know its address find it. */
    public static TestServer startOn(Path home, int port) {
        return new TestServer(EmbeddedServer.start(home, port));
    }

    public int port() {
        return Integer.parseInt(url().replaceAll(".*:(\\d+)/.*", "$1"));
    }

    /** Makes or raises the schema; null goes to the newest. */
    public void migrate(String target) {
        org.flywaydb.core.api.configuration.FluentConfiguration configuration = org.flywaydb.core.Flyway.configure()
                .dataSource(url(), EmbeddedServer.OWNER, ownerPassword())
                .locations("classpath:db/migration")
                .placeholders(java.util.Map.of("app_role", EmbeddedServer.APP));
        if (target != null) {
            configuration.target(target);
        }
        configuration.load().migrate();
    }

    /** A connection as the role that owns the schema. */
    public java.sql.Connection asOwner() throws java.sql.SQLException {
        return java.sql.DriverManager.getConnection(url(), EmbeddedServer.OWNER, ownerPassword());
    }

    /** The same as arguments of the command line, with others behind them. */
    public String[] arguments(String... others) {
        return java.util.stream.Stream.concat(
                        properties().entrySet().stream().map(each -> "--" + each.getKey() + "=" + each.getValue()),
                        java.util.stream.Stream.of(others))
                .toArray(String[]::new);
    }

    /** Spring properties that lead an application to this server as to any other. */
    public java.util.Map<String, Object> properties() {
        return java.util.Map.of(
                "spring.datasource.url", url(),
                "spring.datasource.username", EmbeddedServer.APP,
                "spring.datasource.password", appPassword(),
                "spring.flyway.user", EmbeddedServer.OWNER,
                "spring.flyway.password", ownerPassword());
    }

    public String url() {
        return server.url(EmbeddedServer.DATABASE);
    }

    public String ownerPassword() {
        return server.ownerPassword();
    }

    public String appPassword() {
        return server.appPassword();
    }

    public void stop() {
        try {
            server.close();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    public void delete(Path home) {
        try (Stream<Path> files = Files.walk(home)) {
            files.sorted(Comparator.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }
}
