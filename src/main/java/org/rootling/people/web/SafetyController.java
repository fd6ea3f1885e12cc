package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.util.Map;
import java.util.function.Supplier;
import org.rootling.people.domain.Deletions;
import org.rootling.people.domain.OpenSessions;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SecondFactors;
import org.rootling.people.domain.SignedIn;
import org.rootling.platform.Forms;
import org.rootling.platform.QrCode;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseEntity;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What keeps an account safe: where it is signed in, its second factor, and its end. */
@Controller
@RequestMapping("/account/safety")
class SafetyController {

    /** A first code. */
    record CodeForm(@NotBlank @Size(max = 40) String code) {}

    /** The password, for what must not be done by someone who found the screen open. */
    record SureForm(@NotBlank @Size(max = 200) String present) {}

    /** Which session to end, all others if it says so, and the password. */
    record SignOutForm(
            @NotBlank @Size(max = 100) String which,
            @NotBlank @Size(max = 200) String present) {}

    /** All sessions but this one. */
    private static final String OTHERS = "others";

    private final PeopleService people;
    private final SecondFactors factors;
    private final OpenSessions sessions;
    private final Deletions deletions;

    SafetyController(PeopleService people, SecondFactors factors, OpenSessions sessions, Deletions deletions) {
        this.people = people;
        this.factors = factors;
        this.sessions = sessions;
        this.deletions = deletions;
    }

    @GetMapping
    String show(@AuthenticationPrincipal SignedIn person, Model model, HttpServletRequest request) {
        SecondFactors.State state = factors.state(person.accountId(), person.getUsername());
        model.addAttribute("factor", state);
        SecondFactors.Secret secret = state.secret();
        if (secret != null) {
            model.addAttribute("picture", QrCode.of(secret.address()));
        }
        model.addAttribute(
                "sessions",
                sessions.of(person.getUsername(), request.getSession().getId()));
        model.addAttribute(
                "deleteAfter", deletions.ofAccount(person.accountId()).orElse(null));
        model.addAttribute("waits", Deletions.ACCOUNT_WAITS.toDays());
        model.addAttribute("utc", java.time.ZoneOffset.UTC);
        model.addAttribute("belongings", people.belongings(person.accountId()));
        for (String form : new String[] {"off", "codes", "delete"}) {
            if (!model.containsAttribute(form)) {
                model.addAttribute(form, new SureForm(""));
            }
        }
        if (!model.containsAttribute("out")) {
            model.addAttribute("out", new SignOutForm(OTHERS, ""));
        }
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new CodeForm(""));
        }
        return "people/safety";
    }

    @PostMapping("/sessions/end")
    String endSessions(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("out") SignOutForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return sure(person, errors, model, request, () -> {
            if (form.which().equals(OTHERS)) {
                return endOthers(person, request);
            }
            sessions.end(person.getUsername(), form.which());
            return "redirect:/account/safety?saved";
        });
    }

    private String endOthers(SignedIn person, HttpServletRequest request) {
        sessions.endOthers(person.getUsername(), request.getSession().getId());
        return "redirect:/account/safety?saved";
    }

    @PostMapping("/second-factor/begin")
    String begin(@AuthenticationPrincipal SignedIn person) {
        factors.begin(person.accountId());
        return "redirect:/account/safety#second-factor";
    }

    @PostMapping("/second-factor/confirm")
    String confirm(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("form") CodeForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request,
            RedirectAttributes flash) {
        return Forms.submit(
                errors,
                () -> {
                    flash.addFlashAttribute("paper", factors.confirm(person.accountId(), form.code()));
                    endOthers(person, request);
                    return "redirect:/account/safety#second-factor";
                },
                () -> show(person, model, request));
    }

    @PostMapping("/second-factor/codes")
    String newCodes(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("codes") SureForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request,
            RedirectAttributes flash) {
        return sure(person, errors, model, request, () -> {
            flash.addFlashAttribute("paper", factors.renew(person.accountId()));
            return "redirect:/account/safety#second-factor";
        });
    }

    @PostMapping("/second-factor/end")
    String endFactor(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("off") SureForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return sure(person, errors, model, request, () -> {
            factors.end(person.accountId());
            return endOthers(person, request);
        });
    }

    /** Does what needs the password once more. */
    private String sure(
            SignedIn person, BindingResult errors, Model model, HttpServletRequest request, Supplier<String> work) {
        return Forms.submit(
                errors,
                () -> {
                    people.requirePassword(person.accountId(), Typed.password(request, "present"));
                    return work.get();
                },
                () -> show(person, model, request));
    }

    @GetMapping("/about-me.json")
    ResponseEntity<Map<String, Object>> aboutMe(@AuthenticationPrincipal SignedIn person) {
        return ResponseEntity.ok()
                .header(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"about-me.json\"")
                .body(deletions.aboutMe(person.accountId()));
    }

    @PostMapping("/delete")
    String delete(
            @AuthenticationPrincipal SignedIn person,
            @Valid @ModelAttribute("delete") SureForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return sure(person, errors, model, request, () -> {
            deletions.askForAccount(person.accountId());
            return "redirect:/account/safety#delete";
        });
    }

    @PostMapping("/keep")
    String keep(@AuthenticationPrincipal SignedIn person) {
        deletions.keepAccount(person.accountId());
        return "redirect:/account/safety?saved";
    }
}
