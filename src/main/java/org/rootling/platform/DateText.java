package org.rootling.platform;

import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoField;
import java.time.temporal.TemporalAccessor;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;

/**
 * Dates as the reader's language writes them. Patterns are written the English way ("EEE d MMM yyyy"); German puts a
 * full stop behind the day, French writes the first of a month "1er". Names of days and months are those of the Unicode
 * locale data of the JDK.
 */
public final class DateText {

    private record Written(String pattern, Locale locale) {
        DateTimeFormatter format() {
            return DateTimeFormatter.ofPattern(pattern, locale);
        }
    }

    /** A dozen patterns of ours in the languages we speak. */
    private static final Map<Written, DateTimeFormatter> KNOWN = new ConcurrentHashMap<>();

    private DateText() {}

    /** In the language of the request; nothing for no date. */
    public static @Nullable String format(@Nullable TemporalAccessor when, String pattern) {
        return when == null ? null : format(when, pattern, LocaleContextHolder.getLocale());
    }

    /** In a given language. */
    public static String format(TemporalAccessor when, String pattern, Locale locale) {
        return KNOWN.computeIfAbsent(new Written(local(when, pattern, locale), locale), Written::format)
                .format(when);
    }

    private static String local(TemporalAccessor when, String pattern, Locale locale) {
        return switch (locale.getLanguage()) {
            case "de" -> pattern.replace("EEEE d ", "EEEE, d ").replace("d M", "d. M");
            case "fr" ->
                when.isSupported(ChronoField.DAY_OF_MONTH) && when.get(ChronoField.DAY_OF_MONTH) == 1
                        ? pattern.replace("d M", "d'er' M")
                        : pattern;
            default -> pattern;
        };
    }
}
