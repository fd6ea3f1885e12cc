package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Vineyards;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.Paths;
import org.rootling.platform.Tenancy;
import org.rootling.platform.VineyardTime;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.security.web.csrf.CsrfToken;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What every page of a vineyard shows in its head: path prefix, person, vineyard, date. */
@ControllerAdvice(annotations = Controller.class)
class PageModel {

    private final CurrentMember member;
    private final Vineyards vineyards;
    private final VineyardTime time;

    PageModel(CurrentMember member, Vineyards vineyards, VineyardTime time) {
        this.member = member;
        this.vineyards = vineyards;
        this.time = time;
    }

    @ModelAttribute
    void head(HttpServletRequest request, Model model, @AuthenticationPrincipal @Nullable SignedIn person) {
        // Makes the session before the page is written; a long page could not do it half way down.
        if (request.getAttribute(CsrfToken.class.getName()) instanceof CsrfToken token) {
            token.getToken();
        }
        Object prefix = request.getAttribute(Paths.PREFIX);
        CurrentMember.Acting acting = member.orNull();
        model.addAttribute("path", request.getRequestURI());
        model.addAttribute("signedIn", person != null);
        model.addAttribute("guest", person != null && person.guest());
        model.addAttribute("contrast", Boolean.TRUE.equals(request.getAttribute(Wishes.CONTRAST)));
        // A number for the form this page may hold: the first submit keeps it, a second is recognised.
        model.addAttribute("onceId", UUID.randomUUID());
        if (prefix != null && acting != null && Tenancy.vineyardOrNull() != null) {
            model.addAttribute("v", prefix);
            model.addAttribute(
                    "helpOn",
                    HelpParts.of(request.getRequestURI().substring(prefix.toString().length())));
            model.addAttribute("member", acting);
            model.addAttribute("vineyard", vineyards.current());
            model.addAttribute("today", vineyards.today());
            model.addAttribute("shifted", time.isShifted());
        }
    }
}
