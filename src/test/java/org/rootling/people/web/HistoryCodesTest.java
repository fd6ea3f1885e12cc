package org.rootling.people.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.support.AppTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Whatever the audit trail can keep is told in words: kinds of records, their values, and every code the database allows. */
@AppTest
class HistoryCodesTest {

    /** A text in single quotes in a check of the database. */
    private static final Pattern LITERAL = Pattern.compile("'([A-Za-z][A-Za-z_-]*)'::");

    private static final Pattern COMPARED = Pattern.compile("\\(*(\\w+) = ANY \\(ARRAY\\[");

    /** Columns that the history leaves out. */
    private static final Set<String> SILENT = Set.of("id", "vineyard_id", "version");

    /** How our own facts are known (shared/reference). */
    private static final List<String> KNOWN =
            List.of("read", "second-hand", "computed", "memory", "common practice", "own");

    @Autowired
    JdbcClient jdbc;

    @Autowired
    MessageSource messages;

    @Autowired
    HistoryWords words;

    private record Column(String table, String name) {}

    private record Check(String table, String rule) {}

    @AfterEach
    void noLanguage() {
        LocaleContextHolder.resetLocaleContext();
    }

    @ParameterizedTest
    @ValueSource(strings = {"en", "de", "fr"})
    void everyKindOfRecordAndEveryValueHasItsWords(String language) {
        Locale locale = Locale.forLanguageTag(language);
        TreeSet<String> missing = new TreeSet<>();
        for (Column column : columns()) {
            String table = "history.table." + column.table();
            String value = "history.column." + column.name();
            if (messages.getMessage(table, null, null, locale) == null) {
                missing.add(table);
            }
            if (!SILENT.contains(column.name()) && messages.getMessage(value, null, null, locale) == null) {
                missing.add(value + " of " + column.table());
            }
        }
        assertThat(missing).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"en", "de", "fr"})
    void everyCodeIsToldInWords(String language) {
        LocaleContextHolder.setLocale(Locale.forLanguageTag(language));
        TreeSet<String> raw = new TreeSet<>();
        int codes = 0;
        for (Check check : checks()) {
            Matcher compared = COMPARED.matcher(check.rule());
            if (!compared.find()) {
                continue;
            }
            Matcher literal = LITERAL.matcher(check.rule());
            while (literal.find()) {
                codes++;
                if (!words.hasWordsFor(check.table(), compared.group(1), literal.group(1))) {
                    raw.add(check.table() + "." + compared.group(1) + " = " + literal.group(1));
                }
            }
        }
        for (String how : KNOWN) {
            if (!words.hasWordsFor("care_item", "how_known", how)) {
                raw.add("how_known = " + how);
            }
        }
        assertThat(raw).isEmpty();
        assertThat(codes).isGreaterThan(80);
        Map<String, String> told = Map.of("en", "from memory", "de", "aus dem Gedächtnis", "fr", "de mémoire");
        assertThat(words.told("care_item", "how_known", "memory")).isEqualTo(told.get(language));
    }

    private List<Column> columns() {
        return jdbc.sql("""
                        select c.relname, a.attname
                          from pg_trigger t
                          join pg_class c on c.oid = t.tgrelid
                          join pg_proc p on p.oid = t.tgfoid and p.proname = 'rootling_audit'
                          join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
                         where a.attname not in ('password_hash', 'token_hash', 'secret_hash')
                        """)
                .query((row, n) -> new Column(row.getString(1), row.getString(2)))
                .list();
    }

    private List<Check> checks() {
        return jdbc.sql("""
                        select c.relname, pg_get_constraintdef(k.oid)
                          from pg_trigger t
                          join pg_class c on c.oid = t.tgrelid
                          join pg_proc p on p.oid = t.tgfoid and p.proname = 'rootling_audit'
                          join pg_constraint k on k.conrelid = c.oid and k.contype = 'c' and cardinality(k.conkey) = 1
                        """)
                .query((row, n) -> new Check(row.getString(1), row.getString(2)))
                .list();
    }
}
