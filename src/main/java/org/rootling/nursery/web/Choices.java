package org.rootling.nursery.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Choices of a select box: value and what is shown. */
@Component("nurseryChoices")
class Choices {

    private final MessageSource messages;

    Choices(MessageSource messages) {
        this.messages = messages;
    }

    /** The values of an enum with their words; {@code prefix} ends with a dot. */
    Map<String, String> of(String prefix, Enum<?>... values) {
        Map<String, String> choices = new LinkedHashMap<>();
        for (Enum<?> value : values) {
            choices.put(
                    value.name(), messages.getMessage(prefix + value.name(), null, LocaleContextHolder.getLocale()));
        }
        return choices;
    }

    /** Words of one message. */
    String words(String key, Object... args) {
        return messages.getMessage(key, args, LocaleContextHolder.getLocale());
    }
}
