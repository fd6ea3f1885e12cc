package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Vineyard;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SignedIn;
import org.rootling.people.domain.TokenLookup.Bearer;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Tenancy;
import org.rootling.platform.UnitChoice;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.HandlerMapping;

/**
 * Chooses vineyard and person for every request under {@code /v/…} and {@code /api/…}, and refuses handlers whose
 * {@link Needs} the person does not meet. A handler without {@link Needs} is refused to everyone. Strangers get "not
 * found", so that nobody learns which vineyards exist.
 */
@Component
class VineyardInterceptor implements HandlerInterceptor {

    private static final String CODE_MISSING = "rootling.code-missing";

    private final PeopleService people;
    private final OpenSessions sessions;
    private final CurrentMember member;

    VineyardInterceptor(PeopleService people, OpenSessions sessions, CurrentMember member) {
        this.sessions = sessions;
        this.people = people;
        this.member = member;
    }

    @Override
    public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
            throws IOException {
        Tenancy.clear();
        UnitChoice.clear();
        if (!(handler instanceof HandlerMethod method)) {
            return true;
        }
        Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
        Object who = authentication == null ? null : authentication.getPrincipal();
        if (who instanceof SignedIn guest && guest.guest() && elsewhere(guest, request)) {
            response.sendRedirect(request.getContextPath() + "/day-over");
            return false;
        }
        CurrentMember.Acting acting = who instanceof Bearer bearer
                ? new CurrentMember.Acting(bearer.vineyardId(), bearer.accountId(), bearer.name(), bearer.role())
                : who instanceof SignedIn person ? inPath(request, person) : null;
        if (acting == null) {
            if (who instanceof SignedIn person
                    && person.guest()
                    && people.belongings(person.accountId()).isEmpty()) {
                response.sendRedirect(request.getContextPath() + "/day-over");
                return false;
            }
            throw new NotFound("vineyard");
        }
        Needs needs = method.getMethodAnnotation(Needs.class);
        if (needs == null || !acting.role().includes(needs.value())) {
            SecurityLog.refused(acting.accountId(), "by role " + acting.role());
            throw new AccessDeniedException("needs " + (needs == null ? "nobody" : needs.value()));
        }
        if (who instanceof Bearer bearer && bearer.codeMissing()) {
            SecurityLog.refused(acting.accountId(), "for want of a second factor");
            throw new AccessDeniedException("needs a second factor");
        }
        if (Boolean.TRUE.equals(request.getAttribute(CODE_MISSING))) {
            response.sendRedirect(request.getContextPath() + "/account/safety?needed#second-factor");
            return false;
        }
        member.set(acting);
        Tenancy.set(acting.vineyardId(), acting.accountId());
        return true;
    }

    /** A day link is one phone's: the one that opened it last. */
    private boolean elsewhere(SignedIn guest, HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        if (session == null || sessions.latestLinked(guest.getUsername(), session.getId())) {
            return false;
        }
        session.invalidate();
        return true;
    }

    private CurrentMember.@Nullable Acting inPath(HttpServletRequest request, SignedIn person) {
        String slug = slug(request);
        if (slug == null) {
            return null;
        }
        UUID account = person.accountId();
        Optional<PeopleService.Seat> found = people.seat(slug, account);
        if (found.isEmpty()) {
            return null;
        }
        PeopleService.Seat seat = found.get();
        Vineyard vineyard = seat.vineyard();
        request.setAttribute(Paths.PREFIX, "/v/" + vineyard.slug());
        request.setAttribute("rootling.vineyard." + vineyard.id(), vineyard);
        request.setAttribute(CODE_MISSING, seat.codeMissing());
        Wishes.apply(request, seat.locale(), seat.units(), seat.contrast());
        return new CurrentMember.Acting(vineyard.id(), account, person.name(), seat.role());
    }

    private static @Nullable String slug(HttpServletRequest request) {
        Object variables = request.getAttribute(HandlerMapping.URI_TEMPLATE_VARIABLES_ATTRIBUTE);
        return variables instanceof Map<?, ?> map && map.get("vineyard") instanceof String slug ? slug : null;
    }

    @Override
    public void afterCompletion(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable Exception failure) {
        Tenancy.clear();
        UnitChoice.clear();
    }
}
