package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.RowChanges;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Changes to rows that stand: numbers, direction, length, and a block parted in two. */
@Controller
@RequestMapping("/v/{vineyard}/blocks/{code}/rows")
class RowChangesController {

    /** One change; what it does not need stays empty. */
    record ChangeForm(
            @NotNull Integer version,
            @Min(1) @Max(100_000) @Nullable Integer row,
            @Min(1) @Max(10_000) @Nullable Integer by,
            @Size(max = 12) @Nullable String newCode,
            @Size(max = 80) @Nullable String name) {}

    private final GroundService ground;
    private final RowChanges changes;

    RowChangesController(GroundService ground, RowChanges changes) {
        this.ground = ground;
        this.changes = changes;
    }

    @GetMapping("/change")
    @Needs(Role.LEAD)
    String page(@PathVariable String code, Model model) {
        GroundService.Sheet sheet = ground.sheet(code);
        model.addAttribute("block", sheet.block());
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new ChangeForm(sheet.block().version(), null, null, "", ""));
        }
        return "ground/change";
    }

    @PostMapping("/renumber")
    @Needs(Role.LEAD)
    String renumber(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ChangeForm form,
            BindingResult errors,
            Model model) {
        return change(code, errors, model, () -> changes.renumber(code, form.version()));
    }

    @PostMapping("/reverse")
    @Needs(Role.LEAD)
    String reverse(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ChangeForm form,
            BindingResult errors,
            Model model) {
        return change(code, errors, model, () -> changes.reverse(code, form.version(), number(form.row())));
    }

    @PostMapping("/lengthen")
    @Needs(Role.LEAD)
    String lengthen(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ChangeForm form,
            BindingResult errors,
            Model model) {
        return change(
                code,
                errors,
                model,
                () -> changes.lengthen(code, form.version(), number(form.row()), number(form.by())));
    }

    @PostMapping("/split")
    @Needs(Role.LEAD)
    String split(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ChangeForm form,
            BindingResult errors,
            Model model) {
        return change(
                code,
                errors,
                model,
                () -> changes.split(
                        code,
                        form.version(),
                        number(form.row()),
                        Objects.requireNonNullElse(form.newCode(), ""),
                        TapeController.named(form.name())));
    }

    /** Does one change and goes back to the block, or shows the page again with what was refused. */
    private String change(String code, BindingResult errors, Model model, Runnable work) {
        return Forms.submit(
                errors,
                () -> {
                    work.run();
                    return "redirect:" + Paths.to("/blocks/" + code);
                },
                () -> page(code, model));
    }

    private static int number(@Nullable Integer typed) {
        return typed == null ? 0 : typed;
    }
}
