package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lots;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.Vine;
import org.rootling.planting.VineEvent;
import org.rootling.planting.VineMark;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Pictures;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.platform.UnitText;
import org.rootling.training.CareTick;
import org.rootling.training.ShootCount;
import org.rootling.training.Stage;
import org.rootling.training.YearOne;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.Heights;
import org.rootling.training.domain.Checklist;
import org.rootling.training.domain.Looks;
import org.rootling.training.domain.Shoots;
import org.rootling.training.domain.StageWords;
import org.rootling.training.domain.Stages;
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

/** A vine's own page: where it came from, and everything seen of it since. */
@Controller
@RequestMapping("/v/{vineyard}/vines/{id}")
class VineController {

    /** One look; what is empty was not looked at. */
    record LookForm(
            @Nullable VineState state,
            @Min(0) @Max(Shoots.MOST_SHOOTS) @Nullable Integer shoots,
            @Size(max = 20) @Nullable String height,
            @Nullable Boolean chosen,
            @Size(max = 10) @Nullable String stage,
            @NotNull @SaneDate LocalDate on,
            @Size(max = 2000) @Nullable String note) {}

    /**
     * A line of the story.
     *
     * @param key message that says what happened
     * @param word what it was seen as, done or measured; already in words
     */
    record StoryLine(
            LocalDate on,
            String key,
            @Nullable String word,
            @Nullable String note,
            @Nullable UUID picture,
            @Nullable UUID by) {}

    private final Vines vines;
    private final Ground ground;
    private final Lots lots;
    private final YearOne yearOne;
    private final Checklist checklist;
    private final CareNames careNames;
    private final Shoots shoots;
    private final Stages stages;
    private final StageWords stageWords;
    private final Looks looks;
    private final Pictures pictures;
    private final ShootWords shootWords;
    private final UnitText units;
    private final Members members;
    private final CurrentMember current;
    private final Vineyards vineyards;

    VineController(
            Vines vines,
            Ground ground,
            Lots lots,
            YearOne yearOne,
            Checklist checklist,
            CareNames careNames,
            Shoots shoots,
            Stages stages,
            StageWords stageWords,
            Looks looks,
            Pictures pictures,
            ShootWords shootWords,
            UnitText units,
            Members members,
            CurrentMember current,
            Vineyards vineyards) {
        this.vines = vines;
        this.ground = ground;
        this.lots = lots;
        this.yearOne = yearOne;
        this.checklist = checklist;
        this.careNames = careNames;
        this.shoots = shoots;
        this.stages = stages;
        this.stageWords = stageWords;
        this.looks = looks;
        this.pictures = pictures;
        this.shootWords = shootWords;
        this.units = units;
        this.members = members;
        this.current = current;
        this.vineyards = vineyards;
    }

    @GetMapping
    @Needs(Role.READER)
    String show(@PathVariable UUID id, Model model) {
        Vine vine = vines.byId(id).orElseThrow(() -> new NotFound("vine"));
        Row row = ground.row(vine.rowId()).orElseThrow(() -> new NotFound("row"));
        model.addAttribute("vine", vine);
        model.addAttribute("row", row);
        model.addAttribute("lot", lots.byId(vine.lotId()).orElseThrow(() -> new NotFound("lot")));
        model.addAttribute("mark", VineMark.of(vine.state()));
        model.addAttribute("names", members.names());
        model.addAttribute("story", story(vine));
        model.addAttribute(
                "others",
                vines.formerly(vine.rowId(), vine.place()).stream()
                        .filter(other -> !other.id().equals(id))
                        .toList());
        if (!vine.present()) {
            vines.at(vine.rowId(), vine.place()).ifPresent(now -> model.addAttribute("successor", now));
        }
        model.addAttribute("shoots", shoots.ofVine(id).stream().findFirst().orElse(null));
        model.addAttribute("stages", stageWords.all());
        model.addAttribute("states", VineState.SEEN);
        if (!model.containsAttribute("look")) {
            model.addAttribute("look", new LookForm(null, null, "", false, "", vineyards.today(), ""));
        }
        return "training/vine";
    }

    private List<StoryLine> story(Vine vine) {
        List<StoryLine> lines = new ArrayList<>();
        for (VineEvent event : vines.history(vine.id())) {
            VineState state = event.state();
            lines.add(new StoryLine(
                    event.when(),
                    state == null ? "training.story." + event.kind().key() : "planting.state." + state.key(),
                    null,
                    event.note(),
                    event.picture(),
                    event.by()));
        }
        for (ShootCount count : shoots.ofVine(vine.id())) {
            lines.add(new StoryLine(count.on(), "training.story.shoots", shootWords.of(count), null, null, count.by()));
            if (count.chosen()) {
                lines.add(new StoryLine(count.on(), "training.story.chosen", null, null, null, count.by()));
            }
        }
        for (Stage stage : stages.ofVine(vine.id())) {
            lines.add(new StoryLine(
                    stage.on(), "training.story.stage", stageWords.of(stage.stage()), stage.note(), null, stage.by()));
        }
        Map<UUID, String> items = careNames.of(checklist.items());
        for (CareTick tick : yearOne.ticks(vine.rowId())) {
            LocalDate ended = vine.endedOn();
            boolean his = tick.places().contains(vine.place())
                    && !tick.on().isBefore(vine.plantedOn())
                    && (ended == null || !tick.on().isAfter(ended));
            String name = items.get(tick.itemId());
            if (his && name != null) {
                lines.add(new StoryLine(tick.on(), "training.story.tick", name, tick.note(), null, tick.by()));
            }
        }
        lines.sort(Comparator.comparing(StoryLine::on));
        return lines;
    }

    @PostMapping("/looks")
    @Needs(Role.HELPER)
    String look(
            @PathVariable UUID id,
            @Valid @ModelAttribute("look") LookForm form,
            BindingResult errors,
            @RequestParam(required = false) @Nullable MultipartFile photo,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    looks.record(
                            id,
                            form.state(),
                            new Shoots.Seen(form.shoots(), heightCm(form.height()), Boolean.TRUE.equals(form.chosen())),
                            stage(form.stage()),
                            form.on(),
                            form.note(),
                            photo(photo),
                            current.accountId());
                    return "redirect:" + Paths.to("/vines/" + id + "?saved");
                },
                () -> show(id, model));
    }

    /** Keeps the photo of a look; a paper is no photo. */
    private @Nullable UUID photo(@Nullable MultipartFile file) {
        UUID picture = pictures.keepIfGiven(file);
        if (picture != null && pictures.findSmall(picture).isEmpty()) {
            throw new Refused("training.look.photo-only");
        }
        return picture;
    }

    private @Nullable Integer heightCm(@Nullable String text) {
        if (text == null || text.isBlank()) {
            return null;
        }
        OptionalInt cm = Heights.parseCm(text, UnitText.us());
        if (cm.isEmpty()) {
            throw new Refused("training.shoots.height-unclear", text, units.heightUnit()).at("height");
        }
        if (cm.getAsInt() > Shoots.TALLEST_CM) {
            throw new Refused("training.shoots.taller", units.height(Shoots.TALLEST_CM, 0)).at("height");
        }
        return cm.getAsInt();
    }

    private static @Nullable Bbch stage(@Nullable String text) {
        if (text == null || text.isBlank()) {
            return null;
        }
        return Bbch.parse(text).orElseThrow(() -> new Refused("training.stage.unknown", text).at("stage"));
    }
}
