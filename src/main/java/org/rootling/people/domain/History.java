package org.rootling.people.domain;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Reads the audit trail of the current vineyard. */
@Component
public class History {

    private static final Set<String> SILENT = Set.of("id", "vineyard_id", "version");

    private static final int MOST_OF_A_ROW = 30;

    /** Entries that are looked through at once for words. */
    static final int WINDOW = 20_000;

    /** Records that have a name or a number that people say. */
    private static final String NAMED =
            "'lot', 'store', 'supplier', 'nursery_order', 'block', 'work_person', 'work_tool'";

    /** Letters with marks, small and great, and beside them those without: as FoldedText has it, for our languages. */
    private static final String MARKED = "àáâãäåāăąçćčďèéêëēęěìíîïīłñńňòóôõöøőřśšşťùúûüūůűýÿźżž"
            + "ÀÁÂÃÄÅĀĂĄÇĆČĎÈÉÊËĒĘĚÌÍÎÏĪŁÑŃŇÒÓÔÕÖØŐŘŚŠŞŤÙÚÛÜŪŮŰÝŸŹŻŽ";

    private static final String BARE = "aaaaaaaaacccdeeeeeeeiiiiilnnnooooooorssstuuuuuuuyyzzz"
            + "aaaaaaaaacccdeeeeeeeiiiiilnnnooooooorssstuuuuuuuyyzzz";

    private static final String CHANGED = "exists (select 1 from jsonb_each_text(coalesce(after, before)) n"
            + " where n.key not in ('id', 'vineyard_id', 'version')"
            + " and before -> n.key is distinct from after -> n.key and ";

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

    /**
     * What is looked for: entries of one kind of record, or by one person, where these are given, that have every word.
     *
     * @param after the entry, or the edge of what was looked through, after which to go on; null for the beginning
     * @param oldestFirst the other way round
     */
    public record Wanted(
            @Nullable String table,
            @Nullable UUID account,
            List<Word> words,
            boolean oldestFirst,
            @Nullable Long after,
            int most) {}

    /**
     * A word that people look for and what it may mean in the trail, which keeps codes and ids.
     *
     * @param folded the word itself, without case and accents
     * @param tables kinds of records that are called so
     * @param accounts people who are called so
     * @param actions what can be done that is called so
     * @param columns values that are called so, such as a count
     * @param codes column and code, or kind of record, column and code, that are called so, as in "task.status=DONE"
     */
    public record Word(
            String folded,
            Set<String> tables,
            Set<UUID> accounts,
            Set<String> actions,
            Set<String> columns,
            Set<String> codes) {}

    /**
     * Some entries.
     *
     * @param next where to go on; null where nothing follows
     */
    public record Found(List<Entry> entries, @Nullable Long next) {}

    /**
     * The entries wanted, newest first. Where words are looked for, no more than {@link #WINDOW} entries are looked through
     * at once, so that a rare word costs no more than a common one: there may be few or none, and still more to look through.
     */
    public Found find(Wanted wanted) {
        StringBuilder where = new StringBuilder("vineyard_id = rootling_vineyard()");
        Map<String, Object> values = new HashMap<>();
        if (wanted.table() != null) {
            where.append(" and table_name = :table");
            values.put("table", wanted.table());
        }
        if (wanted.account() != null) {
            where.append(" and account_id = :account");
            values.put("account", wanted.account());
        }
        if (wanted.after() != null) {
            where.append(wanted.oldestFirst() ? " and id > :after" : " and id < :after");
            values.put("after", wanted.after());
        }
        String order = wanted.oldestFirst() ? " order by id" : " order by id desc";
        Edge edge = null;
        if (!wanted.words().isEmpty()) {
            edge = edge(where + order, values, wanted.oldestFirst());
            if (edge.count() == 0) {
                return new Found(List.of(), null);
            }
            where.append(wanted.oldestFirst() ? " and id <= :edge" : " and id >= :edge");
            values.put("edge", edge.id());
            for (int i = 0; i < wanted.words().size(); i++) {
                has(wanted.words().get(i), i, where, values);
            }
        }
        values.put("most", wanted.most() + 1);
        List<Entry> entries = jdbc.sql(
                        "select id, at, account_id, action, table_name, before, after from audit_entry where " + where
                                + order + " limit :most")
                .params(values)
                .query((row, i) -> new Entry(
                        row.getLong("id"),
                        row.getTimestamp("at").toInstant(),
                        row.getObject("account_id", UUID.class),
                        row.getString("action"),
                        row.getString("table_name"),
                        changes(row.getString("before"), row.getString("after"))))
                .list();
        if (entries.size() > wanted.most()) {
            List<Entry> shown = entries.subList(0, wanted.most());
            return new Found(shown, shown.get(shown.size() - 1).id());
        }
        return new Found(entries, edge != null && edge.count() == WINDOW ? edge.id() : null);
    }

    private record Edge(long id, int count) {}

    private Edge edge(String which, Map<String, Object> values, boolean last) {
        return jdbc.sql("select coalesce(" + (last ? "max" : "min")
                        + "(id), 0) as id, count(*) as count from (select id from audit_entry where " + which
                        + " limit "
                        + WINDOW + ") looked")
                .params(values)
                .query((row, i) -> new Edge(row.getLong("id"), row.getInt("count")))
                .single();
    }

    /** Adds the condition that an entry has a word: in what changed, or in what the trail keeps a code or an id of. */
    private static void has(Word word, int nth, StringBuilder where, Map<String, Object> values) {
        List<String> ways = new ArrayList<>();
        values.put("like" + nth, pattern(word.folded(), false));
        values.put("json" + nth, pattern(word.folded(), true));
        ways.add("(concat(before, after) ~ :json" + nth + " and " + CHANGED + "(" + told("n.value") + " ~ :like" + nth
                + " or " + told("before ->> n.key") + " ~ :like" + nth + ")))");
        // what a record is called stands in its own entries
        ways.add("concat(before, after) like any (select '%' || named.row_id || '%' from (select distinct row_id"
                + " from audit_entry where vineyard_id = rootling_vineyard() and table_name in (" + NAMED
                + ") and coalesce(after ->> 'code', after ->> 'name', after ->> 'reference') ~ :like" + nth
                + " limit 20) named)");
        oneOf("table_name", "tables" + nth, word.tables(), ways, values);
        oneOf("account_id", "accounts" + nth, word.accounts(), ways, values);
        if (!word.accounts().isEmpty()) {
            String of = " in (:people" + nth + ")";
            ways.add(CHANGED + "(n.value" + of + " or before ->> n.key" + of + "))");
            values.put(
                    "people" + nth, word.accounts().stream().map(UUID::toString).toList());
        }
        oneOf("action", "actions" + nth, word.actions(), ways, values);
        if (!word.columns().isEmpty()) {
            ways.add(CHANGED + "n.value is not null and n.key in (:columns" + nth + "))");
            values.put("columns" + nth, word.columns());
        }
        if (!word.codes().isEmpty()) {
            String of = " in (:codes" + nth + ")";
            ways.add(CHANGED + "(concat(n.key, '=', n.value)" + of + " or concat(n.key, '=', before ->> n.key)" + of
                    + " or concat(table_name, '.', n.key, '=', n.value)" + of
                    + " or concat(table_name, '.', n.key, '=', before ->> n.key)" + of + "))");
            values.put("codes" + nth, word.codes());
        }
        where.append(" and (").append(String.join(" or ", ways)).append(')');
    }

    /** A value as far as people are told it: ids, in whose letters one may find "ada", are not. */
    private static String told(String value) {
        return "regexp_replace(" + value + ", '[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}', '', 'g')";
    }

    private static void oneOf(String column, String name, Set<?> of, List<String> ways, Map<String, Object> values) {
        if (!of.isEmpty()) {
            ways.add(column + " in (:" + name + ")");
            values.put(name, of);
        }
    }

    /**
     * A regular expression of PostgreSQL that finds a folded word in text with case and accents; nothing of the word is taken
     * for a sign of the expression. Folding every text instead would take seconds.
     *
     * @param json whether the text is JSON, where quotes and backslashes have a backslash in front
     */
    static String pattern(String folded, boolean json) {
        StringBuilder pattern = new StringBuilder();
        for (int i = 0; i < folded.length(); i++) {
            char letter = folded.charAt(i);
            if (letter == 's' && i + 1 < folded.length() && folded.charAt(i + 1) == 's') {
                pattern.append("(?:").append(letters('s')).append("{2}|ß)");
                i++;
            } else if (Character.isLetter(letter)) {
                pattern.append(letters(letter));
            } else if (json && (letter == '"' || letter == '\\')) {
                pattern.append("\\\\").append(letter == '"' ? "\"" : "\\\\");
            } else if (letter < 128 && !Character.isDigit(letter)) {
                pattern.append('\\').append(letter);
            } else {
                pattern.append(letter);
            }
        }
        return pattern.toString();
    }

    private static String letters(char bare) {
        StringBuilder letters = new StringBuilder("[").append(bare).append(Character.toUpperCase(bare));
        for (int i = 0; i < BARE.length(); i++) {
            if (BARE.charAt(i) == bare) {
                letters.append(MARKED.charAt(i));
            }
        }
        return letters.append(']').toString();
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
        if (node.isArray() && node.valueStream().allMatch(JsonNode::isValueNode)) {
            return node.valueStream()
                            .limit(MOST_OF_A_ROW)
                            .map(JsonNode::asString)
                            .collect(Collectors.joining(", "))
                    + (node.size() > MOST_OF_A_ROW ? ", …" : "");
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
