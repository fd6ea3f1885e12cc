package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.MonthDay;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Measure;
import org.rootling.platform.NotFound;
import org.rootling.platform.NumberText;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.training.CareItem;
import org.rootling.training.calc.Timing;
import org.rootling.training.domain.CareRules;
import org.rootling.training.domain.Cautions;
import org.rootling.training.domain.Checklist;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The checklist itself, which the owner may make their own. */
@Controller
@RequestMapping("/v/{vineyard}/checklist")
class ChecklistController {

    /** An item as its owner types it, the value in the reader's units. */
    record ItemForm(
            @NotBlank
            @Size(max = 40)
            @Pattern(regexp = "[a-z0-9][a-z0-9-]*", message = "{training.item.bad-code}")
            @Nullable
            String code,

            @Min(0) @Max(100000) int position,
            @NotBlank @Size(max = 80) @Nullable String name,
            @Required CareRules.@Nullable Kind kind,
            @NotBlank @Size(max = 20) @Nullable String value,
            @Nullable Integer orAfterDays,
            @Min(0) @Max(365) int windowDays,
            @Nullable Integer repeatDays,
            @Size(max = 5) @Nullable String until,
            @Nullable UUID after,
            @NotBlank @Size(max = 600) @Nullable String why,
            @NotBlank @Size(max = 1200) @Nullable String how,
            @Size(max = 40) @Nullable String caution,
            @Size(max = 40) @Nullable String step,
            @NotBlank @Size(max = 600) @Nullable String source,
            int version) {

        static ItemForm empty(int position) {
            return new ItemForm(
                    "", position, "", CareRules.Kind.DAYS, "", null, 7, null, "", null, "", "", "", "", "", 0);
        }

        static ItemForm of(CareItem item) {
            CareRules.Kind kind = CareRules.Kind.valueOf(item.timing().toUpperCase(Locale.ROOT));
            Integer orAfter = item.rule().timing() instanceof Timing.AtStage at ? at.orAfterDays() : null;
            MonthDay until = item.rule().until();
            return new ItemForm(
                    item.code(),
                    item.position(),
                    item.name(),
                    kind,
                    shown(kind, item.timingValue()),
                    orAfter,
                    item.rule().windowDays(),
                    item.rule().repeatDays(),
                    until == null ? "" : CareItem.monthDay(until),
                    item.afterItemId(),
                    item.why(),
                    item.how(),
                    item.caution(),
                    item.step(),
                    item.source(),
                    item.version());
        }

        Checklist.Draft draft() {
            return new Checklist.Draft(
                    position,
                    text(name),
                    CareRules.of(
                            Objects.requireNonNull(kind),
                            kept(kind, text(value)),
                            orAfterDays,
                            windowDays,
                            repeatDays,
                            orNull(until)),
                    after,
                    text(why),
                    text(how),
                    orNull(caution),
                    orNull(step),
                    text(source));
        }

        private static String shown(CareRules.Kind kind, String value) {
            Measure measure = measure(kind);
            return measure == null
                    ? value
                    : NumberText.write(measure.shown(new BigDecimal(value)), LocaleContextHolder.getLocale());
        }

        private static String kept(CareRules.Kind kind, String typed) {
            Measure measure = measure(kind);
            if (measure == null) {
                return typed;
            }
            try {
                BigDecimal number = NumberText.read(typed);
                return number == null ? "" : measure.kept(number).toPlainString();
            } catch (IllegalArgumentException noNumber) {
                throw new Refused("training.item.bad-number", typed).at("value");
            }
        }

        private static @Nullable Measure measure(CareRules.Kind kind) {
            return switch (kind) {
                case HEAT -> Measure.DEGREE_DAY;
                case RAIN -> Measure.MILLIMETRE;
                case DAYS, STAGE, DATE -> null;
            };
        }

        private static String text(@Nullable String typed) {
            return typed == null ? "" : typed.strip();
        }

        private static @Nullable String orNull(@Nullable String typed) {
            return typed == null || typed.isBlank() ? null : typed.strip();
        }
    }

    /** Steps whose log may tick an item by itself. */
    private static final List<String> STEPS =
            List.of("WATER_IN", "GUARD", "STAKE", "TIE_IN", "PICK_SHOOTS", "WEED", "CHECK");

    private final Checklist checklist;
    private final Cautions cautions;
    private final CareNames careNames;

    ChecklistController(Checklist checklist, Cautions cautions, CareNames careNames) {
        this.checklist = checklist;
        this.cautions = cautions;
        this.careNames = careNames;
    }

    @GetMapping
    @Needs(Role.READER)
    String list(Model model) {
        List<CareItem> items = checklist.items();
        model.addAttribute("items", items);
        model.addAttribute("names", names(items, null));
        model.addAttribute("cautions", cautions.all());
        return "training/checklist";
    }

    @GetMapping("/new")
    @Needs(Role.OWNER)
    String fresh(Model model) {
        List<CareItem> items = checklist.items();
        if (!model.containsAttribute("form")) {
            int last = items.isEmpty() ? 0 : items.get(items.size() - 1).position();
            model.addAttribute("form", ItemForm.empty(last + 10));
        }
        return fill(null, items, model);
    }

    @PostMapping("/new")
    @Needs(Role.OWNER)
    String add(@Valid @ModelAttribute("form") ItemForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    checklist.add(Objects.requireNonNull(form.code()), form.draft());
                    return "redirect:" + Paths.to("/checklist?saved");
                },
                () -> fresh(model));
    }

    @GetMapping("/{id}")
    @Needs(Role.OWNER)
    String show(@PathVariable UUID id, Model model) {
        List<CareItem> items = checklist.items();
        if (!model.containsAttribute("form")) {
            CareItem item = items.stream()
                    .filter(i -> i.id().equals(id))
                    .findFirst()
                    .orElseThrow(() -> new NotFound("checklist item"));
            model.addAttribute("form", ItemForm.of(item));
        }
        return fill(id, items, model);
    }

    @PostMapping("/{id}")
    @Needs(Role.OWNER)
    String edit(
            @PathVariable UUID id, @Valid @ModelAttribute("form") ItemForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    checklist.edit(id, form.draft(), form.version());
                    return "redirect:" + Paths.to("/checklist?saved");
                },
                () -> show(id, model));
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.OWNER)
    String withdraw(@PathVariable UUID id, @RequestParam int version) {
        checklist.withdraw(id, version);
        return "redirect:" + Paths.to("/checklist?saved");
    }

    private String fill(@Nullable UUID id, List<CareItem> items, Model model) {
        model.addAttribute("id", id);
        model.addAttribute("kinds", CareRules.Kind.values());
        model.addAttribute("others", names(items, id));
        model.addAttribute("cautions", cautions.all());
        model.addAttribute("steps", STEPS);
        return "training/checklist-item";
    }

    private Map<UUID, String> names(List<CareItem> items, @Nullable UUID but) {
        return careNames.of(
                items.stream().filter(item -> !item.id().equals(but)).toList());
    }
}
