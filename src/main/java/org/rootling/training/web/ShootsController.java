package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.Vine;
import org.rootling.planting.Vines;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.platform.UnitText;
import org.rootling.training.domain.Shoots;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Walking a row vine by vine with two taps each: shoots, then height. */
@Controller
@RequestMapping("/v/{vineyard}/rows/{id}/shoots")
class ShootsController {

    /** Vines on one screen of a phone. */
    static final int PAGE = 20;

    private static final List<Integer> SHOOTS = List.of(0, 1, 2, 3, 4);

    /** In cm, and in inches for those who think in them; what lies between is the nearest. */
    private static final List<Integer> CENTIMETRES = List.of(5, 10, 20, 30, 40, 60, 80, 100, 130);

    private static final List<Integer> INCHES = List.of(2, 4, 8, 12, 16, 24, 32, 40, 52);

    /** A height to tap: what is sent is cm, whatever is shown, so that a phone may keep it. */
    record Height(int cm, int shown) {}

    /** Taps by place. */
    record ShootsForm(
            @Nullable @Size(max = PAGE) Map<Integer, Integer> shoots,
            @Nullable @Size(max = PAGE) Map<Integer, Integer> height,
            @Nullable @Size(max = PAGE) Map<Integer, Boolean> chosen,
            @NotNull @SaneDate LocalDate on) {}

    private final Ground ground;
    private final Vines vines;
    private final Shoots shoots;
    private final CurrentMember current;
    private final Vineyards vineyards;
    private final RowWalks walks;

    ShootsController(
            Ground ground, Vines vines, Shoots shoots, CurrentMember current, Vineyards vineyards, RowWalks walks) {
        this.ground = ground;
        this.vines = vines;
        this.shoots = shoots;
        this.current = current;
        this.vineyards = vineyards;
        this.walks = walks;
    }

    @GetMapping
    @Needs(Role.HELPER)
    String show(@PathVariable UUID id, @RequestParam(defaultValue = "1") int part, Model model) {
        Row row = row(id);
        List<Vine> living =
                vines.inRow(id).stream().filter(v -> v.state().alive()).toList();
        int parts = parts(living.size());
        int shown = Math.max(1, Math.min(parts, part));
        model.addAttribute("row", row);
        model.addAttribute("vines", living.subList((shown - 1) * PAGE, Math.min(living.size(), shown * PAGE)));
        model.addAttribute("latest", shoots.latest(id));
        model.addAttribute("part", shown);
        model.addAttribute("parts", parts);
        model.addAttribute("shootChoices", SHOOTS);
        model.addAttribute("heightChoices", heights());
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new ShootsForm(Map.of(), Map.of(), Map.of(), vineyards.today()));
        }
        return "training/shoots";
    }

    @PostMapping
    @Needs(Role.HELPER)
    String record(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "1") int part,
            @Valid @ModelAttribute("form") ShootsForm form,
            BindingResult errors,
            Model model) {
        Row row = row(id);
        return Forms.submit(
                errors,
                () -> {
                    walks.shoots(row, form, current.accountId());
                    return "redirect:" + Paths.to("/rows/" + id + "/shoots?saved&part=" + (part + 1));
                },
                () -> show(id, part, model));
    }

    private static List<Height> heights() {
        return UnitText.us()
                ? INCHES.stream()
                        .map(in -> new Height((int) Math.round(in * UnitText.CENTIMETRES_PER_INCH), in))
                        .toList()
                : CENTIMETRES.stream().map(cm -> new Height(cm, cm)).toList();
    }

    /** How many pages the living vines of a row take. */
    static int parts(int living) {
        return Math.max(1, (living + PAGE - 1) / PAGE);
    }

    private Row row(UUID id) {
        return ground.row(id).orElseThrow(() -> new NotFound("row"));
    }
}
