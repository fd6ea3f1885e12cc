package org.rootling.platform;

import java.text.MessageFormat;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.context.support.ResourceBundleMessageSource;

/**
 * Messages in the reader's units. Where a text says "[0.9 to 1.2 m|3 to 4 ft]", readers of metric units get what stands
 * before the bar, readers of US units what stands behind it. Both are written by hand and not computed, since what is
 * published is round in its own unit; a test keeps the two near each other.
 */
public final class UnitMessages implements MessageSource {

    private static final Pattern EITHER = Pattern.compile("\\[([^\\[\\]|]*)\\|([^\\[\\]|]*)]");

    private final MessageSource metric;
    private final MessageSource us;

    UnitMessages(Set<String> basenames) {
        this.metric = new InUnits(basenames, UnitChoice.METRIC);
        this.us = new InUnits(basenames, UnitChoice.US);
    }

    /** A text with only what these units say. */
    public static String in(String text, UnitChoice units) {
        return EITHER.matcher(text)
                .replaceAll(found -> Matcher.quoteReplacement(found.group(units == UnitChoice.US ? 2 : 1)));
    }

    /** A text that says both, for keeping: whoever reads it gets their own by {@link UnitText#own}. */
    public static String both(String metricText, String usText) {
        return "[" + metricText + "|" + usText + "]";
    }

    @Override
    public @Nullable String getMessage(
            String code, @Nullable Object @Nullable [] args, @Nullable String otherwise, @Nullable Locale locale) {
        return own().getMessage(code, args, otherwise, locale);
    }

    @Override
    public String getMessage(String code, @Nullable Object @Nullable [] args, @Nullable Locale locale) {
        return own().getMessage(code, args, locale);
    }

    @Override
    public String getMessage(MessageSourceResolvable resolvable, @Nullable Locale locale) {
        return own().getMessage(resolvable, locale);
    }

    private MessageSource own() {
        return UnitText.us() ? us : metric;
    }

    /** Patterns are kept as they were first read, so that each system has a source of its own. */
    private static final class InUnits extends ResourceBundleMessageSource {

        private final UnitChoice units;
        private final Map<Locale, Map<String, MessageFormat>> found = new ConcurrentHashMap<>();
        private final Map<Locale, Map<String, String>> said = new ConcurrentHashMap<>();

        InUnits(Set<String> basenames, UnitChoice units) {
            this.units = units;
            setBasenames(basenames.toArray(String[]::new));
            setDefaultEncoding("UTF-8");
            setFallbackToSystemLocale(false);
            // "It's" must read the same with and without arguments.
            setAlwaysUseMessageFormat(true);
        }

        /** Kept by language and key, so that the files are not gone through one by one for every word of a page. */
        @Override
        protected @Nullable MessageFormat resolveCode(String code, Locale locale) {
            Map<String, MessageFormat> known = found.computeIfAbsent(locale, l -> new ConcurrentHashMap<>());
            MessageFormat format = known.get(code);
            if (format == null) {
                format = super.resolveCode(code, locale);
                if (format != null) {
                    known.put(code, format);
                }
            }
            return format;
        }

        /** What needs no values is said once and kept: a page says hundreds of such words. */
        @Override
        protected @Nullable String getMessageInternal(
                @Nullable String code, @Nullable Object @Nullable [] args, @Nullable Locale locale) {
            if (code == null || locale == null || (args != null && args.length > 0)) {
                return super.getMessageInternal(code, args, locale);
            }
            Map<String, String> known = said.computeIfAbsent(locale, l -> new ConcurrentHashMap<>());
            String text = known.get(code);
            if (text == null) {
                text = super.getMessageInternal(code, args, locale);
                if (text != null) {
                    known.put(code, text);
                }
            }
            return text;
        }

        @Override
        protected MessageFormat createMessageFormat(String text, @Nullable Locale locale) {
            return super.createMessageFormat(in(text, units), locale);
        }
    }
}
