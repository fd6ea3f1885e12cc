package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The embedded server is safe to keep data in. */
class EmbeddedServerTest {

    @TempDir
    Path home;

    @Test
    void writesThroughToDiskListensOnLoopbackOnlyAndWantsAPassword() throws Exception {
        try (EmbeddedServer server = EmbeddedServer.start(home);
                Connection connection = server.superuser("postgres");
                Statement statement = connection.createStatement()) {
            assertThat(show(statement, "fsync")).isEqualTo("on");
            assertThat(show(statement, "full_page_writes")).isEqualTo("on");
            assertThat(show(statement, "synchronous_commit")).isEqualTo("on");
            assertThat(show(statement, "listen_addresses")).isEqualTo("127.0.0.1");
            assertThat(show(statement, "server_version")).startsWith(EmbeddedServer.MAJOR + ".");
            try (ResultSet rules = statement.executeQuery(
                    "select count(*) from pg_hba_file_rules where auth_method <> 'scram-sha-256'")) {
                rules.next();
                assertThat(rules.getInt(1)).isZero();
            }
            for (String role : new String[] {"postgres", EmbeddedServer.OWNER, EmbeddedServer.APP}) {
                assertThatThrownBy(() -> DriverManager.getConnection(server.url("postgres"), role, "wrong"))
                        .isInstanceOf(SQLException.class)
                        .hasMessageContaining("password");
            }
        }
    }

    @Test
    void keepsItsPasswordsWhereOnlyTheOwnerCanRead() throws Exception {
        EmbeddedServer.start(home).close();
        Path folder = home.resolve("postgres");
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(folder)))
                .isEqualTo("rwx------");
        for (String name : new String[] {"superuser", "owner", "app"}) {
            Path file = folder.resolve(name + ".password");
            assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                    .isEqualTo("rw-------");
            assertThat(Files.readString(file)).hasSizeGreaterThanOrEqualTo(32);
        }
    }

    @Test
    void theApplicationsRoleOwnsNothingAndIsNoSuperuser() throws Exception {
        try (EmbeddedServer server = EmbeddedServer.start(home);
                Connection connection = server.superuser(EmbeddedServer.DATABASE);
                Statement statement = connection.createStatement()) {
            try (ResultSet role = statement.executeQuery(
                    "select rolsuper or rolcreatedb or rolcreaterole or rolbypassrls from pg_roles where rolname = 'rootling_app'")) {
                assertThat(role.next()).isTrue();
                assertThat(role.getBoolean(1)).isFalse();
            }
            try (ResultSet owned = statement.executeQuery(
                    "select count(*) from pg_class c join pg_roles r on r.oid = c.relowner where r.rolname = 'rootling_app'")) {
                owned.next();
                assertThat(owned.getInt(1)).isZero();
            }
        }
    }

    @Test
    void keepsDataBetweenStarts() throws Exception {
        try (EmbeddedServer server = EmbeddedServer.start(home);
                Connection connection = server.superuser(EmbeddedServer.DATABASE);
                Statement statement = connection.createStatement()) {
            statement.execute("create table kept (n int)");
            statement.execute("insert into kept values (7)");
        }
        try (EmbeddedServer server = EmbeddedServer.start(home);
                Connection connection = server.superuser(EmbeddedServer.DATABASE);
                Statement statement = connection.createStatement();
                ResultSet kept = statement.executeQuery("select n from kept")) {
            assertThat(kept.next()).isTrue();
            assertThat(kept.getInt(1)).isEqualTo(7);
        }
    }

    @Test
    void refusesAFolderThatIsInUse() throws Exception {
        try (EmbeddedServer server = EmbeddedServer.start(home)) {
            assertThat(server.url("x")).contains("127.0.0.1");
            assertThatThrownBy(() -> EmbeddedServer.start(home))
                    .isInstanceOf(HomeUnusable.class)
                    .hasMessageContaining("in use");
        }
    }

    @Test
    void refusesDataOfAnotherMajorVersion() throws Exception {
        Files.createDirectories(home.resolve("postgres/data"));
        Files.writeString(home.resolve("postgres/data/PG_VERSION"), "15\n");
        assertThatThrownBy(() -> EmbeddedServer.start(home))
                .isInstanceOf(HomeUnusable.class)
                .hasMessageContaining("PostgreSQL 15");
    }

    @Test
    void stopsWhenItIsClosed() throws Exception {
        EmbeddedServer server = EmbeddedServer.start(home);
        int port = Integer.parseInt(server.url("x").replaceAll(".*:(\\d+)/x", "$1"));
        server.close();
        try (ServerSocket free = new ServerSocket(port)) {
            assertThat(free.getLocalPort()).isEqualTo(port);
        }
    }

    private static String show(Statement statement, String name) throws SQLException {
        try (ResultSet shown = statement.executeQuery("show " + name)) {
            shown.next();
            return shown.getString(1);
        }
    }
}
