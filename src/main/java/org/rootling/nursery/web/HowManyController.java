package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import java.util.List;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.calc.OrderSize;
import org.rootling.nursery.calc.OrderSize.Answer;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;

/** How many vines to order, with the chance that they suffice. */
@Controller
@RequestMapping("/v/{vineyard}/how-many")
class HowManyController {

    /** The question; shares in percent. */
    record HowManyForm(
            @Min(1) @Max(900_000) @Nullable Integer places,
            @Min(0) @Max(100_000) @Nullable Integer spares,
            @DecimalMin("0") @DecimalMax("90") @Nullable Double lossPercent,
            @DecimalMin("50") @DecimalMax("99.9") @Nullable Double surePercent,
            @Min(1) @Max(1000) @Nullable Integer bundle) {}

    /** A size of order and the chance that it suffices. */
    record Choice(int bundles, int vines, double chance, boolean answer) {}

    @GetMapping
    @Needs(Role.READER)
    String howMany(@Valid @ModelAttribute("form") HowManyForm form, BindingResult errors, Model model) {
        if (errors.hasErrors()) {
            return "nursery/how-many";
        }
        int spares = form.spares() == null ? 0 : form.spares();
        double loss = (form.lossPercent() == null ? 10 : form.lossPercent()) / 100;
        double sure = (form.surePercent() == null ? 95 : form.surePercent()) / 100;
        int bundle = form.bundle() == null ? 25 : form.bundle();
        Integer places = form.places();
        if (places == null) {
            model.addAttribute("form", new HowManyForm(null, spares, loss * 100, sure * 100, bundle));
            return "nursery/how-many";
        }
        Answer answer = OrderSize.of(places, spares, loss, sure, bundle);
        List<Choice> around = IntStream.rangeClosed(Math.max(1, answer.bundles() - 2), answer.bundles() + 2)
                .mapToObj(n -> new Choice(
                        n,
                        n * bundle,
                        OrderSize.chance((long) n * bundle, places + spares, loss),
                        n == answer.bundles()))
                .toList();
        model.addAttribute("answer", answer);
        model.addAttribute("around", around);
        model.addAttribute("wanted", places + spares);
        return "nursery/how-many";
    }
}
