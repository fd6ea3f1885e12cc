package org.rootling.people.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.ResourceBundle;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.RecordNames;
import org.rootling.people.Vineyards;
import org.rootling.people.domain.History;
import org.rootling.platform.DateText;
import org.rootling.platform.FoldedText;
import org.rootling.platform.ShippedText;
import org.rootling.platform.VineyardTime;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** The audit trail in words: kinds of records, their values, codes, days and people as the reader names them. */
@Component
class HistoryWords {

    /** One changed value as shown. */
    record Shown(
            String name, @Nullable String before, @Nullable String after) {}

    /** One entry as shown. */
    record Line(
            ZonedDateTime at,
            @Nullable UUID account,
            @Nullable String who,
            String what,
            String action,
            List<Shown> changes) {

        /** The changes as one text. */
        String inWords() {
            StringBuilder words = new StringBuilder();
            for (Shown change : changes) {
                words.append(words.isEmpty() ? "" : "; ").append(change.name()).append(": ");
                words.append(change.before() == null ? "" : change.before() + " > ");
                words.append(change.after() == null ? "" : change.after());
            }
            return words.toString();
        }
    }

    private static final Pattern ID = Pattern.compile("[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}");
    private static final int MOST_WORDS = 6;

    private static final Pattern IDS = Pattern.compile(ID + "(, " + ID + ")*");
    private static final Pattern CODE = Pattern.compile("[A-Z][A-Z_]+");
    private static final Pattern PLACES = Pattern.compile("\\[(\\d{1,7}),(\\d{1,7})\\)");

    /** Where the words of a column's codes stand; columns of one name and meaning share them. */
    private static final Map<String, String> CODES = Map.ofEntries(
            Map.entry("role", "people.role."),
            Map.entry("store.kind", "nursery.kind."),
            Map.entry("store_limit.kind", "nursery.kind."),
            Map.entry("store_limit.allowance", "nursery.limits."),
            Map.entry("hold_warning.closed_by", "nursery.warning.by."),
            Map.entry("stock_paper.what", "nursery.kept.what."),
            Map.entry("how_known", "history.known."),
            Map.entry("log_conflict.kind", "history.conflict."),
            Map.entry("settled_how", "history.settled."),
            Map.entry("work_step.after_steps", "work.step."),
            Map.entry("nursery_order.status", "nursery.orders.status."),
            Map.entry("colour", "nursery.colour."),
            Map.entry("stocktake.account", "nursery.account."),
            Map.entry("roots", "nursery.found."),
            Map.entry("graft", "nursery.found."),
            Map.entry("wax", "nursery.found."),
            Map.entry("mould", "nursery.found."),
            Map.entry("delivery_line.dryness", "nursery.found."),
            Map.entry("label", "nursery.found."),
            Map.entry("allowance", "nursery.allowance."),
            Map.entry("level", "platform.level."),
            Map.entry("task.status", "work.status."),
            Map.entry("assembly", "trellis.assembly."),
            Map.entry("trellis_plan.soil", "trellis.soil."),
            Map.entry("tie_kind", "trellis.steel."),
            Map.entry("trellis_wire.kind", "trellis.steel."),
            Map.entry("boundary_source", "ground.source."),
            Map.entry("alignment", "ground.layout.alignment."),
            Map.entry("treatment.kind", "training.treat."),
            Map.entry("treatment.unit", "training.dose."),
            Map.entry("block_water.soil", "training.soil."),
            Map.entry("care_item.step", "training.step."),
            Map.entry("care_item.caution", "reference.caution."),
            Map.entry("care_item.at_stage", "reference.stage."),
            Map.entry("stage_record.stage", "reference.stage."),
            Map.entry("temperature_unit", "weather.unit."),
            Map.entry("rain_unit", "weather.unit."),
            Map.entry("wind_unit", "weather.unit."),
            Map.entry("radiation_unit", "weather.unit."),
            Map.entry("cut_kind", "weather.cut."),
            Map.entry("weather_setting.stage", "weather.stage."),
            Map.entry("task.step", "work.step."),
            Map.entry("work_step.code", "work.step."));

    /** Columns that hold texts of shipped lists as long as nobody changed them. */
    private static final Set<String> PHRASES = Set.of("source", "how_known");

    private final MessageSource messages;
    private final ShippedText shipped;
    private final Vineyards vineyards;
    private final VineyardTime time;
    private final ObjectProvider<RecordNames> records;

    HistoryWords(
            MessageSource messages,
            ShippedText shipped,
            Vineyards vineyards,
            VineyardTime time,
            ObjectProvider<RecordNames> records) {
        this.messages = messages;
        this.shipped = shipped;
        this.vineyards = vineyards;
        this.time = time;
        this.records = records;
    }

    /** The entries in words; people by account, other records by what their modules call them. */
    List<Line> lines(List<History.Entry> entries, Map<UUID, String> people) {
        ZoneId zone = vineyards.current().zone();
        Map<UUID, String> names = new HashMap<>(people);
        Set<UUID> ids = ids(entries);
        records.orderedStream().forEach(module -> names.putAll(module.names(ids)));
        List<Line> lines = new ArrayList<>();
        for (History.Entry entry : entries) {
            List<Shown> shown = new ArrayList<>();
            for (History.Change change : entry.changes()) {
                String before = value(entry.table(), change.column(), change.before(), names, zone);
                String after = value(entry.table(), change.column(), change.after(), names, zone);
                if (before != null || after != null) {
                    shown.add(new Shown(word("history.column.", change.column()), before, after));
                }
            }
            lines.add(new Line(
                    time.shown(entry.at()).atZone(zone),
                    entry.account(),
                    entry.account() == null ? null : people.get(entry.account()),
                    word("history.table.", entry.table()),
                    entry.action(),
                    shown));
        }
        return lines;
    }

    private static String name(String id, Map<UUID, String> names) {
        String name = names.get(UUID.fromString(id));
        return name == null ? "…" + id.substring(31) : name;
    }

    private static Set<UUID> ids(List<History.Entry> entries) {
        Set<UUID> ids = new HashSet<>();
        for (History.Entry entry : entries) {
            for (History.Change change : entry.changes()) {
                for (String value : Arrays.asList(change.before(), change.after())) {
                    if (value != null && IDS.matcher(value).matches()) {
                        ID.matcher(value).results().forEach(id -> ids.add(UUID.fromString(id.group())));
                    }
                }
            }
        }
        return ids;
    }

    /** Kinds of records by their words. */
    Map<String, String> kinds(List<String> tables) {
        Map<String, String> kinds = new LinkedHashMap<>();
        tables.stream()
                .sorted((a, b) -> word("history.table.", a).compareToIgnoreCase(word("history.table.", b)))
                .forEach(table -> kinds.put(table, word("history.table.", table)));
        return kinds;
    }

    private @Nullable String value(
            String table, String column, @Nullable String value, Map<UUID, String> names, ZoneId zone) {
        if (value == null || value.isBlank() || value.equals("{}") || value.equals("[]")) {
            return null;
        }
        if (value.equals("true") || value.equals("false")) {
            return say("history.value." + value, value);
        }
        if (IDS.matcher(value).matches()) {
            return ID.matcher(value)
                    .results()
                    .map(id -> name(id.group(), names))
                    .collect(Collectors.joining(", "));
        }
        if (prefix(table, column) != null) {
            return Arrays.stream(value.split(", ", -1))
                    .map(code -> told(table, column, code))
                    .collect(Collectors.joining(", "));
        }
        if (CODE.matcher(value).matches() && !column.equals("code") && !column.equals("currency")) {
            return plain(value);
        }
        String day = day(value, zone);
        if (day != null) {
            return day;
        }
        if (PHRASES.contains(column)) {
            return shipped.phrase(value);
        }
        boolean places = PLACES.matcher(value).find();
        return PLACES.matcher(places ? value.replaceAll("[{}]", "").replace(",[", ", [") : value)
                .replaceAll(run -> {
                    int first = Integer.parseInt(run.group(1));
                    int last = Integer.parseInt(run.group(2)) - 1;
                    return Matcher.quoteReplacement(first == last ? "" + first : first + "–" + last);
                });
    }

    private String code(String prefix, String value) {
        String words = wordsOf(prefix, value);
        return words == null ? plain(value) : words;
    }

    private @Nullable String wordsOf(String prefix, String value) {
        // stages are written with two digits and kept as numbers
        String code = prefix.equals("reference.stage.") && value.length() == 1 ? "0" + value : value.replace(' ', '-');
        Locale locale = LocaleContextHolder.getLocale();
        String words = messages.getMessage(prefix + code, null, null, locale);
        return words != null ? words : messages.getMessage(prefix + code.toLowerCase(Locale.ROOT), null, null, locale);
    }

    private static @Nullable String prefix(String table, String column) {
        String prefix = CODES.get(table + "." + column);
        return prefix == null ? CODES.get(column) : prefix;
    }

    /** Whether a code that a column can hold has words in the reader's language. */
    boolean hasWordsFor(String table, String column, String code) {
        String prefix = prefix(table, column);
        return prefix != null && wordsOf(prefix, code) != null;
    }

    /** A code of a column in the reader's words. */
    String told(String table, String column, String code) {
        String prefix = prefix(table, column);
        return prefix == null ? plain(code) : code(prefix, code);
    }

    /** The words of a question with what each may mean in the trail. */
    List<History.Word> sought(String asked, List<String> tables, Map<UUID, String> people) {
        return FoldedText.words(asked).stream()
                .limit(MOST_WORDS)
                .map(word -> new History.Word(
                        word,
                        called(word, tables, "history.table."),
                        people.entrySet().stream()
                                .filter(p -> FoldedText.of(p.getValue()).contains(word))
                                .map(Map.Entry::getKey)
                                .collect(Collectors.toSet()),
                        called(word, List.of("added", "changed", "removed"), "platform.history."),
                        called(word, names("history.column."), "history.column."),
                        codes(word)))
                .toList();
    }

    private Set<String> called(String word, List<String> names, String prefix) {
        return names.stream()
                .filter(name -> FoldedText.of(word(prefix, name)).contains(word))
                .collect(Collectors.toSet());
    }

    private Set<String> codes(String word) {
        Set<String> codes = new HashSet<>();
        CODES.forEach((column, prefix) -> {
            for (String name : names(prefix)) {
                if (FoldedText.of(word(prefix, name)).contains(word)) {
                    for (String code : List.of(
                            name,
                            name.toUpperCase(Locale.ROOT).replace('-', '_'),
                            name.replace('-', ' '),
                            name.replaceFirst("^0", ""))) {
                        codes.add(column + "=" + code);
                    }
                }
            }
        });
        return codes;
    }

    /** What the message file has words for under a prefix. */
    private static List<String> names(String prefix) {
        ResourceBundle all = ResourceBundle.getBundle(
                "messages/" + prefix.substring(0, prefix.indexOf('.')),
                Locale.ROOT,
                ResourceBundle.Control.getNoFallbackControl(ResourceBundle.Control.FORMAT_PROPERTIES));
        return all.keySet().stream()
                .filter(key -> key.startsWith(prefix) && key.indexOf('.', prefix.length()) < 0)
                .map(key -> key.substring(prefix.length()))
                .toList();
    }

    private static @Nullable String day(String value, ZoneId zone) {
        try {
            if (value.length() == 10) {
                return DateText.format(LocalDate.parse(value), "d MMM yyyy");
            }
            if (value.length() > 18 && value.charAt(10) == 'T') {
                Instant at = OffsetDateTime.parse(value).toInstant();
                return DateText.format(at.atZone(zone), "d MMM yyyy HH:mm");
            }
        } catch (DateTimeParseException noDay) {
            // then it is shown as it is
        }
        return null;
    }

    private String word(String prefix, String name) {
        return say(prefix + name, name.replace('_', ' '));
    }

    private static String plain(String code) {
        return CODE.matcher(code).matches() ? code.toLowerCase(Locale.ROOT).replace('_', ' ') : code;
    }

    private String say(String key, String otherwise) {
        return Objects.requireNonNull(messages.getMessage(key, null, otherwise, LocaleContextHolder.getLocale()));
    }
}
