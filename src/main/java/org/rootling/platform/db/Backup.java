package org.rootling.platform.db;

import java.io.BufferedOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.DigestInputStream;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.MigrationVersion;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.ds.PGSimpleDataSource;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.json.JsonMapper;

/**
 * The whole database as one file, and a file as a whole database: every table as PostgreSQL's own COPY text, as of one
 * moment (one repeatable-read transaction), with a list of sums. Works as the schema's owner, so the embedded server and any
 * other are the same to it; nobody has to stop while it runs.
 */
final class Backup {

    private static final String FORMAT = "rootling-backup";
    private static final int VERSION = 1;
    private static final String LIST = "backup.json";
    private static final String KEY = "secret.key";

    /** Sign-ins of the moment, the schema's own history, and notes of work under way. */
    private static final Set<String> LEFT_OUT =
            Set.of("flyway_schema_history", "spring_session", "spring_session_attributes", "restoring", "deleting");

    /** What a backup says of itself. */
    record Listing(String format, int version, String schema, String madeAt, List<Kept> tables) {}

    /** A table of it. */
    record Kept(String name, List<String> columns, long rows, String sha256) {}

    private record Shape(String name, List<String> columns) {}

    private final PGSimpleDataSource owner;
    private final String appRole;
    private final JsonMapper json = JsonMapper.builder().build();

    Backup(PGSimpleDataSource owner, String appRole) {
        this.owner = owner;
        this.appRole = appRole;
    }

    /**
     * Writes a backup; the file appears only when it is whole, and is never overwritten.
     *
     * @param key the file with the key of encrypted secrets, or null
     * @return rows kept
     */
    long write(Path file, @Nullable Path key) throws IOException, SQLException {
        Path target = file.toAbsolutePath().normalize();
        if (Files.exists(target)) {
            throw new HomeUnusable("There is a file " + file + " already; choose another name.");
        }
        Path part = target.resolveSibling(target.getFileName() + ".part");
        Files.deleteIfExists(part);
        OwnerOnly.write(part, "");
        long rows = 0;
        try {
            try (Connection connection = owner.getConnection();
                    ZipOutputStream zip =
                            new ZipOutputStream(new BufferedOutputStream(Files.newOutputStream(part), 1 << 16))) {
                connection.setAutoCommit(false);
                connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
                connection.setReadOnly(true);
                List<Kept> kept = new ArrayList<>();
                for (Shape table : shapes(connection)) {
                    kept.add(copyOut(connection, zip, table));
                }
                if (key != null && Files.exists(key)) {
                    zip.putNextEntry(new ZipEntry(KEY));
                    Files.copy(key, zip);
                    zip.closeEntry();
                }
                String now = one(connection, "select now()::text");
                zip.putNextEntry(new ZipEntry(LIST));
                zip.write(json.writerWithDefaultPrettyPrinter()
                        .writeValueAsBytes(new Listing(FORMAT, VERSION, schema(connection), now, kept)));
                zip.closeEntry();
                rows = kept.stream().mapToLong(Kept::rows).sum();
            }
            try {
                // A link appears whole or not at all, and never in place of another file.
                Files.createLink(target, part);
            } catch (FileAlreadyExistsException exists) {
                throw new HomeUnusable("There is a file " + file + " already; choose another name.");
            } catch (UnsupportedOperationException | java.nio.file.FileSystemException noLinks) {
                Files.move(part, target, StandardCopyOption.ATOMIC_MOVE);
            }
        } finally {
            Files.deleteIfExists(part);
        }
        note(Files.size(target));
        return rows;
    }

    private void note(long bytes) throws SQLException {
        try (Connection connection = owner.getConnection();
                Statement statement = connection.createStatement()) {
            statement.execute("insert into backup_made (bytes) values (" + bytes + ")");
        }
    }

    private static Kept copyOut(Connection connection, ZipOutputStream zip, Shape table)
            throws IOException, SQLException {
        MessageDigest sum = sha256();
        zip.putNextEntry(new ZipEntry("tables/" + table.name() + ".copy"));
        OutputStream out = new DigestOutputStream(
                new FilterOutputStream(zip) {
                    @Override
                    public void write(byte[] bytes, int from, int length) throws IOException {
                        out.write(bytes, from, length);
                    }

                    @Override
                    public void close() {
                        // the next table goes into the same file
                    }
                },
                sum);
        long rows = connection
                .unwrap(PGConnection.class)
                .getCopyAPI()
                .copyOut("copy " + quoted(table.name()) + " (" + list(table.columns()) + ") to stdout", out);
        zip.closeEntry();
        return new Kept(table.name(), table.columns(), rows, HexFormat.of().formatHex(sum.digest()));
    }

    /**
     * Fills an empty database: makes the schema as it was then, enters every row, and leaves it to the next start to bring the
     * schema up to date.
     *
     * @param key where the key of encrypted secrets goes, or null to leave it in the backup
     * @return rows entered
     */
    long read(Path file, @Nullable Path key) throws IOException, SQLException {
        if (!Files.isReadable(file)) {
            throw new HomeUnusable("There is no readable file " + file + ".");
        }
        try (ZipFile zip = new ZipFile(file.toFile(), StandardCharsets.UTF_8)) {
            Listing listing = listing(zip, file);
            requireWhole(zip, listing, file);
            makeSchema(listing, file);
            long rows = enter(zip, listing, file);
            ZipEntry kept = zip.getEntry(KEY);
            if (kept != null && key != null && !Files.exists(key)) {
                try (InputStream in = zip.getInputStream(kept)) {
                    OwnerOnly.write(key, new String(in.readNBytes(1000), StandardCharsets.UTF_8));
                }
            }
            return rows;
        } catch (ZipException damaged) {
            throw new HomeUnusable(file + " is no backup, or is damaged.");
        }
    }

    private Listing listing(ZipFile zip, Path file) throws IOException {
        ZipEntry entry = zip.getEntry(LIST);
        Listing listing = null;
        if (entry != null) {
            try (InputStream in = zip.getInputStream(entry)) {
                listing = json.readValue(in.readAllBytes(), Listing.class);
            } catch (JacksonException unreadable) {
                listing = null;
            }
        }
        if (listing == null || !FORMAT.equals(listing.format()) || listing.version() != VERSION) {
            throw new HomeUnusable(file + " is no backup that this Rootling can read.");
        }
        return listing;
    }

    private static void requireWhole(ZipFile zip, Listing listing, Path file) throws IOException {
        for (Kept table : listing.tables()) {
            ZipEntry entry = zip.getEntry("tables/" + table.name() + ".copy");
            MessageDigest sum = sha256();
            if (entry != null) {
                try (InputStream in = new DigestInputStream(zip.getInputStream(entry), sum)) {
                    in.transferTo(OutputStream.nullOutputStream());
                }
            }
            if (entry == null || !HexFormat.of().formatHex(sum.digest()).equals(table.sha256())) {
                throw new HomeUnusable(file + " is damaged: the table " + table.name() + " is not as it was written.");
            }
        }
    }

    private void makeSchema(Listing listing, Path file) throws SQLException {
        try (Connection connection = owner.getConnection()) {
            if (!one(connection, "select count(*)::text from pg_class where relnamespace = 'public'::regnamespace")
                    .equals("0")) {
                throw new HomeUnusable("The database is not empty. A backup goes into a new one only.");
            }
        }
        MigrationVersion wanted = MigrationVersion.fromVersion(listing.schema());
        Flyway flyway = Flyway.configure()
                .dataSource(owner)
                .locations("classpath:db/migration")
                .placeholders(Map.of("app_role", appRole))
                .target(wanted)
                .load();
        boolean known = java.util.Arrays.stream(flyway.info().all())
                .anyMatch(migration -> wanted.equals(migration.getVersion()));
        if (!known) {
            throw new HomeUnusable(file + " was made by another Rootling (its tables are at " + listing.schema()
                    + "). Use that one or a later one.");
        }
        flyway.migrate();
    }

    private long enter(ZipFile zip, Listing listing, Path file) throws IOException, SQLException {
        try (Connection connection = owner.getConnection();
                Statement statement = connection.createStatement()) {
            connection.setAutoCommit(false);
            Map<String, Shape> known = new TreeMap<>();
            shapes(connection).forEach(shape -> known.put(shape.name(), shape));
            Map<String, Kept> kept = new TreeMap<>();
            for (Kept table : listing.tables()) {
                Shape shape = known.get(table.name());
                if (shape == null || !shape.columns().containsAll(table.columns())) {
                    throw new HomeUnusable(file + " does not fit the tables it claims to be of: " + table.name());
                }
                kept.put(table.name(), table);
            }
            long rows = 0;
            for (String name : inOrder(connection, known.keySet())) {
                Kept table = kept.get(name);
                if (table == null) {
                    continue;
                }
                // Rows come as they were: no history of their coming, no sums made anew.
                statement.execute("alter table " + quoted(name) + " disable trigger user");
                statement.execute("delete from " + quoted(name));
                ZipEntry entry = zip.getEntry("tables/" + name + ".copy");
                try (InputStream in = zip.getInputStream(entry)) {
                    long entered = connection
                            .unwrap(PGConnection.class)
                            .getCopyAPI()
                            .copyIn("copy " + quoted(name) + " (" + list(table.columns()) + ") from stdin", in);
                    if (entered != table.rows()) {
                        throw new HomeUnusable(
                                file + " is damaged: " + name + " has " + entered + " rows, not " + table.rows() + ".");
                    }
                    rows += entered;
                }
                statement.execute("alter table " + quoted(name) + " enable trigger user");
            }
            raiseNumbers(connection);
            connection.commit();
            try (Statement fresh = connection.createStatement()) {
                fresh.execute("analyze");
            }
            connection.commit();
            return rows;
        }
    }

    /** Numbers that the database gives go on after the highest there is. */
    private static void raiseNumbers(Connection connection) throws SQLException {
        List<String> statements = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet numbered = statement.executeQuery("""
                        select c.relname, a.attname from pg_attribute a join pg_class c on c.oid = a.attrelid
                         where c.relnamespace = 'public'::regnamespace and a.attidentity <> ''""")) {
            while (numbered.next()) {
                String table = quoted(numbered.getString(1));
                String column = quoted(numbered.getString(2));
                statements.add("select setval(pg_get_serial_sequence('" + table.replace("'", "''") + "', '"
                        + numbered.getString(2) + "'), coalesce(max(" + column + "), 1), max(" + column
                        + ") is not null) from " + table);
            }
        }
        try (Statement statement = connection.createStatement()) {
            for (String raise : statements) {
                statement.execute(raise);
            }
        }
    }

    private static List<Shape> shapes(Connection connection) throws SQLException {
        List<Shape> shapes = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet tables = statement.executeQuery("""
                        select c.relname, array_agg(a.attname::text order by a.attnum)
                          from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attnum > 0
                           and not a.attisdropped and a.attgenerated = ''
                         where c.relnamespace = 'public'::regnamespace and c.relkind = 'r'
                         group by c.relname order by c.relname""")) {
            while (tables.next()) {
                if (!LEFT_OUT.contains(tables.getString(1))) {
                    shapes.add(new Shape(tables.getString(1), List.of((String[])
                            tables.getArray(2).getArray())));
                }
            }
        }
        return shapes;
    }

    /** Each table after those that its rows point at. */
    private static List<String> inOrder(Connection connection, Set<String> tables) throws SQLException {
        Map<String, Set<String>> needs = new TreeMap<>();
        tables.forEach(table -> needs.put(table, new LinkedHashSet<>()));
        try (Statement statement = connection.createStatement();
                ResultSet keys = statement.executeQuery("""
                        select conrelid::regclass::text, confrelid::regclass::text from pg_constraint
                         where contype = 'f' and connamespace = 'public'::regnamespace and conrelid <> confrelid""")) {
            while (keys.next()) {
                Set<String> before = needs.get(keys.getString(1));
                if (before != null && tables.contains(keys.getString(2))) {
                    before.add(keys.getString(2));
                }
            }
        }
        Set<String> ordered = new LinkedHashSet<>();
        while (ordered.size() < tables.size()) {
            int before = ordered.size();
            needs.forEach((table, needed) -> {
                if (ordered.containsAll(needed)) {
                    ordered.add(table);
                }
            });
            if (ordered.size() == before) {
                throw new IllegalStateException("tables need each other");
            }
        }
        return List.copyOf(ordered);
    }

    private static String schema(Connection connection) throws SQLException {
        return one(connection, """
                select version from flyway_schema_history where success and version is not null
                 order by installed_rank desc limit 1""");
    }

    private static String one(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getString(1);
        }
    }

    private static String list(List<String> columns) {
        return columns.stream().map(Backup::quoted).collect(Collectors.joining(", "));
    }

    private static String quoted(String name) {
        return '"' + name.replace("\"", "\"\"") + '"';
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        }
    }
}
