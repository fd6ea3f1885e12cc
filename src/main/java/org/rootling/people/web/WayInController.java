package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Email;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.util.Locale;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.people.domain.WaysIn;
import org.rootling.platform.Forms;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** For who forgot their password: asking for a link, and setting a new password by it. */
@Controller
class WayInController {

    /** Where the link shall go. */
    record AskForm(@NotBlank @Email @Size(max = 254) String email) {}

    /** The new password. */
    record NewForm(@NotBlank @Size(max = 200) String password) {}

    private final WaysIn ways;
    private final OpenSessions sessions;
    private final SignInThrottle throttle;

    WayInController(WaysIn ways, OpenSessions sessions, SignInThrottle throttle) {
        this.ways = ways;
        this.sessions = sessions;
        this.throttle = throttle;
    }

    @GetMapping("/forgotten")
    String forgotten(Model model) {
        model.addAttribute("byMail", ways.byMail());
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new AskForm(""));
        }
        return "people/forgotten";
    }

    @PostMapping("/forgotten")
    String ask(
            @Valid @ModelAttribute("form") AskForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request,
            Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    String key = "forgotten " + form.email();
                    if (!throttle.allows(key, request.getRemoteAddr())) {
                        throw new Refused("people.way-in.wait").at("email");
                    }
                    // Each counts, whether there is such an account or not.
                    throttle.failed(key, request.getRemoteAddr());
                    ways.ask(form.email(), locale);
                    return "redirect:/forgotten?sent";
                },
                () -> forgotten(model));
    }

    @GetMapping("/way-in/{secret}")
    String show(@PathVariable String secret, Model model) {
        model.addAttribute("known", ways.find(secret).orElse(null));
        model.addAttribute("secret", secret);
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new NewForm(""));
        }
        return "people/way-in";
    }

    @PostMapping("/way-in/{secret}")
    String use(
            @PathVariable String secret,
            @Valid @ModelAttribute("form") NewForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    WaysIn.Known known = ways.use(secret, Typed.password(request, "password"));
                    // Whoever is in by the old password goes; whoever was slowed down by wrong ones is let on.
                    sessions.endAll(known.email());
                    throttle.succeeded(known.email());
                    SecurityLog.newPassword(known.accountId());
                    return "redirect:/sign-in?changed";
                },
                () -> show(secret, model));
    }
}
