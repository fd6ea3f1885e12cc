package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Email;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SetupCode;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** The doors: first set-up, sign-in, joining by invitation, choosing a vineyard. */
@Controller
class DoorController {

    /** First set-up. */
    record SetupForm(
            @NotBlank @Size(max = 80) String code,
            @NotBlank @Size(max = 80) String vineyard,
            @NotBlank @Size(max = 60) String zone,
            @NotBlank @Size(max = 80) String name,
            @NotBlank @Email @Size(max = 254) String email,
            @NotBlank @Size(max = 200) String password) {}

    /** Joining with a new account. */
    record JoinForm(
            @NotBlank @Size(max = 80) String name,
            @NotBlank @Email @Size(max = 254) String email,
            @NotBlank @Size(max = 200) String password) {}

    /** A further vineyard. */
    record FoundForm(
            @NotBlank @Size(max = 80) String vineyard,
            @NotBlank @Size(max = 60) String zone) {}

    private final PeopleService people;
    private final SetupCode setupCode;
    private final SignInThrottle throttle;

    DoorController(PeopleService people, SetupCode setupCode, SignInThrottle throttle) {
        this.people = people;
        this.setupCode = setupCode;
        this.throttle = throttle;
    }

    @GetMapping("/")
    String start(@AuthenticationPrincipal SignedIn person, Model model) {
        List<PeopleService.Belonging> belongings = people.belongings(person.accountId());
        if (belongings.size() == 1) {
            return "redirect:/v/" + belongings.get(0).slug() + "/";
        }
        if (person.guest()) {
            return "redirect:/day-over";
        }
        return "redirect:/vineyards";
    }

    @GetMapping("/vineyards")
    String choose(@AuthenticationPrincipal SignedIn person, Model model) {
        model.addAttribute("belongings", people.belongings(person.accountId()));
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new FoundForm("", ""));
        }
        model.addAttribute("zones", zones());
        return "people/vineyards";
    }

    @PostMapping("/vineyards")
    String found(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("form") FoundForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(
                errors,
                () -> "redirect:/v/"
                        + people.foundFurtherVineyard(person.accountId(), form.vineyard(), zone(form.zone())) + "/",
                () -> choose(person, model));
    }

    @GetMapping("/sign-in")
    String signIn() {
        return people.isNew() ? "redirect:/setup" : "people/sign-in";
    }

    @GetMapping("/setup")
    String setup(Model model) {
        if (!people.isNew()) {
            return "redirect:/sign-in";
        }
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new SetupForm("", "", "", "", "", ""));
        }
        model.addAttribute("zones", zones());
        return "people/setup";
    }

    @PostMapping("/setup")
    String setUp(
            @Valid @ModelAttribute("form") SetupForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        if (!people.isNew()) {
            return "redirect:/sign-in";
        }
        String place = request.getRemoteAddr();
        return Forms.submit(
                errors,
                () -> {
                    if (!throttle.allows("setup", place)) {
                        throw new Refused("people.setup.wait").at("code");
                    }
                    if (!setupCode.matches(form.code())) {
                        throttle.failed("setup", place);
                        throw new Refused("people.setup.code-wrong").at("code");
                    }
                    people.foundVineyard(
                            form.vineyard(),
                            zone(form.zone()),
                            form.email(),
                            form.name(),
                            Typed.password(request, "password"));
                    return "redirect:/sign-in?ready";
                },
                () -> setup(model));
    }

    @GetMapping("/join/{secret}")
    String join(@PathVariable String secret, @AuthenticationPrincipal @Nullable SignedIn person, Model model) {
        Optional<PeopleService.Invitation> invitation =
                people.invitation(secret).filter(PeopleService.Invitation::usable);
        model.addAttribute("invitation", invitation.orElse(null));
        model.addAttribute("secret", secret);
        model.addAttribute("person", person == null || person.guest() ? null : person.name());
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new JoinForm("", "", ""));
        }
        return "people/join";
    }

    @PostMapping("/join/{secret}")
    String joinAsNew(
            @PathVariable String secret,
            @Valid @ModelAttribute("form") JoinForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    people.acceptAsNew(secret, form.email(), form.name(), Typed.password(request, "password"));
                    return "redirect:/sign-in?joined";
                },
                () -> join(secret, null, model));
    }

    @PostMapping("/join/{secret}/as-me")
    String joinAsKnown(@PathVariable String secret, @AuthenticationPrincipal @Nullable SignedIn person, Model model) {
        if (person == null || person.guest()) {
            throw new NotFound("account");
        }
        BindingResult errors =
                new org.springframework.validation.BeanPropertyBindingResult(new JoinForm("", "", ""), "form");
        model.addAttribute("form", errors.getTarget());
        model.addAttribute(BindingResult.MODEL_KEY_PREFIX + "form", errors);
        return Forms.submit(
                errors,
                () -> "redirect:/v/" + people.acceptAsKnown(secret, person.accountId()) + "/",
                () -> join(secret, person, model));
    }

    static ZoneId zone(String id) {
        try {
            return ZoneId.of(id);
        } catch (DateTimeException unknown) {
            throw new Refused("people.setup.zone-unknown").at("zone");
        }
    }

    static java.util.Set<String> zones() {
        TreeSet<String> zones = new TreeSet<>(ZoneId.getAvailableZoneIds());
        zones.removeIf(zone -> !zone.contains("/") || zone.startsWith("Etc/") || zone.startsWith("SystemV/"));
        return zones;
    }
}
