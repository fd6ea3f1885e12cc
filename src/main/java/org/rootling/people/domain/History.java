package org.rootling.people.domain;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Reads the audit trail of the current vineyard. */
@Component
public class History {

    private static final Set<String> SILENT = Set.of("id", "vineyard_id", "version");

    private static final Pattern RANGE = Pattern.compile("\\[(\\d{1,8}),(\\d{1,8})\\)");
    private static final Pattern RANGES = Pattern.compile("\\{(" + RANGE + "(," + RANGE + ")*)?}");

    /** One value that was set or changed. */
    public record Change(
            String column,
            @Nullable String before,
            @Nullable String after) {}

    /** One change of one row. */
    public record Entry(
            long id, Instant at, @Nullable UUID account, String action, String table, List<Change> changes) {}

    private final JdbcClient jdbc;
    private final JsonMapper json;

    History(JdbcClient jdbc, JsonMapper json) {
        this.jdbc = jdbc;
        this.json = json;
    }

    /** Entries older than a number, newest first; of one kind of record, or by one person, where these are given. */
    public List<Entry> before(long id, @Nullable String table, @Nullable UUID account, int most) {
        return jdbc.sql("""
                        select id, at, account_id, action, table_name, before, after from audit_entry
                         where vineyard_id = rootling_vineyard() and id < :id
                           and (cast(:table as text) is null or table_name = :table)
                           and (cast(:account as uuid) is null or account_id = :account)
                         order by id desc limit :most""")
                .param("id", id)
                .param("table", table)
                .param("account", account)
                .param("most", most)
                .query((row, i) -> new Entry(
                        row.getLong("id"),
                        row.getTimestamp("at").toInstant(),
                        row.getObject("account_id", UUID.class),
                        row.getString("action"),
                        row.getString("table_name"),
                        changes(row.getString("before"), row.getString("after"))))
                .list();
    }

    /** The kinds of records that have a history here. */
    public List<String> tables() {
        return jdbc.sql("select distinct table_name from audit_entry where vineyard_id = rootling_vineyard()")
                .query(String.class)
                .list();
    }

    private List<Change> changes(@Nullable String before, @Nullable String after) {
        JsonNode old = before == null ? json.createObjectNode() : json.readTree(before);
        JsonNode now = after == null ? json.createObjectNode() : json.readTree(after);
        List<Change> changes = new ArrayList<>();
        for (String column : (after == null ? old : now).propertyNames()) {
            String was = text(old.get(column));
            String is = text(now.get(column));
            if (!SILENT.contains(column) && !java.util.Objects.equals(was, is)) {
                changes.add(new Change(column, was, is));
            }
        }
        return changes;
    }

    private static @Nullable String text(@Nullable JsonNode node) {
        if (node == null || node.isNull()) {
            return null;
        }
        String text = node.isString() ? places(node.stringValue()) : node.toString();
        return text.length() > 120 ? text.substring(0, 120) + "…" : text;
    }

    /** Places as people write them, "1-18, 20", where the database has them as half-open ranges. */
    static String places(String text) {
        if (!RANGES.matcher(text).matches()) {
            return text;
        }
        List<String> runs = new ArrayList<>();
        Matcher range = RANGE.matcher(text);
        while (range.find()) {
            int from = Integer.parseInt(range.group(1));
            int to = Integer.parseInt(range.group(2)) - 1;
            runs.add(from == to ? String.valueOf(from) : from + "-" + to);
        }
        return runs.isEmpty() ? "–" : String.join(", ", runs);
    }
}
