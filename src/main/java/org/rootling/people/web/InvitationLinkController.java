package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.UUID;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.domain.InvitationLinks;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A link for an invitation that has none yet, or whose link was lost. */
@Controller
@RequestMapping("/v/{vineyard}/people/invitations/{id}/link")
class InvitationLinkController {

    private final InvitationLinks links;

    InvitationLinkController(InvitationLinks links) {
        this.links = links;
    }

    @PostMapping
    @Needs(Role.OWNER)
    String renew(@PathVariable UUID id, RedirectAttributes flash, HttpServletRequest request) {
        String base = request.getRequestURL().toString().replaceFirst("/v/.*$", "");
        flash.addFlashAttribute("link", base + "/join/" + links.renew(id));
        return "redirect:" + Paths.to("/people");
    }
}
