package org.rootling.exchange.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.LongConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Enters the records of a checked archive, all in one transaction. Ids stay as they were (they are keys together with the
 * vineyard); people become the members with their e-mail address, or names without a way in. What the database derives
 * (balances, tallies) it derives again, and it must come out as the archive has it.
 */
@Component
class RestoreWork {

    /** Somebody wished that it stops; nothing of it stays. */
    static final class Stopped extends RuntimeException {}

    /** Tables whose rows are the new vineyard's own business. */
    private static final Set<String> STAYS = Set.of("membership");

    private static final String HISTORY = "audit_entry";
    private static final int BATCH = 2000;

    /** Most rows of a table whose rows point at each other; they are entered in one statement. */
    private static final int MOST_AT_ONCE = 200_000;

    private static final int LARGEST_FILE = 16 << 20;

    private static final Pattern ID =
            Pattern.compile("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}", Pattern.CASE_INSENSITIVE);

    /** A person of the archive; {@code member} is who they are here, or null. */
    record Person(
            String account,
            String name,
            String email,
            @Nullable UUID member,
            @Nullable String memberName) {}

    private final JdbcTemplate jdbc;

    RestoreWork(DataSource database) {
        this.jdbc = new JdbcTemplate(database);
    }

    /** The table whose rows show that the current vineyard is not empty, or null. */
    @Nullable
    String firstFilled() {
        return jdbc.queryForObject("select rootling_first_filled()", String.class);
    }

    /** The people of the archive, each with the member here that has the same address. */
    List<Person> people(ArchiveFile archive) throws IOException {
        Map<String, Map.Entry<UUID, String>> members = new HashMap<>();
        jdbc.query("""
                select a.id, a.name, a.email from membership m join account a on a.id = m.account_id
                 where m.vineyard_id = rootling_vineyard() and m.ended_at is null""", row -> {
            members.put(row.getString("email"), Map.entry(row.getObject("id", UUID.class), row.getString("name")));
        });
        List<Person> people = new ArrayList<>();
        try (ExactCsv.In csv = new ExactCsv.In(archive.open("people.csv"))) {
            if (!csv.columns().equals(List.of("account_id", "name", "email", "role", "ended_at"))) {
                throw new Refused("exchange.restore.unknown-columns", "people.csv");
            }
            while (csv.hasNext()) {
                List<@Nullable String> cells = csv.next();
                String account = String.valueOf(cells.get(0)).toLowerCase(Locale.ROOT);
                String name = String.valueOf(cells.get(1));
                if (!ID.matcher(account).matches() || name.isBlank() || name.length() > 80) {
                    throw new Refused("exchange.restore.strange-person", String.valueOf(people.size() + 1));
                }
                String email = String.valueOf(cells.get(2));
                Map.Entry<UUID, String> member = members.get(email.toLowerCase(Locale.ROOT));
                people.add(new Person(
                        account,
                        name,
                        email,
                        member == null ? null : member.getKey(),
                        member == null ? null : member.getValue()));
            }
        }
        return people;
    }

    /** Refuses an archive with tables or columns that this database does not have. */
    void requireKnownShape(ArchiveFile archive) throws IOException {
        Map<String, ArchiveTables.Table> tables = tables();
        for (String name : archive.tables()) {
            ArchiveTables.Table table = tables.get(name);
            if (table == null) {
                throw new Refused("exchange.restore.unknown-table", name);
            }
            try (ExactCsv.In csv = new ExactCsv.In(archive.open("tables/" + name + ".csv"))) {
                if (csv.columns().isEmpty()
                        || !table.columnNames().containsAll(csv.columns())
                        || new HashSet<>(csv.columns()).size() != csv.columns().size()) {
                    throw new Refused("exchange.restore.unknown-columns", name + ".csv");
                }
            }
        }
    }

    private Map<String, ArchiveTables.Table> tables() {
        Map<String, ArchiveTables.Table> tables = new LinkedHashMap<>();
        ArchiveTables.of(jdbc).forEach(table -> tables.put(table.name(), table));
        return tables;
    }

    /**
     * Enters everything, or nothing.
     *
     * @param progress told how many rows are entered; may throw to stop
     */
    @Transactional(rollbackFor = IOException.class)
    public void enter(ArchiveFile archive, UUID run, String fileName, LongConsumer progress) throws IOException {
        jdbc.query("select rootling_restore_begin()", row -> {});
        Map<String, String> ids = newIds(archive);
        Map<String, ArchiveTables.Table> tables = tables();
        long[] done = new long[1];
        for (ArchiveTables.Table table : tables.values()) {
            if (archive.has("tables/" + table.name() + ".csv") && !STAYS.contains(table.name())) {
                if (table.kept()) {
                    enter(archive, table, ids, done, progress);
                } else if (table.name().equals(HISTORY)) {
                    history(archive, ids, done, progress);
                }
            }
        }
        Manifest.Place place = archive.manifest().vineyard();
        jdbc.update(
                "update vineyard set zone = ?, latitude = ?, longitude = ?, altitude_m = ?, version = version + 1"
                        + " where id = rootling_vineyard()",
                java.time.ZoneId.of(place.zone()).getId(),
                place.latitude(),
                place.longitude(),
                place.altitudeM());
        for (ArchiveTables.Table table : tables.values()) {
            if (archive.has("tables/" + table.name() + ".csv")
                    && !table.kept()
                    && !table.name().equals(HISTORY)) {
                requireSame(archive, table, ids);
            }
        }
        jdbc.query("select rootling_restore_end(?, ?)", row -> {}, run, fileName);
        int ours = jdbc.update(
                "update archive_restore set state = 'DONE', rows_done = ? where vineyard_id = rootling_vineyard() and id = ?"
                        + " and state = 'RUNNING'",
                done[0],
                run);
        if (ours == 0) {
            throw new Stopped();
        }
    }

    private Map<String, String> newIds(ArchiveFile archive) throws IOException {
        Map<String, String> ids = new HashMap<>();
        ids.put(
                String.valueOf(archive.manifest().vineyard().id()).toLowerCase(Locale.ROOT),
                Tenancy.require().toString());
        for (Person person : people(archive)) {
            UUID here = person.member() != null
                    ? person.member()
                    : jdbc.queryForObject("select rootling_restore_person(?)", UUID.class, person.name());
            ids.put(person.account(), String.valueOf(here));
        }
        return ids;
    }

    private void enter(
            ArchiveFile archive, ArchiveTables.Table table, Map<String, String> ids, long[] done, LongConsumer progress)
            throws IOException {
        try (ExactCsv.In csv = new ExactCsv.In(archive.open("tables/" + table.name() + ".csv"))) {
            List<ArchiveTables.Column> columns = csv.columns().stream()
                    .map(table::column)
                    .map(java.util.Objects::requireNonNull)
                    .toList();
            boolean atOnce = table.needsItself() && !table.numbered();
            List<List<@Nullable String>> rows = new ArrayList<>();
            while (csv.hasNext()) {
                rows.add(mapped(csv.next(), columns, ids));
                if (rows.size() >= (atOnce ? MOST_AT_ONCE + 1 : BATCH)) {
                    if (atOnce) {
                        throw new Refused("exchange.restore.too-large");
                    }
                    insert(archive, table, columns, rows, done, progress);
                    rows.clear();
                }
            }
            insert(archive, table, columns, rows, done, progress);
        }
    }

    private static List<@Nullable String> mapped(
            List<@Nullable String> cells, List<ArchiveTables.Column> columns, Map<String, String> ids) {
        for (int i = 0; i < cells.size(); i++) {
            String cell = cells.get(i);
            if (cell != null && columns.get(i).holdsIds()) {
                cells.set(i, mapped(cell, ids));
            }
        }
        return cells;
    }

    private static String mapped(String cell, Map<String, String> ids) {
        return ID.matcher(cell)
                .replaceAll(found -> Matcher.quoteReplacement(
                        ids.getOrDefault(found.group().toLowerCase(Locale.ROOT), found.group())));
    }

    private void insert(
            ArchiveFile archive,
            ArchiveTables.Table table,
            List<ArchiveTables.Column> all,
            List<List<@Nullable String>> rows,
            long[] done,
            LongConsumer progress)
            throws IOException {
        if (rows.isEmpty()) {
            return;
        }
        List<Integer> used = new ArrayList<>();
        for (int i = 0; i < all.size(); i++) {
            if (!all.get(i).numbered()) {
                used.add(i);
            }
        }
        String names =
                used.stream().map(i -> ArchiveTables.quoted(all.get(i).name())).collect(Collectors.joining(", "));
        String values =
                used.stream().map(i -> "r.c" + i + "::" + all.get(i).type()).collect(Collectors.joining(", "));
        String arrays = used.stream().map(i -> "?::text[]").collect(Collectors.joining(", "));
        String cells = used.stream().map(i -> "c" + i).collect(Collectors.joining(", "));
        // Names and types come from the catalogue; values are parameters.
        String sql = "insert into " + ArchiveTables.quoted(table.name()) + " (" + names + ") select " + values
                + " from unnest(" + arrays + ") with ordinality as r (" + cells + ", n) order by r.n"
                + (table.name().equals("daily_run") ? " on conflict do nothing" : "");
        try {
            jdbc.update(sql, statement -> {
                int parameter = 1;
                for (int i : used) {
                    @Nullable String[] column = new @Nullable String[rows.size()];
                    for (int row = 0; row < rows.size(); row++) {
                        String cell = rows.get(row).get(i);
                        column[row] = cell != null && all.get(i).file() ? content(archive, table, cell) : cell;
                    }
                    statement.setArray(parameter++, statement.getConnection().createArrayOf("text", column));
                }
            });
        } catch (DataAccessException refused) {
            throw new Refused("exchange.restore.database", table.name(), reason(refused));
        }
        done[0] += rows.size();
        progress.accept(done[0]);
    }

    /** A file's bytes as PostgreSQL reads them; only pictures and papers, told by their own first bytes. */
    private static String content(ArchiveFile archive, ArchiveTables.Table table, String path) {
        if (!path.startsWith("files/" + table.name() + "/")) {
            throw new Refused("exchange.restore.missing-file", path);
        }
        try {
            byte[] bytes = archive.bytes(path);
            if (bytes.length > LARGEST_FILE || FileKind.of(bytes) == FileKind.OTHER) {
                throw new Refused("exchange.restore.strange-file", path);
            }
            return "\\x" + java.util.HexFormat.of().formatHex(bytes);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private static String reason(DataAccessException refused) {
        String text = String.valueOf(refused.getMostSpecificCause().getMessage());
        String first = text.lines().findFirst().orElse("").replaceFirst("^ERROR: ", "");
        return first.length() > 200 ? first.substring(0, 200) + "…" : first;
    }

    private void history(ArchiveFile archive, Map<String, String> ids, long[] done, LongConsumer progress)
            throws IOException {
        List<String> wanted = List.of("at", "account_id", "action", "table_name", "row_id", "before", "after");
        try (ExactCsv.In csv = new ExactCsv.In(archive.open("tables/" + HISTORY + ".csv"))) {
            if (!csv.columns().containsAll(wanted)) {
                throw new Refused("exchange.restore.unknown-columns", HISTORY + ".csv");
            }
            List<Integer> at = wanted.stream().map(csv.columns()::indexOf).toList();
            List<List<@Nullable String>> rows = new ArrayList<>();
            while (csv.hasNext()) {
                List<@Nullable String> read = csv.next();
                List<@Nullable String> row = new ArrayList<>();
                for (int i : at) {
                    String cell = read.get(i);
                    row.add(cell == null ? null : mapped(cell, ids));
                }
                rows.add(row);
                if (rows.size() == BATCH) {
                    history(rows, done, progress);
                    rows.clear();
                }
            }
            history(rows, done, progress);
        }
    }

    private void history(List<List<@Nullable String>> rows, long[] done, LongConsumer progress) {
        if (rows.isEmpty()) {
            return;
        }
        try {
            jdbc.query(
                    "select rootling_restore_history(?, ?, ?, ?, ?, ?, ?)",
                    statement -> {
                        for (int i = 0; i < 7; i++) {
                            @Nullable String[] column = new @Nullable String[rows.size()];
                            for (int row = 0; row < rows.size(); row++) {
                                column[row] = rows.get(row).get(i);
                            }
                            statement.setArray(i + 1, statement.getConnection().createArrayOf("text", column));
                        }
                    },
                    row -> {});
        } catch (DataAccessException refused) {
            throw new Refused("exchange.restore.database", HISTORY, reason(refused));
        }
        done[0] += rows.size();
        progress.accept(done[0]);
    }

    /** What the database derived must be what the archive has, row by row. */
    private void requireSame(ArchiveFile archive, ArchiveTables.Table table, Map<String, String> ids)
            throws IOException {
        try (ExactCsv.In csv = new ExactCsv.In(archive.open("tables/" + table.name() + ".csv"))) {
            List<String> columns = csv.columns();
            Map<List<@Nullable String>, Integer> open = new HashMap<>();
            List<ArchiveTables.Column> known = columns.stream()
                    .map(table::column)
                    .map(java.util.Objects::requireNonNull)
                    .toList();
            while (csv.hasNext()) {
                open.merge(mapped(csv.next(), known, ids), 1, Integer::sum);
            }
            String names = columns.stream().map(ArchiveTables::quoted).collect(Collectors.joining(", "));
            jdbc.query("select " + names + " from " + ArchiveTables.quoted(table.name()), row -> {
                List<@Nullable String> cells = new ArrayList<>();
                for (int i = 1; i <= columns.size(); i++) {
                    cells.add(row.getString(i));
                }
                Integer left = open.merge(cells, -1, Integer::sum);
                if (left == 0) {
                    open.remove(cells);
                }
            });
            if (!open.isEmpty()) {
                throw new Refused("exchange.restore.derived", table.name());
            }
        }
    }
}
