package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.people.domain.Deletions;
import org.rootling.people.domain.PeopleService;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The end of a vineyard, asked for by its owner and taken back at will for a month. */
@Controller
@RequestMapping("/v/{vineyard}/delete")
class EndController {

    /** The vineyard's name typed again, and the owner's password. */
    record EndForm(
            @NotBlank @Size(max = 80) String name,
            @NotBlank @Size(max = 200) String present) {}

    private final Deletions deletions;
    private final PeopleService people;
    private final Vineyards vineyards;
    private final CurrentMember current;

    EndController(Deletions deletions, PeopleService people, Vineyards vineyards, CurrentMember current) {
        this.deletions = deletions;
        this.people = people;
        this.vineyards = vineyards;
        this.current = current;
    }

    @GetMapping
    @Needs(Role.OWNER)
    String page(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new EndForm("", ""));
        }
        model.addAttribute("deleteAfter", deletions.ofVineyard().orElse(null));
        model.addAttribute("waits", Deletions.VINEYARD_WAITS.toDays());
        return "people/delete-vineyard";
    }

    @PostMapping
    @Needs(Role.OWNER)
    String ask(
            @Valid @ModelAttribute("form") EndForm form,
            BindingResult errors,
            Model model,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    people.requirePassword(current.accountId(), Typed.password(request, "present"));
                    deletions.askForVineyard(form.name(), vineyards.current().name());
                    return "redirect:" + Paths.to("/delete");
                },
                () -> page(model));
    }

    @PostMapping("/keep")
    @Needs(Role.OWNER)
    String keep() {
        deletions.keepVineyard();
        return "redirect:" + Paths.to("/settings?saved");
    }
}
