package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.NewSupplier;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Nurseries that vines come from. */
@Controller
@RequestMapping("/v/{vineyard}/nurseries")
class SupplierController {

    /** A nursery. */
    record SupplierForm(
            @NotBlank @Size(max = 80) @Nullable String name,
            @Size(max = 40) @Nullable String registrationNo,

            @Pattern(regexp = "|[A-Za-z]{2}", message = "{nursery.supplier.country-two-letters}") @Nullable
            String country,

            @Size(max = 200) @Nullable String contact,
            @Min(1) @Max(1000) @Nullable Integer bundleSize) {}

    private final Stock stock;
    private final NurseryViews views;

    SupplierController(Stock stock, NurseryViews views) {
        this.stock = stock;
        this.views = views;
    }

    @GetMapping
    @Needs(Role.READER)
    String list(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new SupplierForm("", "", "", "", 25));
        }
        model.addAttribute(
                "suppliers",
                Listing.of("nurseries", views.suppliers())
                        .by("nursery.suppliers.name", s -> s.name())
                        .by("nursery.suppliers.registration", s -> s.registrationNo())
                        .by("nursery.suppliers.country", s -> s.country())
                        .by("nursery.suppliers.contact", s -> s.contact())
                        .by("nursery.suppliers.bundle", s -> s.bundleSize()));
        return "nursery/suppliers";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String add(@Valid @ModelAttribute("form") SupplierForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    String country = form.country();
                    stock.addSupplier(new NewSupplier(
                            Needed.of(form.name(), "name"),
                            form.registrationNo(),
                            country == null ? null : country.toUpperCase(Locale.ROOT),
                            form.contact(),
                            Needed.of(form.bundleSize(), "bundleSize")));
                    return "redirect:" + Paths.to("/nurseries?saved");
                },
                () -> list(model));
    }
}
