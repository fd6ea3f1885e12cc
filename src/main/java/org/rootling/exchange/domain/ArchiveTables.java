package org.rootling.exchange.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.JdbcTemplate;

/**
 * The tables of a vineyard as the database's own catalogue knows them, so that none can be forgotten; the fence keeps
 * other vineyards out.
 */
final class ArchiveTables {

    /**
     * Not in an archive: ways in, which nobody should carry home, not even as a hash; mails waiting to be sent; and what
     * the program keeps for itself.
     */
    static final Set<String> LEFT_OUT = Set.of(
            "api_token",
            "invitation",
            "calendar_feed",
            "digest_mail",
            "form_receipt",
            "weather_fetch",
            "weather_mark",
            "archive_restore",
            "archive_part",
            "background_job",
            "background_file",
            "restoring",
            "deleting");

    private static final Pattern SECRET = Pattern.compile(".*(_hash|secret.*|password.*)");

    /**
     * A column.
     *
     * @param type as PostgreSQL writes it
     * @param numbered whether the database numbers the rows by it
     */
    record Column(String name, String type, boolean numbered) {
        boolean file() {
            return type.equals("bytea");
        }

        /** Whether ids of people or of the vineyard may stand in it. */
        boolean holdsIds() {
            return type.startsWith("uuid") || type.startsWith("json");
        }
    }

    /**
     * A table.
     *
     * @param kept whether its rows are entered; otherwise the database derives them from others
     * @param needs tables whose rows must be there before
     * @param needsItself whether rows of it point at others of it
     */
    record Table(
            String name, List<Column> columns, List<String> key, boolean kept, Set<String> needs, boolean needsItself) {

        boolean numbered() {
            return columns.stream().anyMatch(Column::numbered);
        }

        List<String> columnNames() {
            return columns.stream().map(Column::name).toList();
        }

        @Nullable
        Column column(String columnName) {
            return columns.stream()
                    .filter(column -> column.name().equals(columnName))
                    .findFirst()
                    .orElse(null);
        }

        String order() {
            return columns.stream()
                    .filter(Column::numbered)
                    .findFirst()
                    .map(column -> quoted(column.name()))
                    .orElseGet(() -> key.isEmpty()
                            ? "1"
                            : key.stream().map(ArchiveTables::quoted).collect(Collectors.joining(", ")));
        }
    }

    private ArchiveTables() {}

    /** All tables of an archive, each after those it needs. */
    static List<Table> of(JdbcTemplate jdbc) {
        Map<String, Set<String>> needs = new HashMap<>();
        jdbc.query("""
                select c.conrelid::regclass::text as tbl, c.confrelid::regclass::text as needed
                  from pg_constraint c where c.contype = 'f' and c.connamespace = 'public'::regnamespace""", row -> {
            needs.computeIfAbsent(row.getString("tbl"), tbl -> new LinkedHashSet<>())
                    .add(row.getString("needed"));
        });
        Map<String, Table> all = new TreeMap<>();
        jdbc.query("""
                select c.relname, has_table_privilege(c.oid, 'insert') as kept,
                       array_agg(a.attname::text order by a.attnum) as columns,
                       array_agg(format_type(a.atttypid, a.atttypmod) order by a.attnum) as types,
                       array_agg((a.attidentity <> '')::text order by a.attnum) as numbered,
                       (select array_agg(k.attname::text order by k.attnum) from pg_index i
                          join pg_attribute k on k.attrelid = c.oid and k.attnum = any (i.indkey)
                         where i.indrelid = c.oid and i.indisprimary and k.attname <> 'vineyard_id') as key
                  from pg_class c
                  join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
                   and a.attname <> 'vineyard_id' and a.attgenerated = '' and has_column_privilege(c.oid, a.attnum, 'select')
                 where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and c.relrowsecurity
                   and exists (select 1 from pg_attribute v where v.attrelid = c.oid and v.attname = 'vineyard_id')
                   and has_table_privilege(c.oid, 'select')
                 group by c.oid, c.relname
                """, row -> {
            Table table = table(row, needs);
            if (!LEFT_OUT.contains(table.name())) {
                all.put(table.name(), table);
            }
        });
        return inOrder(all);
    }

    private static Table table(ResultSet row, Map<String, Set<String>> needs) throws SQLException {
        String name = row.getString("relname");
        List<String> names = texts(row, "columns");
        List<String> types = texts(row, "types");
        List<String> numbered = texts(row, "numbered");
        List<Column> columns = new ArrayList<>();
        for (int i = 0; i < names.size(); i++) {
            if (!SECRET.matcher(names.get(i)).matches()) {
                columns.add(new Column(names.get(i), types.get(i), Boolean.parseBoolean(numbered.get(i))));
            }
        }
        Set<String> needed = new LinkedHashSet<>(needs.getOrDefault(name, Set.of()));
        boolean itself = needed.remove(name);
        return new Table(name, columns, texts(row, "key"), row.getBoolean("kept"), needed, itself);
    }

    private static List<String> texts(ResultSet row, String column) throws SQLException {
        java.sql.Array array = row.getArray(column);
        return array == null ? List.of() : List.of((String[]) array.getArray());
    }

    private static List<Table> inOrder(Map<String, Table> all) {
        List<Table> ordered = new ArrayList<>();
        Set<String> placed = new LinkedHashSet<>();
        while (ordered.size() < all.size()) {
            int before = ordered.size();
            for (Table table : all.values()) {
                boolean ready = table.needs().stream().allMatch(n -> placed.contains(n) || !all.containsKey(n));
                if (ready && placed.add(table.name())) {
                    ordered.add(table);
                }
            }
            if (ordered.size() == before) {
                throw new IllegalStateException("tables need each other: " + all.keySet());
            }
        }
        return ordered;
    }

    /** A name of the catalogue, quoted for a statement. */
    static String quoted(String name) {
        return '"' + name.replace("\"", "\"\"") + '"';
    }
}
