package org.rootling.platform;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.ResourceBundle;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Texts that come with the program as data and that a vineyard may change: in the reader's language as long as nobody
 * changed them, else as they are kept. Templates use it as {@code @shipped}.
 */
@Component("shipped")
public class ShippedText {

    private static final String PHRASE = "reference.phrase.";

    private final MessageSource messages;

    /** Keys of the phrases of the shipped lists, by their English in metric units. */
    private final Map<String, String> phrases = new HashMap<>();

    private final Map<String, String> shipped = new ConcurrentHashMap<>();

    ShippedText(MessageSource messages) {
        this.messages = messages;
        for (String key :
                ResourceBundle.getBundle("messages/reference", Locale.ROOT).keySet()) {
            if (key.startsWith(PHRASE)) {
                phrases.put(english(key), key);
            }
        }
    }

    /**
     * The text to show.
     *
     * @param key in {@code messages/reference.properties}, which repeats the shipped English
     * @param kept as it is kept in this vineyard
     */
    public String text(String key, String kept) {
        return kept.equals(english(key)) ? said(key, kept) : kept;
    }

    /**
     * A note or source of a shipped list in the reader's language and units; what a vineyard wrote itself, and what is
     * nothing but a citation, as it is.
     */
    public String phrase(@Nullable String kept) {
        String key = kept == null ? null : phrases.get(kept);
        return key == null ? Objects.requireNonNullElse(kept, "") : said(key, key);
    }

    private String said(String key, String otherwise) {
        return Objects.requireNonNull(messages.getMessage(key, null, otherwise, LocaleContextHolder.getLocale()));
    }

    /** As it is shipped: the lists are in English and metric. */
    private String english(String key) {
        String known = shipped.get(key);
        if (known == null) {
            known = UnitChoice.in(
                    UnitChoice.METRIC,
                    () -> Objects.requireNonNull(messages.getMessage(key, null, "", Locale.ENGLISH)));
            if (!known.isEmpty()) {
                shipped.put(key, known);
            }
        }
        return known;
    }
}
