package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.io.Serializable;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.SecondFactors;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.people.domain.SignedIn;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.authentication.session.SessionFixationProtectionStrategy;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.security.web.csrf.HttpSessionCsrfTokenRepository;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;
import org.springframework.security.web.savedrequest.SavedRequest;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;

/** The second step of signing in: whoever gave the right password gives a code, and only then is signed in. */
@Controller
class CodeController {

    private static final String PENDING = "rootling.pending";
    private static final Duration VALID = Duration.ofMinutes(5);

    /** The code. */
    record CodeForm(@NotBlank @Size(max = 40) String code) {}

    private record Pending(SignedIn person, Instant until) implements Serializable {}

    private final SecondFactors factors;
    private final SignInThrottle throttle;
    private final KnownDevice devices;
    private final Clock clock;

    CodeController(SecondFactors factors, SignInThrottle throttle, KnownDevice devices, Clock realClock) {
        this.factors = factors;
        this.throttle = throttle;
        this.devices = devices;
        this.clock = realClock;
    }

    /** Remembers, for five minutes and this session, whose code is awaited. */
    static void await(HttpServletRequest request, SignedIn person, Instant now) {
        person.eraseCredentials();
        request.getSession().setAttribute(PENDING, new Pending(person, now.plus(VALID)));
    }

    private @Nullable SignedIn pending(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        return session != null
                        && session.getAttribute(PENDING) instanceof Pending pending
                        && clock.instant().isBefore(pending.until())
                ? pending.person()
                : null;
    }

    @GetMapping("/sign-in/code")
    String ask(HttpServletRequest request, Model model) {
        if (pending(request) == null) {
            return "redirect:/sign-in";
        }
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new CodeForm(""));
        }
        return "people/code";
    }

    @PostMapping("/sign-in/code")
    String take(
            @Valid @ModelAttribute("form") CodeForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request,
            HttpServletResponse response) {
        SignedIn person = pending(request);
        if (person == null) {
            return "redirect:/sign-in";
        }
        String key = "code " + person.accountId();
        if (!errors.hasErrors() && !throttle.allows(key, request.getRemoteAddr())) {
            errors.rejectValue("code", "people.sign-in.wait");
        }
        if (!errors.hasErrors() && !factors.takes(person.accountId(), form.code())) {
            throttle.failed(key, request.getRemoteAddr());
            SecurityLog.refused(person.accountId(), "by a wrong code");
            errors.rejectValue("code", "people.factor.wrong");
        }
        if (errors.hasErrors()) {
            return ask(request, model);
        }
        throttle.succeeded(key);
        SecurityLog.signedIn(person.accountId(), "password and code");
        signIn(person, request, response);
        devices.remember(request, response, person.getUsername());
        SavedRequest wanted = new HttpSessionRequestCache().getRequest(request, response);
        return "redirect:" + (wanted == null ? "/" : wanted.getRedirectUrl());
    }

    /** Makes this session the person's, under a new number. */
    static void signIn(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
        request.getSession().removeAttribute(PENDING);
        Authentication known = UsernamePasswordAuthenticationToken.authenticated(person, null, person.getAuthorities());
        // As SecurityConfig has it for the password.
        new SessionFixationProtectionStrategy().onAuthentication(known, request, response);
        request.getSession().setAttribute(OpenSessions.AGENT, agent(request));
        new HttpSessionCsrfTokenRepository().saveToken(null, request, response);
        SecurityContext context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(known);
        SecurityContextHolder.setContext(context);
        new HttpSessionSecurityContextRepository().saveContext(context, request, response);
    }

    static String agent(HttpServletRequest request) {
        String agent = String.valueOf(request.getHeader("User-Agent"));
        return agent.length() > 200 ? agent.substring(0, 200) : agent;
    }
}
