package org.rootling.platform;

import java.util.Locale;
import java.util.Objects;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Texts that come with the program as data and that a vineyard may change: in the reader's language as long as nobody
 * changed them, else as they are kept. Templates use it as {@code @shipped}.
 */
@Component("shipped")
public class ShippedText {

    private final MessageSource messages;

    ShippedText(MessageSource messages) {
        this.messages = messages;
    }

    /**
     * The text to show.
     *
     * @param key in {@code messages/reference.properties}, which repeats the shipped English
     * @param kept as it is kept in this vineyard
     */
    public String text(String key, String kept) {
        String shipped = messages.getMessage(key, null, "", Locale.ENGLISH);
        return kept.equals(shipped)
                ? Objects.requireNonNull(messages.getMessage(key, null, kept, LocaleContextHolder.getLocale()))
                : kept;
    }
}
