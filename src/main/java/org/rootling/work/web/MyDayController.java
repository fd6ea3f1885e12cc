package org.rootling.work.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.DaySheets;
import org.rootling.work.domain.EntryPhotos;
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
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A helper's day on a phone: my tasks, a row, what I did there. */
@Controller
@RequestMapping("/v/{vineyard}/my-day")
class MyDayController {
    private static final List<String> FINDINGS =
            List.of("dead", "missing", "broken", "no-root", "wrong-variety", "hole-too-wet");

    /** What was done on a row. */
    record LogForm(
            @NotNull UUID entry,
            @Nullable @Size(max = 1000) String places,
            @Nullable @Size(max = 1000) String but,
            @Nullable @Size(max = 200) List<@Nullable @Min(1) @Max(100_000) Integer> foundPlace,
            @Nullable @Size(max = 200) List<@Size(max = 20) String> foundWhat,
            @Nullable @Min(0) @Max(1440) Integer minutes,
            @NotNull @SaneDate LocalDate on,
            @Nullable @Size(max = 500) String note,
            @Nullable UUID person,
            @Nullable MultipartFile photo) {}

    private final EntryPhotos photos;
    private final CrewService crew;
    private final DaySheets sheets;
    private final Tasks tasks;
    private final Steps steps;
    private final FieldLog log;
    private final Members members;
    private final Vineyards vineyards;
    private final CurrentMember current;

    MyDayController(
            Tasks tasks,
            Steps steps,
            FieldLog log,
            EntryPhotos photos,
            CrewService crew,
            DaySheets sheets,
            Members members,
            Vineyards vineyards,
            CurrentMember current) {
        this.photos = photos;
        this.crew = crew;
        this.sheets = sheets;
        this.tasks = tasks;
        this.steps = steps;
        this.log = log;
        this.members = members;
        this.vineyards = vineyards;
        this.current = current;
    }

    @GetMapping
    @Needs(Role.HELPER)
    String day(Model model) {
        LocalDate today = vineyards.today();
        model.addAttribute("plan", timed(sheets.of(current.accountId(), today, 1)));
        List<Task> mine = tasks.forHelper(current.accountId(), today);
        List<Task> now = mine.stream()
                .filter(t -> t.due() != null && !t.due().isAfter(today))
                .toList();
        model.addAttribute("now", now);
        model.addAttribute("next", mine.stream().filter(t -> !now.contains(t)).toList());
        model.addAttribute(
                "free",
                tasks.open().stream()
                        .filter(t -> t.people().isEmpty())
                        .limit(30)
                        .toList());
        model.addAttribute("logs", LogLine.of(log.ofPerson(current.accountId(), today), photos));
        return "work/my-day";
    }

    /** What is merely due stands among the tasks anyway. */
    private static List<DaySheets.Item> timed(List<DaySheets.Sheet> sheets) {
        return sheets.stream()
                .flatMap(s -> s.items().stream())
                .filter(i -> !i.from().isEmpty())
                .toList();
    }

    @GetMapping("/{id}")
    @Needs(Role.HELPER)
    String row(@PathVariable UUID id, Model model) {
        Task task = tasks.byId(id).orElseThrow(() -> new NotFound("task"));
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form",
                    new LogForm(
                            UUID.randomUUID(),
                            PlaceRun.shorten(task.left()),
                            null,
                            List.of(),
                            List.of(),
                            null,
                            vineyards.today(),
                            null,
                            null,
                            null));
        }
        model.addAttribute("task", task);
        model.addAttribute("strip", Strip.of(task));
        model.addAttribute("left", PlaceRun.shorten(task.left()));
        model.addAttribute("every", PlaceRun.shorten(task.places()));
        model.addAttribute("findings", FINDINGS);
        model.addAttribute(
                "caution", steps.byCode(task.step()).map(Step::caution).orElse(null));
        model.addAttribute("logs", LogLine.of(log.ofTask(id), photos));
        model.addAttribute("names", members.names());
        model.addAttribute("self", current.accountId());
        model.addAttribute("nextRow", nextRow(task).orElse(null));
        Map<UUID, String> helpers = new LinkedHashMap<>();
        if (current.may(Role.LEAD)) {
            crew.onPaper().forEach(p -> helpers.put(p.id(), p.shown()));
        }
        model.addAttribute("helpers", helpers);
        return "work/row";
    }

    /** The next row of the same step, among those given to me or to nobody. */
    private Optional<Task> nextRow(Task task) {
        UUID self = current.accountId();
        List<Task> same = tasks.open().stream()
                .filter(t -> t.step().equals(task.step()) && !t.id().equals(task.id()))
                .filter(t -> t.people().isEmpty() || t.people().contains(self))
                .sorted(Comparator.comparing(Task::blockCode).thenComparingInt(Task::rowNumber))
                .toList();
        return same.stream()
                .filter(t -> t.blockCode().equals(task.blockCode()) && t.rowNumber() > task.rowNumber())
                .findFirst()
                .or(() -> same.stream().findFirst());
    }

    @PostMapping("/{id}/log")
    @Needs(Role.HELPER)
    String log(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") LogForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes flash) {
        Task task = tasks.byId(id).orElseThrow(() -> new NotFound("task"));
        return Forms.submit(
                errors,
                () -> {
                    FieldLog.Entry entry = entry(task, form);
                    MultipartFile photo = form.photo();
                    if (photo == null || photo.isEmpty()) {
                        log.take(entry, current.accountId());
                    } else {
                        photos.take(entry, photo, current.accountId());
                    }
                    flash.addFlashAttribute("logged", form.entry());
                    return "redirect:" + Paths.to("/my-day/" + id);
                },
                () -> row(id, model));
    }

    /** What the schedule and the lead give me in the next days; kept on the phone, or printed. */
    @GetMapping("/sheet")
    @Needs(Role.HELPER)
    String sheet(Model model) {
        model.addAttribute("days", sheets.of(current.accountId(), vineyards.today(), 7));
        return "work/my-sheet";
    }

    private FieldLog.Entry entry(Task task, LogForm form) {
        String places = form.places() == null ? "" : form.places().strip();
        List<Found> found = found(form);
        // No places but something found: all places are left out again, the finding stays.
        boolean foundOnly = places.isEmpty() && !found.isEmpty();
        if (places.isEmpty() && !foundOnly) {
            throw new Refused("work.log.nothing").at("places");
        }
        String all = PlaceRun.shorten(task.places());
        String run = task.row() + " " + (foundOnly ? all : places);
        String but = foundOnly ? all : form.but();
        return new FieldLog.Entry(
                form.entry(),
                task.id(),
                run,
                but,
                found,
                form.minutes(),
                vineyards.during(form.on()),
                form.note(),
                form.person());
    }

    private static List<Found> found(LogForm form) {
        List<Found> found = new ArrayList<>();
        List<Integer> places = form.foundPlace() == null ? List.of() : form.foundPlace();
        List<String> whats = form.foundWhat() == null ? List.of() : form.foundWhat();
        for (int i = 0; i < Math.min(places.size(), whats.size()); i++) {
            Integer place = places.get(i);
            if (place != null && !whats.get(i).isBlank()) {
                found.add(new Found(place, whats.get(i)));
            }
        }
        return found;
    }

    @PostMapping("/logs/{logId}/undo")
    @Needs(Role.HELPER)
    String undo(
            @PathVariable UUID logId,
            @RequestParam(required = false) @Nullable String reason,
            @RequestParam(required = false) @Nullable String to) {
        FieldLog.Logged logged = log.byId(logId).orElseThrow(() -> new NotFound("log"));
        log.undo(logId, current.accountId(), reason);
        return "redirect:" + Paths.to(("task".equals(to) ? "/work/tasks/" : "/my-day/") + logged.taskId() + "?undone");
    }
}
