package org.rootling.ground.web;

import java.util.Locale;
import java.util.Objects;
import org.rootling.ground.calc.Layout;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** What a layout warns of, in the reader's language and units. */
@Component
class WarningText {
    private static final String LONG = "ground.layout.warn.long";

    private final MessageSource messages;
    private final UnitText units;

    WarningText(MessageSource messages, UnitText units) {
        this.messages = messages;
        this.units = units;
    }

    String say(Layout.Warning warning, Locale locale) {
        Object[] values = warning.args().stream()
                .map(a -> warning.key().equals(LONG) && a instanceof Number n ? units.length(n.doubleValue(), 0) : a)
                .toArray();
        return Objects.requireNonNull(messages.getMessage(warning.key(), values, warning.key(), locale));
    }
}
