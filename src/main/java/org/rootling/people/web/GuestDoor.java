package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.GuestService;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.people.domain.SignedIn;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/**
 * The door for somebody who comes for a day. Opening the link only shows whose it is, so that a preview of it signs nobody
 * in; the button signs the phone in, and the person's phone before it out.
 */
@Controller
class GuestDoor {

    private final GuestService guests;
    private final SignInThrottle throttle;
    private final OpenSessions sessions;
    private final Clock clock;

    GuestDoor(GuestService guests, SignInThrottle throttle, OpenSessions sessions, Clock realClock) {
        this.clock = realClock;
        this.guests = guests;
        this.throttle = throttle;
        this.sessions = sessions;
    }

    @GetMapping("/day/{secret}")
    String ask(
            @PathVariable String secret,
            @AuthenticationPrincipal @Nullable SignedIn person,
            Model model,
            HttpServletRequest request) {
        Optional<GuestService.Opened> link = open(secret, request);
        model.addAttribute("link", link.orElse(null));
        model.addAttribute("secret", secret);
        boolean self = person != null
                && link.filter(l -> l.person().accountId().equals(person.accountId()))
                        .isPresent();
        model.addAttribute("present", person == null || self ? null : person.name());
        return "people/day";
    }

    @PostMapping("/day/{secret}")
    String start(@PathVariable String secret, Model model, HttpServletRequest request, HttpServletResponse response) {
        Optional<GuestService.Opened> link = open(secret, request);
        if (link.isEmpty()) {
            return over(model);
        }
        SignedIn guest = link.get().person();
        // Before there is a new session: the database knows it only when the answer is given.
        sessions.endOthers(guest.getUsername(), request.getSession().getId());
        CodeController.signIn(guest, request, response);
        request.getSession().setAttribute(OpenSessions.LINKED, clock.millis());
        SecurityLog.signedIn(guest.accountId(), "day link");
        return "redirect:/v/" + link.get().slug() + "/my-day";
    }

    /** Where a guest's phone ends up when the day is over. */
    @GetMapping("/day-over")
    String over(Model model) {
        model.addAttribute("link", null);
        model.addAttribute("present", null);
        return "people/day";
    }

    private Optional<GuestService.Opened> open(String secret, HttpServletRequest request) {
        String key = "day " + secret;
        if (!throttle.allows(key, request.getRemoteAddr())) {
            return Optional.empty();
        }
        Optional<GuestService.Opened> link = guests.open(secret);
        if (link.isEmpty()) {
            throttle.failed(key, request.getRemoteAddr());
            SecurityLog.refusedAtTheDoor("no open day link");
        }
        return link;
    }
}
