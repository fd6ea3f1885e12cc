package org.rootling.work.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Guests;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.QrCode;
import org.rootling.platform.Refused;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.domain.CrewService;
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

/** Who can be given work: hours, skills, days off, wage; and how many tools there are. */
@Controller
@RequestMapping("/v/{vineyard}/work/people")
class CrewController {
    /** A person's week. */
    record PersonForm(
            @NotBlank @Size(max = 80) String name,
            @Nullable UUID account,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal mon,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal tue,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal wed,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal thu,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal fri,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal sat,
            @Nullable @DecimalMin("0") @DecimalMax("16") BigDecimal sun,
            @Nullable @Size(max = 300) String skills,
            @Nullable @Size(max = 5000) String daysOff,
            @Nullable @Size(max = 40) List<@Size(max = 30) String> wishes,
            @Nullable @DecimalMin("0") @DecimalMax("100000") BigDecimal wage,
            @NotNull @Pattern(regexp = "[A-Z]{3}") String currency,
            int version) {
        List<BigDecimal> hours() {
            return Stream.of(mon, tue, wed, thu, fri, sat, sun)
                    .map(h -> Objects.requireNonNullElse(h, BigDecimal.ZERO))
                    .toList();
        }
    }

    /** For how many days a link is open, today counted. */
    record LinkForm(@NotNull @Min(1) @Max(Guests.MOST_DAYS) Integer days) {}

    /** How many there are of a tool. */
    record ToolForm(
            @NotBlank @Size(max = 40) String tool,
            @NotNull @Min(0) @Max(1000) Integer count) {}

    private final CrewService crew;
    private final Members members;
    private final Steps steps;

    CrewController(CrewService crew, Members members, Steps steps) {
        this.crew = crew;
        this.members = members;
        this.steps = steps;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String list(Model model) {
        Map<String, Integer> tools = new LinkedHashMap<>();
        new TreeSet<>(steps.all().stream()
                        .map(Step::tool)
                        .filter(Objects::nonNull)
                        .toList())
                .forEach(t -> tools.put(t, 1));
        crew.tools().forEach(t -> tools.put(t.name(), t.count()));
        Map<UUID, String> mails = crew.mails();
        model.addAttribute("mails", mails);
        model.addAttribute(
                "crew",
                Listing.of("crew", crew.people())
                        .by("work.people.name", p -> p.shown())
                        .by("work.people.account", p -> mails.getOrDefault(p.id(), ""))
                        .by("work.people.week", p -> p.week())
                        .by("work.people.skills", p -> String.join(", ", p.skills())));
        model.addAttribute("tools", tools);
        return "work/crew";
    }

    @PostMapping("/tools")
    @Needs(Role.LEAD)
    String countTool(@Valid @ModelAttribute("tool") ToolForm form, BindingResult errors) {
        if (errors.hasErrors()) {
            throw new Refused("work.people.tool-count");
        }
        crew.countTool(form.tool(), form.count());
        return "redirect:" + Paths.to("/work/people?saved");
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String adding(Model model) {
        if (!model.containsAttribute("form")) {
            BigDecimal none = BigDecimal.ZERO;
            model.addAttribute(
                    "form",
                    new PersonForm(
                            "", null, none, none, none, none, none, none, none, "", "", List.of(), null, "EUR", 0));
        }
        model.addAttribute("accounts", accounts());
        model.addAttribute("allSteps", steps.all());
        model.addAttribute("person", null);
        return "work/person";
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String add(@Valid @ModelAttribute("form") PersonForm form, BindingResult errors, Model model) {
        return Forms.submit(errors, () -> save(null, form), () -> adding(model));
    }

    private String save(@Nullable UUID id, PersonForm form) {
        UUID before = id == null
                ? null
                : crew.person(id).map(CrewService.Person::account).orElse(null);
        if (form.account() != null
                && !form.account().equals(before)
                && !accounts().containsKey(form.account())) {
            throw new Refused("work.task.unknown-person").at("account");
        }
        crew.save(
                id,
                form.account(),
                form.name(),
                form.hours(),
                CrewService.words(form.skills()),
                form.wage(),
                form.currency(),
                CrewService.days(form.daysOff()),
                wishes(form),
                form.version());
        return "redirect:" + Paths.to("/work/people?saved");
    }

    /** Only what is a step. */
    private List<String> wishes(PersonForm form) {
        List<String> asked = form.wishes() == null ? List.of() : form.wishes();
        return steps.all().stream().map(Step::code).filter(asked::contains).toList();
    }

    @GetMapping("/{id}")
    @Needs(Role.LEAD)
    String person(@PathVariable UUID id, Model model) {
        CrewService.Person p = crew.person(id).orElseThrow(() -> new NotFound("person"));
        if (!model.containsAttribute("form")) {
            List<BigDecimal> h = p.hours();
            model.addAttribute(
                    "form",
                    new PersonForm(
                            p.name(),
                            p.account(),
                            h.get(0),
                            h.get(1),
                            h.get(2),
                            h.get(3),
                            h.get(4),
                            h.get(5),
                            h.get(6),
                            String.join(", ", p.skills()),
                            p.daysOff().stream().map(Object::toString).collect(Collectors.joining(", ")),
                            p.wishes(),
                            p.wage(),
                            p.currency(),
                            p.version()));
        }
        Map<UUID, String> accounts = accounts();
        Instant until = crew.linkUntil(p).orElse(null);
        UUID account = p.account();
        model.addAttribute("linkOpen", until != null && accounts.containsKey(account));
        if (account != null && until != null) {
            accounts.put(account, p.shown());
        }
        model.addAttribute("accounts", accounts);
        model.addAttribute("allSteps", steps.all());
        model.addAttribute("person", p);
        model.addAttribute("mayLink", account == null || until != null);
        model.addAttribute("linkUntil", until);
        if (model.getAttribute("link") instanceof String link) {
            model.addAttribute("code", QrCode.of(link));
        }
        if (!model.containsAttribute("linkForm")) {
            model.addAttribute("linkForm", new LinkForm(1));
        }
        return "work/person";
    }

    @PostMapping("/{id}")
    @Needs(Role.LEAD)
    String change(
            @PathVariable UUID id, @Valid @ModelAttribute("form") PersonForm form, BindingResult errors, Model model) {
        return Forms.submit(errors, () -> save(id, form), () -> person(id, model));
    }

    /** Makes a link that signs the person's phone in for a few days; shown on the next page, and never again. */
    @PostMapping("/{id}/day-link")
    @Needs(Role.LEAD)
    String dayLink(
            @PathVariable UUID id,
            @Valid @ModelAttribute("linkForm") LinkForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes flash,
            HttpServletRequest request) {
        return Forms.submit(
                errors,
                () -> {
                    Guests.Link link = crew.dayLink(id, form.days());
                    String base = request.getRequestURL().toString().replaceFirst("/v/.*$", "");
                    flash.addFlashAttribute("link", base + "/day/" + link.secret());
                    return "redirect:" + Paths.to("/work/people/" + id);
                },
                () -> person(id, model));
    }

    @PostMapping("/{id}/day-link/end")
    @Needs(Role.LEAD)
    String endLink(@PathVariable UUID id) {
        crew.endLink(id);
        return "redirect:" + Paths.to("/work/people/" + id + "?saved");
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable UUID id, @RequestParam int version) {
        crew.withdraw(id, version);
        return "redirect:" + Paths.to("/work/people?saved");
    }

    private Map<UUID, String> accounts() {
        Map<UUID, String> names = members.names();
        List<Member> all = members.list();
        Map<UUID, String> accounts = new LinkedHashMap<>();
        for (Member m : all) {
            if (m.role().includes(Role.HELPER)) {
                String name = names.getOrDefault(m.accountId(), m.name());
                boolean alone = all.stream()
                                .filter(o -> o.name().equalsIgnoreCase(m.name()))
                                .count()
                        == 1;
                accounts.put(m.accountId(), alone ? name : name + " · " + m.email());
            }
        }
        return accounts;
    }
}
