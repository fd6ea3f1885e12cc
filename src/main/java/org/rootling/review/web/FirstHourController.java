package org.rootling.review.web;

import java.util.List;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.review.domain.FirstHour;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The guide from nothing to the first delivery in the bed. */
@Controller
@RequestMapping("/v/{vineyard}")
class FirstHourController {

    private final FirstHour firstHour;

    FirstHourController(FirstHour firstHour) {
        this.firstHour = firstHour;
    }

    @GetMapping("/first-hour")
    @Needs(Role.LEAD)
    String guide(Model model) {
        List<FirstHour.Step> steps = firstHour.steps();
        model.addAttribute(
                "hour", steps.stream().filter(FirstHour.Step::firstHour).toList());
        model.addAttribute("after", steps.stream().filter(s -> !s.firstHour()).toList());
        model.addAttribute(
                "next",
                steps.stream()
                        .filter(s -> !s.done())
                        .map(FirstHour.Step::name)
                        .findFirst()
                        .orElse(""));
        model.addAttribute(
                "done", steps.stream().filter(s -> s.firstHour() && s.done()).count());
        return "review/first-hour";
    }
}
