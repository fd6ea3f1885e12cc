package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Duration;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Guests;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.SecondFactors;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.VineyardTime;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** People of a vineyard, their invitations and tokens, and the vineyard's own place and time. */
@Controller
@RequestMapping("/v/{vineyard}")
class PeopleController {

    /** A new invitation. */
    record InviteForm(
            @NotNull Role role,
            @Min(1) @Max(60) int days,
            @Size(max = 200) @Nullable String note) {}

    /** A new API token. */
    record TokenForm(
            @NotBlank @Size(max = 80) String name, @NotNull Role role) {}

    /** Place and time of the vineyard. */
    record PlaceForm(
            @NotBlank @Size(max = 80) String name,
            @NotBlank @Size(max = 60) String zone,
            @DecimalMin("-66") @DecimalMax("66") @Nullable Double latitude,
            @DecimalMin("-180") @DecimalMax("180") @Nullable Double longitude,

            @DecimalMin("-430") @DecimalMax("5000") @Nullable @Measured(Measure.METRE)
            Double altitudeM,

            int version) {}

    private final VineyardTime time;
    private final PeopleService people;
    private final SecondFactors factors;
    private final Members members;
    private final Guests guests;
    private final Vineyards vineyards;
    private final CurrentMember current;

    PeopleController(
            PeopleService people,
            SecondFactors factors,
            Members members,
            Guests guests,
            Vineyards vineyards,
            CurrentMember current,
            VineyardTime time) {
        this.time = time;
        this.people = people;
        this.factors = factors;
        this.guests = guests;
        this.members = members;
        this.vineyards = vineyards;
        this.current = current;
    }

    @GetMapping("/people")
    @Needs(Role.LEAD)
    String list(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new InviteForm(Role.HELPER, 7, ""));
        }
        model.addAttribute(
                "people",
                Listing.of("people", members.list())
                        .on(Paths.to("/people"))
                        .by("people.list.name", p -> p.name())
                        .by("people.list.email", p -> p.email())
                        .by("people.list.role", p -> new Listing.Word("people.role." + p.role())));
        model.addAttribute("guests", guests.until());
        model.addAttribute(
                "invitations",
                Listing.of("invitations", people.invitations())
                        .on(Paths.to("/people"))
                        .by("people.invite.role", i -> new Listing.Word("people.role." + i.role()))
                        .by("people.invite.note", i -> i.note())
                        .by(
                                "people.invite.until",
                                i -> time.shown(i.expiresAt())
                                        .atZone(vineyards.current().zone())
                                        .toLocalDate())
                        .by("people.invite.state", i -> new Listing.Word("people.invite.state-" + i.state())));
        model.addAttribute("roles", Role.values());
        model.addAttribute("self", current.accountId());
        model.addAttribute("codesRequired", factors.requiredHere());
        return "people/people";
    }

    @PostMapping("/people/invitations")
    @Needs(Role.OWNER)
    String invite(
            @Valid @ModelAttribute("form") InviteForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes flash,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    String secret =
                            people.invite(form.role(), Duration.ofDays(form.days()), form.note(), current.accountId());
                    String base = request.getRequestURL().toString().replaceFirst("/v/.*$", "");
                    flash.addFlashAttribute("link", base + "/join/" + secret);
                    return "redirect:" + Paths.to("/people");
                },
                () -> list(model));
    }

    @PostMapping("/people/invitations/{id}/withdraw")
    @Needs(Role.OWNER)
    String withdraw(@PathVariable UUID id) {
        people.withdrawInvitation(id);
        return "redirect:" + Paths.to("/people");
    }

    @PostMapping("/people/{account}/role")
    @Needs(Role.OWNER)
    String changeRole(@PathVariable UUID account, @RequestParam Role role) {
        people.changeRole(account, role);
        return "redirect:" + Paths.to("/people");
    }

    @PostMapping("/people/{account}/end")
    @Needs(Role.OWNER)
    String end(@PathVariable UUID account) {
        people.endMembership(account);
        return "redirect:" + Paths.to("/people");
    }

    @PostMapping("/people/codes")
    @Needs(Role.OWNER)
    String requireCodes(@RequestParam boolean required) {
        factors.requireHere(required, current.accountId());
        SecurityLog.codesRequired(current.accountId(), required);
        return "redirect:" + Paths.to("/people#codes");
    }

    @GetMapping("/tokens")
    @Needs(Role.READER)
    String tokens(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new TokenForm("", Role.READER));
        }
        model.addAttribute(
                "tokens",
                Listing.of("tokens", people.tokens(current.may(Role.OWNER) ? null : current.accountId()))
                        .by("people.tokens.name", t -> t.name())
                        .by("people.tokens.role", t -> new Listing.Word("people.role." + t.role()))
                        .by("people.tokens.person", t -> t.person())
                        .by(
                                "people.tokens.made",
                                t -> t.createdAt()
                                        .atZone(vineyards.current().zone())
                                        .toLocalDate())
                        .by(
                                "people.tokens.state",
                                t -> new Listing.Word(t.revoked() ? "people.tokens.revoked" : "people.tokens.live")));
        model.addAttribute(
                "roles",
                java.util.Arrays.stream(Role.values())
                        .filter(current.role()::includes)
                        .toList());
        return "people/tokens";
    }

    @PostMapping("/tokens")
    @Needs(Role.READER)
    String makeToken(
            @Valid @ModelAttribute("form") TokenForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes flash) {
        return Forms.submit(
                errors,
                () -> {
                    flash.addFlashAttribute(
                            "secret", people.makeToken(form.name(), form.role(), current.accountId(), current.role()));
                    return "redirect:" + Paths.to("/tokens");
                },
                () -> tokens(model));
    }

    @PostMapping("/tokens/{id}/revoke")
    @Needs(Role.READER)
    String revokeToken(@PathVariable UUID id) {
        people.revokeToken(id, current.may(Role.OWNER) ? null : current.accountId());
        return "redirect:" + Paths.to("/tokens");
    }

    @GetMapping("/settings")
    @Needs(Role.LEAD)
    String settings(Model model) {
        if (!model.containsAttribute("form")) {
            Vineyard now = vineyards.current();
            model.addAttribute(
                    "form",
                    new PlaceForm(
                            now.name(),
                            now.zone().getId(),
                            now.latitude(),
                            now.longitude(),
                            now.altitudeM(),
                            now.version()));
        }
        model.addAttribute("zones", DoorController.zones());
        return "people/settings";
    }

    @PostMapping("/settings")
    @Needs(Role.OWNER)
    String describe(@Valid @ModelAttribute("form") PlaceForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    people.describeVineyard(
                            form.name(),
                            DoorController.zone(form.zone()),
                            form.latitude(),
                            form.longitude(),
                            form.altitudeM(),
                            form.version());
                    return "redirect:" + Paths.to("/settings?saved");
                },
                () -> settings(model));
    }
}
