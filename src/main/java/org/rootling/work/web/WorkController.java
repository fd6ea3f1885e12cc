package org.rootling.work.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.PlaceRun;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.CurrentMember;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.work.FieldLog;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.domain.ConflictService;
import org.rootling.work.domain.EntryPhotos;
import org.rootling.work.domain.TaskPlanner;
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

/** The board of open tasks, planning, and one task. */
@Controller
@RequestMapping("/v/{vineyard}/work")
class WorkController {
    private static final int SHOWN = 300;

    /** Steps planned on rows. */
    record PlanForm(
            @Nullable @Size(max = 40) List<@Size(max = 30) String> steps,
            @NotBlank @Size(max = 20) String block,
            @NotBlank @Size(max = 1000) String rows,
            @Nullable @Size(max = 1000) String places,
            @Nullable UUID lot,
            @Nullable @SaneDate LocalDate due,
            @Nullable @Size(max = 100) List<UUID> people,
            @Nullable @Size(max = 500) String note) {}

    /** A task as changed. */
    record TaskForm(
            @Nullable @SaneDate LocalDate due,
            @Nullable @Size(max = 100) List<UUID> people,
            @Nullable @Size(max = 500) String note,
            int version) {}

    private final Tasks tasks;
    private final Steps steps;
    private final TaskPlanner planner;
    private final FieldLog log;
    private final EntryPhotos photos;
    private final ConflictService conflicts;
    private final Ground ground;
    private final Lots lots;
    private final Members members;
    private final Vineyards vineyards;
    private final CurrentMember current;

    WorkController(
            Tasks tasks,
            Steps steps,
            TaskPlanner planner,
            FieldLog log,
            EntryPhotos photos,
            ConflictService conflicts,
            Ground ground,
            Lots lots,
            Members members,
            Vineyards vineyards,
            CurrentMember current) {
        this.tasks = tasks;
        this.steps = steps;
        this.planner = planner;
        this.log = log;
        this.photos = photos;
        this.conflicts = conflicts;
        this.ground = ground;
        this.lots = lots;
        this.members = members;
        this.vineyards = vineyards;
        this.current = current;
    }

    /** Open tasks that belong together on the board. */
    record Pile(String key, List<Task> tasks) {}

    @GetMapping
    @Needs(Role.READER)
    String board(
            @RequestParam(required = false) @Nullable String step,
            @RequestParam(required = false) @Nullable String block,
            @RequestParam(required = false) @Nullable UUID person,
            Model model) {
        LocalDate today = vineyards.today();
        List<Task> open = tasks.open().stream()
                .filter(t -> step == null || step.isEmpty() || t.step().equals(step))
                .filter(t -> block == null || block.isEmpty() || t.blockCode().equals(block))
                .filter(t -> person == null || t.people().contains(person))
                .toList();
        Map<UUID, String> names = members.names();
        Listing<Task> list = Listing.of("tasks", open)
                .by("work.board.step", t -> t.stepName())
                .by("work.board.row", t -> t.row())
                .by("work.board.done", t -> t.done())
                .by("work.board.due", t -> t.due())
                .by(
                        "work.board.people",
                        t -> t.people().stream()
                                .map(p -> names.getOrDefault(p, "?"))
                                .collect(Collectors.joining(", ")))
                .pagesOf(SHOWN);
        List<Task> shown = list.shown();
        model.addAttribute("tasks", list);
        model.addAttribute(
                "piles",
                List.of(
                                new Pile(
                                        "late",
                                        shown.stream()
                                                .filter(t -> t.lateOn(today))
                                                .toList()),
                                new Pile(
                                        "week",
                                        shown.stream()
                                                .filter(t -> within(t, today, today.plusDays(6)))
                                                .toList()),
                                new Pile(
                                        "later",
                                        shown.stream()
                                                .filter(t -> t.due() != null
                                                        && t.due().isAfter(today.plusDays(6)))
                                                .toList()),
                                new Pile(
                                        "undated",
                                        shown.stream()
                                                .filter(t -> t.due() == null)
                                                .toList()))
                        .stream()
                        .filter(p -> !p.tasks().isEmpty())
                        .toList());
        model.addAttribute("filtered", step != null || block != null || person != null);
        model.addAttribute("names", names);
        model.addAttribute("step", step);
        model.addAttribute("block", block);
        model.addAttribute("person", person);
        model.addAttribute("stepChoices", stepChoices());
        model.addAttribute("blockChoices", blockChoices());
        model.addAttribute("peopleChoices", peopleChoices());
        model.addAttribute("conflictCount", current.may(Role.LEAD) ? conflicts.count() : 0);
        return "work/board";
    }

    private static boolean within(Task t, LocalDate from, LocalDate to) {
        return t.due() != null && !t.due().isBefore(from) && !t.due().isAfter(to);
    }

    @GetMapping("/plan")
    @Needs(Role.LEAD)
    String planning(@RequestParam(required = false) @Nullable String block, Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form", new PlanForm(List.of(), block == null ? "" : block, "", null, null, null, List.of(), null));
        }
        List<Step> all = steps.all().stream().filter(s -> !s.withdrawn()).toList();
        model.addAttribute("allSteps", all);
        model.addAttribute("blockChoices", blockChoices());
        Map<UUID, String> lotChoices = new LinkedHashMap<>();
        for (Lot lot : lots.all()) {
            if (lot.balance() > 0) {
                lotChoices.put(lot.id(), lot.code() + " · " + lot.variety() + " · " + lot.balance());
            }
        }
        model.addAttribute("lotChoices", lotChoices);
        model.addAttribute("peopleChoices", peopleChoices());
        return "work/plan";
    }

    @PostMapping("/plan")
    @Needs(Role.LEAD)
    String plan(
            @Valid @ModelAttribute("form") PlanForm form, BindingResult errors, Model model, RedirectAttributes flash) {
        return Forms.submit(
                errors,
                () -> {
                    TaskPlanner.Made made = planner.plan(new TaskPlanner.Plan(
                            form.steps() == null ? List.of() : form.steps(),
                            form.block(),
                            form.rows(),
                            form.places(),
                            form.lot(),
                            form.due(),
                            form.people() == null ? List.of() : form.people(),
                            form.note()));
                    flash.addFlashAttribute("made", made.made());
                    flash.addFlashAttribute("there", made.there());
                    return "redirect:" + Paths.to("/work");
                },
                () -> planning(null, model));
    }

    @GetMapping("/tasks/{id}")
    @Needs(Role.READER)
    String task(@PathVariable UUID id, Model model) {
        Task task = tasks.byId(id).orElseThrow(() -> new NotFound("task"));
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new TaskForm(task.due(), task.people(), task.note(), task.version()));
        }
        model.addAttribute("task", task);
        model.addAttribute("left", PlaceRun.shorten(task.left()));
        model.addAttribute("all", PlaceRun.shorten(task.places()));
        model.addAttribute("logs", LogLine.of(log.ofTask(id), photos));
        model.addAttribute("names", members.names());
        model.addAttribute("peopleChoices", peopleChoices());
        model.addAttribute("self", current.accountId());
        model.addAttribute("strip", Strip.of(task));
        model.addAttribute(
                "caution", steps.byCode(task.step()).map(Step::caution).orElse(null));
        return "work/task";
    }

    @PostMapping("/tasks/{id}")
    @Needs(Role.LEAD)
    String change(
            @PathVariable UUID id, @Valid @ModelAttribute("form") TaskForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    tasks.change(
                            id,
                            form.people() == null ? List.of() : form.people(),
                            form.due(),
                            form.note(),
                            form.version());
                    return back(id);
                },
                () -> task(id, model));
    }

    @PostMapping("/tasks/{id}/close")
    @Needs(Role.LEAD)
    String close(@PathVariable UUID id, @RequestParam int version) {
        tasks.close(id, version);
        return back(id);
    }

    @PostMapping("/tasks/{id}/drop")
    @Needs(Role.LEAD)
    String drop(@PathVariable UUID id, @RequestParam int version) {
        tasks.drop(id, version);
        return back(id);
    }

    @PostMapping("/tasks/{id}/reopen")
    @Needs(Role.LEAD)
    String reopen(@PathVariable UUID id, @RequestParam int version) {
        tasks.reopen(id, version);
        return back(id);
    }

    private static String back(UUID id) {
        return "redirect:" + Paths.to("/work/tasks/" + id + "?saved");
    }

    private Map<String, String> stepChoices() {
        Map<String, String> choices = new LinkedHashMap<>();
        steps.all().forEach(s -> choices.put(s.code(), s.name()));
        return choices;
    }

    private Map<String, String> blockChoices() {
        Map<String, String> choices = new LinkedHashMap<>();
        for (Block b : ground.blocks()) {
            choices.put(b.code(), b.code() + " · " + b.name() + " · 1-" + b.rows());
        }
        return choices;
    }

    private Map<UUID, String> peopleChoices() {
        Map<UUID, String> names = members.names();
        Map<UUID, String> choices = new LinkedHashMap<>();
        for (Member m : members.list()) {
            if (m.role().includes(Role.HELPER)) {
                choices.put(m.accountId(), names.getOrDefault(m.accountId(), m.name()));
            }
        }
        return choices;
    }
}
