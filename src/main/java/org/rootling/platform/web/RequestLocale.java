package org.rootling.platform.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.LocaleResolver;

/** The language of the person, once known; before that the browser's, where we speak it; else English. */
@Component("localeResolver")
public class RequestLocale implements LocaleResolver {

    /** Request attribute with the person's choice. */
    public static final String ATTRIBUTE = "rootling.locale";

    private static final Set<String> SPOKEN = Set.of("en", "de", "fr");

    /** Where they are written with dates and numbers of their own. Few, since words are kept by language and country. */
    private static final Set<String> WRITTEN = Set.of(
            "en-AU", "en-CA", "en-GB", "en-IE", "en-NZ", "en-US", "en-ZA", "de-AT", "de-CH", "de-DE", "de-LI", "de-LU",
            "fr-BE", "fr-CA", "fr-CH", "fr-FR", "fr-LU");

    @Override
    public Locale resolveLocale(HttpServletRequest request) {
        if (request.getAttribute(ATTRIBUTE) instanceof Locale chosen) {
            return chosen;
        }
        Locale asked = request.getLocale();
        String language = asked.getLanguage();
        if (!SPOKEN.contains(language)) {
            return Locale.ENGLISH;
        }
        String written = language + "-" + asked.getCountry();
        return Locale.forLanguageTag(WRITTEN.contains(written) ? written : language);
    }

    @Override
    public void setLocale(HttpServletRequest request, @Nullable HttpServletResponse response, @Nullable Locale locale) {
        request.setAttribute(ATTRIBUTE, locale == null ? Locale.ENGLISH : locale);
    }
}
