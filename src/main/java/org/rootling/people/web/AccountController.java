package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.Forms;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** A person's own account. */
@Controller
@RequestMapping("/account")
class AccountController {

    /** How a person wants to see things. */
    record ProfileForm(
            @NotBlank @Size(max = 80) String name,
            @Pattern(regexp = "auto|en|de|fr") String locale,
            @Pattern(regexp = "metric|us") String units,
            @Nullable Boolean contrast) {}

    /** A change of password. */
    record PasswordForm(
            @NotBlank @Size(max = 200) String present,
            @NotBlank @Size(max = 200) String password) {}

    private final PeopleService people;
    private final OpenSessions sessions;

    AccountController(PeopleService people, OpenSessions sessions) {
        this.people = people;
        this.sessions = sessions;
    }

    @GetMapping
    String show(@AuthenticationPrincipal SignedIn person, Model model) {
        PeopleService.Profile profile = people.profile(person.accountId());
        if (!model.containsAttribute("profile")) {
            model.addAttribute(
                    "profile", new ProfileForm(profile.name(), profile.locale(), profile.units(), profile.contrast()));
        }
        if (!model.containsAttribute("password")) {
            model.addAttribute("password", new PasswordForm("", ""));
        }
        model.addAttribute("email", profile.email());
        model.addAttribute("belongings", people.belongings(person.accountId()));
        return "people/account";
    }

    @PostMapping
    String present(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("profile") ProfileForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    people.present(
                            person.accountId(),
                            form.name(),
                            form.locale(),
                            form.units(),
                            Boolean.TRUE.equals(form.contrast()));
                    return "redirect:/account?saved";
                },
                () -> show(person, model));
    }

    @PostMapping("/password")
    String changePassword(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("password") PasswordForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    people.changePassword(
                            person.accountId(),
                            Typed.password(request, "present"),
                            Typed.password(request, "password"));
                    // Whoever knew the old password may still be in.
                    sessions.endOthers(
                            person.getUsername(), request.getSession().getId());
                    return "redirect:/account?saved";
                },
                () -> show(person, model));
    }
}
