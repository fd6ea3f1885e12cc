package org.rootling.exchange.domain;

import jakarta.persistence.EntityManager;
import jakarta.persistence.PersistenceException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Jobs;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Takes tables in. What would come of them is found out by doing it: each group of lines in a transaction of its own that
 * is rolled back. The taking itself is one transaction: all lines that were said to be good, or none.
 */
@Service
public class Importing {

    /** What would come of a line; no problem where it can be taken. */
    public record Outcome(int line, String text, @Nullable String problem) {}

    /** A kind as the pages know it. */
    public record Kind(String name, List<String> columns, List<String> needed, String page) {}

    /**
     * What can be taken.
     *
     * @param tried lines that were looked at
     */
    record Good(ImportKind how, List<List<ImportLine>> groups, int tried) {}

    static final List<Locale> LANGUAGES = List.of(Locale.ENGLISH, Locale.GERMAN, Locale.FRENCH);

    private final List<ImportKind> kinds;
    private final MessageSource messages;
    private final EntityManager entities;
    private final TransactionTemplate trial;

    Importing(
            ObjectProvider<ImportKind> kinds,
            MessageSource messages,
            EntityManager entities,
            PlatformTransactionManager transactions) {
        this.kinds = kinds.orderedStream().toList();
        this.messages = messages;
        this.entities = entities;
        this.trial = new TransactionTemplate(transactions);
        this.trial.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    }

    public List<Kind> kinds() {
        return kinds.stream()
                .map(k -> new Kind(k.name(), k.columns(), k.needed(), k.page()))
                .toList();
    }

    public Kind kind(String name) {
        return kinds().stream()
                .filter(k -> k.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new NotFound("import"));
    }

    private ImportKind found(String name) {
        return kinds.stream().filter(k -> k.name().equals(name)).findFirst().orElseThrow(() -> new NotFound("import"));
    }

    /** For each column of the file the column it seems to be, by its heading in any of our languages; "" for none. */
    public List<String> guess(String kind, ImportTable table) {
        Map<String, String> known = new HashMap<>();
        for (String column : found(kind).columns()) {
            known.put(bare(column), column);
            for (Locale language : LANGUAGES) {
                known.putIfAbsent(bare(label(column, language)), column);
            }
        }
        List<String> guessed = new ArrayList<>();
        for (String heading : table.headings()) {
            String column = known.getOrDefault(bare(heading), "");
            guessed.add(guessed.contains(column) ? "" : column);
        }
        return guessed;
    }

    private static String bare(String text) {
        return text.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]", "");
    }

    private String label(String column, Locale language) {
        return Objects.requireNonNull(messages.getMessage("exchange.import.column." + column, null, column, language));
    }

    /** What would come of every line; nothing is kept. */
    public List<Outcome> look(String kind, ImportTable table, List<String> columns, Jobs.Progress progress) {
        ImportKind how = found(kind);
        requireColumns(how, columns);
        List<Outcome> outcomes = new ArrayList<>();
        for (List<ImportLine> group : groups(how, table, columns)) {
            progress.at(outcomes.size(), table.rows().size());
            String problem = problem(how, group);
            for (ImportLine line : group) {
                outcomes.add(new Outcome(
                        line.number(), String.join(" · ", table.rows().get(line.number() - 2)), problem));
            }
        }
        outcomes.sort((a, b) -> Integer.compare(a.line(), b.line()));
        return outcomes;
    }

    /** The lines that can be taken. */
    Good good(String kind, ImportTable table, List<String> columns, Jobs.Progress progress) {
        ImportKind how = found(kind);
        requireColumns(how, columns);
        List<List<ImportLine>> good = new ArrayList<>();
        int tried = 0;
        for (List<ImportLine> group : groups(how, table, columns)) {
            progress.at(tried, 2L * table.rows().size());
            tried += group.size();
            if (problem(how, group) == null) {
                good.add(group);
            }
        }
        if (good.isEmpty()) {
            throw new Refused("exchange.import.nothing");
        }
        return new Good(how, good, tried);
    }

    /** Takes them. Joins the caller's transaction, so that all are taken or none. */
    void keep(Good good, Jobs.Progress progress) {
        int taken = good.tried();
        for (List<ImportLine> group : good.groups()) {
            progress.at(taken, 2L * good.tried());
            good.how().take(group);
            taken += group.size();
        }
        entities.flush();
    }

    private @Nullable String problem(ImportKind how, List<ImportLine> group) {
        try {
            trial.executeWithoutResult(status -> {
                how.take(group);
                entities.flush();
                status.setRollbackOnly();
            });
            return null;
        } catch (Refused refused) {
            Locale locale = LocaleContextHolder.getLocale();
            String reason =
                    Objects.requireNonNull(messages.getMessage(refused.key(), refused.args(), refused.key(), locale));
            String column = refused.field();
            return column != null && how.columns().contains(column) ? label(column, locale) + ": " + reason : reason;
        } catch (NotFound | DataIntegrityViolationException | PersistenceException unfit) {
            return messages.getMessage("platform.error.database-refused", null, LocaleContextHolder.getLocale());
        }
    }

    private static void requireColumns(ImportKind how, List<String> columns) {
        for (String needed : how.needed()) {
            if (!columns.contains(needed)) {
                throw new Refused("exchange.import.column-needed");
            }
        }
        if (columns.stream().filter(c -> !c.isEmpty()).distinct().count()
                != columns.stream().filter(c -> !c.isEmpty()).count()) {
            throw new Refused("exchange.import.column-twice");
        }
    }

    private static List<List<ImportLine>> groups(ImportKind how, ImportTable table, List<String> columns) {
        Map<String, List<ImportLine>> groups = new LinkedHashMap<>();
        for (int i = 0; i < table.rows().size(); i++) {
            List<String> row = table.rows().get(i);
            Map<String, String> cells = new HashMap<>();
            for (int column = 0; column < row.size() && column < columns.size(); column++) {
                if (!columns.get(column).isEmpty() && !row.get(column).isBlank()) {
                    cells.put(columns.get(column), row.get(column).strip());
                }
            }
            ImportLine line = new ImportLine(i + 2, cells);
            groups.computeIfAbsent(how.together(line), k -> new ArrayList<>()).add(line);
        }
        return new ArrayList<>(groups.values());
    }
}
