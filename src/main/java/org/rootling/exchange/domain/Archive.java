package org.rootling.exchange.domain;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/**
 * Everything of a vineyard as one ZIP: each table a CSV file, the people, the blocks as a map, pictures and papers as
 * files, a README that explains it, and a manifest with the sum of every file. {@link Restore} puts it back.
 */
@Service
public class Archive {

    private static final int FETCH = 2000;

    private final JdbcTemplate jdbc;
    private final Vineyards vineyards;
    private final MessageSource messages;
    private final Clock clock;
    private final JsonMapper json;

    Archive(DataSource database, Vineyards vineyards, MessageSource messages, Clock realClock, JsonMapper json) {
        this.jdbc = new JdbcTemplate(database);
        this.jdbc.setFetchSize(FETCH);
        this.vineyards = vineyards;
        this.messages = messages;
        this.clock = realClock;
        this.json = json;
    }

    /** Hears how many kinds of record are written, of how many; whoever hears may stop the work by an exception. */
    @FunctionalInterface
    public interface Watch {
        void at(long done, long all);
    }

    /** Writes the archive; all of it as of one moment. */
    @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
    public void write(OutputStream out, Watch watch) {
        try (ZipOutputStream zip = new ZipOutputStream(out, StandardCharsets.UTF_8)) {
            List<Manifest.Entry> written = new ArrayList<>();
            written.add(entry(zip, "people.csv", this::people));
            List<ArchiveTables.Table> tables = ArchiveTables.of(jdbc);
            for (int i = 0; i < tables.size(); i++) {
                ArchiveTables.Table table = tables.get(i);
                int before = i;
                Runnable still = () -> watch.at(before, tables.size());
                still.run();
                written.add(entry(zip, "tables/" + table.name() + ".csv", file -> table(table, file, still)));
                for (ArchiveTables.Column column : table.columns()) {
                    if (column.file()) {
                        files(zip, table, column, written);
                    }
                }
            }
            written.add(entry(zip, "blocks.geojson", file -> {
                BlockMap.write(jdbc, file);
                return 0;
            }));
            String readme = readme(written);
            written.add(entry(zip, "README.txt", file -> {
                file.write(readme.getBytes(StandardCharsets.UTF_8));
                return 0;
            }));
            zip.putNextEntry(new ZipEntry(Manifest.FILE));
            zip.write(json.writerWithDefaultPrettyPrinter().writeValueAsBytes(manifest(written)));
            zip.closeEntry();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    /** The version of the database's schema, such as 1050. */
    String schema() {
        return String.valueOf(jdbc.queryForObject("select rootling_schema()", String.class));
    }

    private Manifest manifest(List<Manifest.Entry> files) {
        Vineyard of = vineyards.current();
        return new Manifest(
                Manifest.FORMAT,
                Manifest.VERSION,
                schema(),
                clock.instant().toString(),
                new Manifest.Place(
                        of.id().toString(),
                        of.name(),
                        of.zone().getId(),
                        of.latitude(),
                        of.longitude(),
                        of.altitudeM()),
                files);
    }

    private long people(OutputStream file) throws IOException {
        List<List<@Nullable String>> people = jdbc.query("""
                select a.id, a.name, a.email, m.role, m.ended_at from membership m join account a on a.id = m.account_id
                 where m.vineyard_id = rootling_vineyard() order by a.name, a.id""", (row, n) -> cells(row, 5));
        ExactCsv.Out csv = new ExactCsv.Out(file, List.of("account_id", "name", "email", "role", "ended_at"));
        for (List<@Nullable String> person : people) {
            csv.write(person);
        }
        csv.flush();
        return people.size();
    }

    private long table(ArchiveTables.Table table, OutputStream file, Runnable still) throws IOException {
        // Names come from the database's own catalogue, quoted; nothing of a person's typing is in the statement.
        String columns = table.columns().stream()
                .map(column -> column.file()
                        ? "encode(substring(" + ArchiveTables.quoted(column.name()) + " from 1 for 12), 'hex')"
                        : ArchiveTables.quoted(column.name()))
                .collect(Collectors.joining(", "));
        String sql = "select " + columns + " from " + ArchiveTables.quoted(table.name()) + " order by " + table.order();
        ExactCsv.Out csv = new ExactCsv.Out(file, table.columnNames());
        long rows = 0;
        int idAt = table.columnNames().indexOf("id");
        try (Stream<List<@Nullable String>> all =
                jdbc.queryForStream(sql, (row, n) -> cells(row, table.columns().size()))) {
            for (Iterator<List<@Nullable String>> each = all.iterator(); each.hasNext(); rows++) {
                List<@Nullable String> cells = each.next();
                if (rows % FETCH == 0) {
                    still.run();
                }
                for (int i = 0; i < cells.size(); i++) {
                    ArchiveTables.Column column = table.columns().get(i);
                    String start = cells.get(i);
                    if (column.file() && start != null) {
                        cells.set(
                                i,
                                FileKind.of(HexFormat.of().parseHex(start))
                                        .path(table.name(), String.valueOf(cells.get(idAt)), column.name()));
                    }
                }
                csv.write(cells);
            }
        }
        csv.flush();
        return rows;
    }

    private void files(
            ZipOutputStream zip, ArchiveTables.Table table, ArchiveTables.Column column, List<Manifest.Entry> written) {
        String name = ArchiveTables.quoted(column.name());
        JdbcTemplate few = new JdbcTemplate(java.util.Objects.requireNonNull(jdbc.getDataSource()));
        few.setFetchSize(4);
        few.query(
                "select id, " + name + " from " + ArchiveTables.quoted(table.name()) + " where " + name
                        + " is not null order by id",
                row -> {
                    byte[] content = row.getBytes(2);
                    String path = FileKind.of(content).path(table.name(), row.getString(1), column.name());
                    try {
                        written.add(entry(zip, path, file -> {
                            file.write(content);
                            return 0;
                        }));
                    } catch (IOException failure) {
                        throw new UncheckedIOException(failure);
                    }
                });
    }

    private static List<@Nullable String> cells(ResultSet row, int columns) throws SQLException {
        List<@Nullable String> cells = new ArrayList<>(columns);
        for (int i = 1; i <= columns; i++) {
            // As PostgreSQL writes it: dates, ranges and JSON in their standard text, numbers with all their digits.
            cells.add(row.getString(i));
        }
        return cells;
    }

    private interface Content {
        /** Writes a file; returns how many records it has. */
        long write(OutputStream file) throws IOException;
    }

    private static Manifest.Entry entry(ZipOutputStream zip, String name, Content content) throws IOException {
        Summed summed = new Summed(zip);
        zip.putNextEntry(new ZipEntry(name));
        long rows = content.write(summed);
        summed.flush();
        zip.closeEntry();
        return new Manifest.Entry(name, rows, summed.bytes, HexFormat.of().formatHex(summed.sum.digest()));
    }

    static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    /** Counts and sums what goes through; closing it leaves the archive open for the next file. */
    private static final class Summed extends FilterOutputStream {
        private final MessageDigest sum = sha256();
        private long bytes;

        Summed(OutputStream out) {
            super(out);
        }

        @Override
        public void write(int one) throws IOException {
            write(new byte[] {(byte) one}, 0, 1);
        }

        @Override
        public void write(byte[] content, int from, int length) throws IOException {
            out.write(content, from, length);
            sum.update(content, from, length);
            bytes += length;
        }

        @Override
        public void close() throws IOException {
            flush();
        }
    }

    private String readme(List<Manifest.Entry> written) {
        Locale locale = LocaleContextHolder.getLocale();
        StringBuilder text = new StringBuilder();
        text.append(messages.getMessage(
                "exchange.archive.readme",
                new Object[] {vineyards.current().name(), vineyards.today().toString()},
                locale));
        text.append("\n\n");
        for (Manifest.Entry file : written) {
            if (file.name().endsWith(".csv")) {
                text.append(messages.getMessage(
                                "exchange.archive.readme-file",
                                new Object[] {file.name(), Long.toString(file.rows())},
                                locale))
                        .append('\n');
            }
        }
        return text.toString();
    }
}
