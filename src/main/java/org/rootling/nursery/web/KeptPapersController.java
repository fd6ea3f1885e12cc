package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Size;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.domain.KeptPapers;
import org.rootling.nursery.domain.KeptPapers.What;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** Adding photos and PDFs of labels and papers. */
@Controller
@RequestMapping("/v/{vineyard}")
class KeptPapersController {

    /**
     * A photo or PDF to be kept.
     *
     * @param lot code of the lot it is of; empty for the whole delivery
     */
    record PaperForm(
            @Size(max = 10) @Nullable String lot,
            @Nullable What what,
            @Nullable MultipartFile file) {}

    private final KeptPapers papers;
    private final NurseryViews views;
    private final Lots lots;
    private final Choices choices;

    KeptPapersController(KeptPapers papers, NurseryViews views, Lots lots, Choices choices) {
        this.papers = papers;
        this.views = views;
        this.lots = lots;
        this.choices = choices;
    }

    @GetMapping("/deliveries/{id}/papers")
    @Needs(Role.HELPER)
    String form(@PathVariable UUID id, @RequestParam(required = false) @Nullable String lot, Model model) {
        model.addAttribute("form", new PaperForm(lot, lot == null ? What.DELIVERY_NOTE : What.LABEL, null));
        return page(id, model);
    }

    private String page(UUID delivery, Model model) {
        model.addAttribute("delivery", views.delivery(delivery));
        model.addAttribute("whats", choices.of("nursery.kept.what.", What.values()));
        return "nursery/kept-paper";
    }

    @PostMapping("/deliveries/{id}/papers")
    @Needs(Role.HELPER)
    String keep(
            @PathVariable UUID id, @Valid @ModelAttribute("form") PaperForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Lot lot = Typed.nothing(form.lot()) ? null : find(form.lot());
                    papers.keep(id, lot == null ? null : lot.id(), Needed.of(form.what(), "what"), form.file());
                    return "redirect:" + Paths.to(lot == null ? "/deliveries/" + id : "/lots/" + lot.code());
                },
                () -> page(id, model));
    }

    private Lot find(@Nullable String code) {
        return lots.byCode(code == null ? "" : code).orElseThrow(() -> new NotFound("lot"));
    }

    @PostMapping("/stock-papers/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable UUID id) {
        return "redirect:" + Paths.to("/deliveries/" + papers.withdraw(id));
    }
}
