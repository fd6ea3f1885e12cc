package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole database is kept by one command and put back by another, while people go on working. */
class BackupTest {

    @TempDir
    Path folder;

    @Test
    void aBackupTakenInTheMiddleOfWorkComesBackWholeInANewHome() throws Exception {
        Path home = folder.resolve("home");
        Path file = folder.resolve("kept.zip");
        TestServer server = TestServer.start(home);
        Map<String, String> before;
        try {
            server.migrate(TestSnapshot.SCHEMA);
            try (Connection owner = server.asOwner()) {
                TestSnapshot.enter(owner);
            }
            server.migrate(null);
            Files.writeString(home.resolve("secret.key"), "a key");
            before = sums(server);
            AtomicBoolean stop = new AtomicBoolean();
            Thread busy = new Thread(() -> writePairs(server, stop));
            busy.start();
            try {
                Thread.sleep(300);
                assertThat(command("backup", file, "--rootling.home=" + home)).startsWith("0 Kept ");
            } finally {
                stop.set(true);
                busy.join();
            }
            assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                    .isEqualTo("rw-------");
            assertThat(command("backup", file, "--rootling.home=" + home)).startsWith("1 There is a file");
            assertThat(one(server, "select count(*) from backup_made")).isEqualTo("1");
        } finally {
            server.stop();
        }

        Path again = folder.resolve("again");
        assertThat(command("restore", file, "--rootling.home=" + home)).startsWith("1 There is a Rootling");
        assertThat(command("restore", file, "--rootling.home=" + again)).startsWith("0 Put back ");
        assertThat(Files.readString(again.resolve("secret.key"))).isEqualTo("a key");

        TestServer restored = TestServer.start(again);
        try {
            restored.migrate(null);
            Map<String, String> after = sums(restored);
            before.keySet().removeAll(java.util.Set.of("own_variety", "own_rootstock", "backup_made", "audit_entry"));
            assertThat(after).containsAllEntriesOf(before);
            assertThat(before).hasSizeGreaterThan(60);
            // Written in pairs: one moment has both or neither.
            assertThat(one(restored, "select count(*) from own_variety where name like 'pair %'"))
                    .isEqualTo(one(restored, "select count(*) from own_rootstock where name like 'pair %'"))
                    .isNotEqualTo("0");
            // Triggers work again and numbers go on: a further movement is booked after the last.
            try (Connection owner = restored.asOwner();
                    Statement statement = owner.createStatement()) {
                statement.execute("select set_config('rootling.vineyard', (select id::text from vineyard), false)");
                assertThat(statement
                                .executeQuery("select * from rootling_ledger_differences()")
                                .next())
                        .isFalse();
                statement.execute("""
                        insert into movement (id, lot_id, kind, count, on_day, from_account, to_account, reason)
                        select gen_random_uuid(), id, 'FOUND', 3, '2027-06-01', 'OUTSIDE', 'UNPLACED', 'test' from lot limit 1""");
                assertThat(statement
                                .executeQuery("select * from rootling_ledger_differences()")
                                .next())
                        .isFalse();
                try (ResultSet last = statement.executeQuery("select kind from movement order by seq desc limit 1")) {
                    last.next();
                    assertThat(last.getString(1)).isEqualTo("FOUND");
                }
            }
        } finally {
            restored.stop();
        }
    }

    @Test
    void anExternalDatabaseIsKeptAndPutBackByTheSameCommands() throws Exception {
        Path cold = folder.resolve("cold.zip");
        Path file = folder.resolve("external.zip");
        Path one = folder.resolve("one");
        TestServer server = TestServer.start(one);
        Map<String, String> before;
        try {
            server.migrate(null);
            before = sums(server);
            assertThat(command("backup", file, external(server))).startsWith("0 ");
            assertThat(command("restore", file, external(server))).contains("The database is not empty");
        } finally {
            server.stop();
        }
        assertThat(command("backup", cold, "--rootling.home=" + one)).startsWith("0 ");
        TestServer empty = TestServer.start(folder.resolve("two"));
        try {
            assertThat(command("restore", damaged(file), external(empty))).contains("is damaged");
            assertThat(command("restore", file, external(empty))).startsWith("0 ");
            before.remove("backup_made");
            assertThat(sums(empty)).containsAllEntriesOf(before);
        } finally {
            empty.stop();
        }
        assertThat(command("backup", folder.resolve("x.zip"), "--rootling.home=" + folder.resolve("none")))
                .startsWith("1 There is no Rootling");
        assertThat(command("restore", folder.resolve("nothing.zip"), "--rootling.home=" + folder.resolve("none")))
                .startsWith("1 There is no readable file");
    }

    private static String[] external(TestServer server) {
        return server.properties().entrySet().stream()
                .map(property -> "--" + property.getKey() + "=" + property.getValue())
                .toArray(String[]::new);
    }

    private Path damaged(Path file) throws IOException {
        Path damaged = folder.resolve("damaged.zip");
        try (var in = new java.util.zip.ZipInputStream(Files.newInputStream(file));
                var out = new java.util.zip.ZipOutputStream(Files.newOutputStream(damaged))) {
            for (var entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                out.putNextEntry(new java.util.zip.ZipEntry(entry.getName()));
                out.write(in.readAllBytes());
                if (entry.getName().equals("tables/vineyard.copy")) {
                    out.write('\n');
                }
                out.closeEntry();
            }
        }
        return damaged;
    }

    private static String command(String verb, Path file, String... options) {
        String[] arguments = new String[options.length + 2];
        arguments[0] = verb;
        arguments[1] = file.toString();
        System.arraycopy(options, 0, arguments, 2, options.length);
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        int code = BackupCommand.run(arguments, new PrintStream(printed, true, StandardCharsets.UTF_8));
        return code + " " + printed.toString(StandardCharsets.UTF_8);
    }

    private static void writePairs(TestServer server, AtomicBoolean stop) {
        try (Connection owner = server.asOwner();
                PreparedStatement variety = owner.prepareStatement(
                        "insert into own_variety (vineyard_id, id, name, colour) select id, ?, ?, 'WHITE' from vineyard");
                PreparedStatement rootstock = owner.prepareStatement(
                        "insert into own_rootstock (vineyard_id, id, name) select id, ?, ? from vineyard")) {
            owner.setAutoCommit(false);
            for (int n = 0; !stop.get(); n++) {
                for (PreparedStatement half : new PreparedStatement[] {variety, rootstock}) {
                    half.setObject(1, UUID.randomUUID());
                    half.setString(2, "pair " + n);
                    half.executeUpdate();
                }
                owner.commit();
            }
        } catch (SQLException failure) {
            throw new IllegalStateException(failure);
        }
    }

    /** A sum over every row of each table. */
    private static Map<String, String> sums(TestServer server) throws SQLException {
        Map<String, String> sums = new TreeMap<>();
        try (Connection owner = server.asOwner();
                Statement statement = owner.createStatement();
                Statement inner = owner.createStatement();
                ResultSet tables = statement.executeQuery("""
                        select relname from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r'
                           and relname not like 'spring_session%' and relname <> 'flyway_schema_history'""")) {
            while (tables.next()) {
                String table = tables.getString(1);
                try (ResultSet sum = inner.executeQuery(
                        "select count(*) || ' ' || coalesce(md5(string_agg(t::text, ',' order by t::text)), '') from "
                                + table + " t")) {
                    sum.next();
                    sums.put(table, sum.getString(1));
                }
            }
        }
        return sums;
    }

    private static String one(TestServer server, String sql) throws SQLException {
        try (Connection owner = server.asOwner();
                Statement statement = owner.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getString(1);
        }
    }
}
