package org.rootling.exchange.domain;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.Sheet;
import org.rootling.exchange.Spreadsheets;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Vineyards;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Everything of a vineyard as one ZIP: each table a CSV file, the people, and a README that explains it. It finds the
 * tables itself, by the vineyard they belong to, so that none can be forgotten; the fence of the database keeps other
 * vineyards out.
 */
@Service
public class Archive {

    /** Ways in, which nobody should carry home: no token or invitation, not even as a hash. */
    private static final Set<String> LEFT_OUT = Set.of("api_token", "invitation");

    private static final Pattern SECRET = Pattern.compile(".*(_hash|secret.*|password.*)");

    private static final int FETCH = 2000;

    private record Table(String name, List<String> columns) {}

    private record Written(String file, long rows) {}

    private final JdbcTemplate jdbc;
    private final Vineyards vineyards;
    private final Members members;
    private final MessageSource messages;

    Archive(DataSource database, Vineyards vineyards, Members members, MessageSource messages) {
        this.jdbc = new JdbcTemplate(database);
        this.jdbc.setFetchSize(FETCH);
        this.vineyards = vineyards;
        this.members = members;
        this.messages = messages;
    }

    /** Writes the archive; all of it as of one moment. */
    @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
    public void write(OutputStream out) {
        try (ZipOutputStream zip = new ZipOutputStream(out, StandardCharsets.UTF_8)) {
            List<Written> written = new ArrayList<>();
            written.add(csv(zip, peopleSheet(), "people.csv"));
            for (Table table : tables()) {
                written.add(write(zip, table));
            }
            zip.putNextEntry(new ZipEntry("README.txt"));
            zip.write(readme(written).getBytes(StandardCharsets.UTF_8));
            zip.closeEntry();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private List<Table> tables() {
        return jdbc.query("""
                select c.relname,
                       (select array_agg(a.attname::text order by a.attnum) from pg_attribute a
                         where a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
                           and has_column_privilege(c.oid, a.attnum, 'select')) as columns
                  from pg_class c
                 where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and c.relrowsecurity
                   and exists (select 1 from pg_attribute v where v.attrelid = c.oid and v.attname = 'vineyard_id')
                   and has_table_privilege(c.oid, 'select')
                 order by c.relname
                """, (row, n) -> table(row)).stream()
                .filter(table -> !LEFT_OUT.contains(table.name()))
                .toList();
    }

    private static Table table(ResultSet row) throws SQLException {
        Array columns = row.getArray("columns");
        List<String> names = Arrays.stream((String[]) columns.getArray())
                .filter(name ->
                        !name.equals("vineyard_id") && !SECRET.matcher(name).matches())
                .toList();
        return new Table(row.getString("relname"), names);
    }

    private Written write(ZipOutputStream zip, Table table) throws IOException {
        // Names come from the database's own catalogue, quoted; nothing of a person's typing is in the statement.
        String sql = "select "
                + String.join(
                        ", ", table.columns().stream().map(Archive::quoted).toList()) + " from " + quoted(table.name());
        try (Stream<List<@Nullable Object>> rows = jdbc.queryForStream(sql, (row, n) -> cells(row, table))) {
            return csv(
                    zip, new Sheet(table.name(), table.columns(), rows.iterator()), "tables/" + table.name() + ".csv");
        }
    }

    private static List<@Nullable Object> cells(ResultSet row, Table table) throws SQLException {
        List<@Nullable Object> cells = new ArrayList<>(table.columns().size());
        for (int i = 1; i <= table.columns().size(); i++) {
            // As PostgreSQL writes it: dates, ranges and JSON in their standard text, numbers with all their digits.
            cells.add(row.getString(i));
        }
        return cells;
    }

    private Sheet peopleSheet() {
        List<List<String>> people = new ArrayList<>();
        for (Member member : members.list()) {
            people.add(List.of(
                    member.accountId().toString(),
                    member.name(),
                    member.email(),
                    member.role().name()));
        }
        return Sheet.of("people", List.of("account_id", "name", "email", "role"), people);
    }

    private static Written csv(ZipOutputStream zip, Sheet sheet, String file) throws IOException {
        long[] rows = new long[1];
        zip.putNextEntry(new ZipEntry(file));
        Iterator<? extends List<? extends @Nullable Object>> all = sheet.rows();
        Sheet counted = new Sheet(sheet.name(), sheet.columns(), new Iterator<List<? extends @Nullable Object>>() {
            @Override
            public boolean hasNext() {
                return all.hasNext();
            }

            @Override
            public List<? extends @Nullable Object> next() {
                rows[0]++;
                return all.next();
            }
        });
        Spreadsheets.csv(counted, new FilterOutputStream(zip) {
            @Override
            public void write(byte[] bytes, int from, int length) throws IOException {
                out.write(bytes, from, length);
            }

            @Override
            public void close() {
                // the next file goes into the same archive
            }
        });
        zip.closeEntry();
        return new Written(file, rows[0]);
    }

    private String readme(List<Written> written) {
        Locale locale = LocaleContextHolder.getLocale();
        StringBuilder text = new StringBuilder();
        text.append(messages.getMessage(
                "exchange.archive.readme",
                new Object[] {vineyards.current().name(), vineyards.today().toString()},
                locale));
        text.append("\n\n");
        for (Written file : written) {
            text.append(messages.getMessage(
                            "exchange.archive.readme-file",
                            new Object[] {file.file(), Long.toString(file.rows())},
                            locale))
                    .append('\n');
        }
        return text.toString();
    }

    private static String quoted(String name) {
        return '"' + name.replace("\"", "\"\"") + '"';
    }
}
