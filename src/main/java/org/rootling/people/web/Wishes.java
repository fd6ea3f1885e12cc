package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.UnitChoice;
import org.rootling.platform.web.RequestLocale;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.HandlerInterceptor;

/** How the person wants to see things: language, units, contrast; for the pages that belong to no vineyard. */
@Component
class Wishes implements HandlerInterceptor {

    static final String CONTRAST = "rootling.contrast";

    private final PeopleService people;

    Wishes(PeopleService people) {
        this.people = people;
    }

    static void apply(HttpServletRequest request, String locale, String units, boolean contrast) {
        request.setAttribute(CONTRAST, contrast);
        if (!locale.equals("auto")) {
            request.setAttribute(RequestLocale.ATTRIBUTE, Locale.forLanguageTag(locale));
        }
        UnitChoice.set(units.equals("us") ? UnitChoice.US : UnitChoice.METRIC);
    }

    @Override
    public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler) {
        if (request.getAttribute(CONTRAST) != null) {
            // the page of an error, after the page itself has asked
            return true;
        }
        UnitChoice.clear();
        Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
        if (authentication != null && authentication.getPrincipal() instanceof SignedIn person) {
            PeopleService.Profile profile = people.profile(person.accountId());
            apply(request, profile.locale(), profile.units(), profile.contrast());
        }
        return true;
    }

    @Override
    public void afterCompletion(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable Exception failure) {
        UnitChoice.clear();
    }
}
