package org.rootling.exchange.domain;

import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Jobs;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Service;
import tools.jackson.databind.json.JsonMapper;

/** Looks at tables and takes them in the background, so that a long one shows how far it is and can be stopped. */
@Service
public class ImportRuns {

    /**
     * A table that was looked at.
     *
     * @param columns what each of its columns was said to be, "" for nothing
     * @param outcomes what would come of each line; empty where there is a problem
     * @param problem message key of what is wrong with the columns
     */
    public record Looked(
            String kind,
            ImportTable table,
            List<String> columns,
            List<Importing.Outcome> outcomes,
            @Nullable String problem) {}

    private final Importing importing;
    private final Jobs jobs;
    private final MessageSource messages;
    private final JsonMapper json;

    ImportRuns(Importing importing, Jobs jobs, MessageSource messages, JsonMapper json) {
        this.importing = importing;
        this.jobs = jobs;
        this.messages = messages;
        this.json = json;
    }

    /** Begins to find out what would come of every line; nothing of the table is kept in the vineyard. */
    public UUID look(String kind, ImportTable table, List<String> columns) {
        importing.kind(kind);
        return jobs.start(
                words("exchange.import.looking"),
                "/imports",
                progress -> Jobs.Ended.answer(
                        "/imports/" + progress.id(), json.writeValueAsString(looked(kind, table, columns, progress))));
    }

    private Looked looked(String kind, ImportTable table, List<String> columns, Jobs.Progress progress) {
        try {
            return new Looked(kind, table, columns, importing.look(kind, table, columns, progress), null);
        } catch (Refused columnsWrong) {
            return new Looked(kind, table, columns, List.of(), columnsWrong.key());
        }
    }

    /** What came of a look, for who began it and for a day. */
    public Looked looked(UUID id) {
        return jobs.answer(id)
                .map(text -> json.readValue(text, Looked.class))
                .orElseThrow(() -> new NotFound("import"));
    }

    /** Begins to take the lines that can be taken: all of them, or none where it is stopped. */
    public UUID take(UUID id, List<String> columns) {
        Looked looked = looked(id);
        return jobs.start(words("exchange.import.taking"), "/imports/" + id, progress -> {
            Importing.Good good = importing.good(looked.kind(), looked.table(), columns, progress);
            return Jobs.Ended.storing(
                    importing.kind(looked.kind()).page() + "?saved", () -> importing.keep(good, progress));
        });
    }

    private String words(String key) {
        return messages.getMessage(key, null, LocaleContextHolder.getLocale());
    }
}
