package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.RowTally;
import org.rootling.planting.VineMark;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.training.BlockYear;
import org.rootling.training.CareLine;
import org.rootling.training.YearOne;
import org.rootling.training.calc.Bbch;
import org.rootling.training.domain.Cautions;
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

/** The first year: all blocks, and one block's checklist, rows and stages. */
@Controller
@RequestMapping("/v/{vineyard}/year-one")
class YearOneController {

    /** Rows shown at a time. */
    private static final int PAGE = 60;

    /** Items done on runs of places, one run a line. */
    record TickForm(
            @Nullable @Size(max = 200) List<UUID> items,
            @NotBlank @Size(max = 8000) @Nullable String runs,
            @NotNull @SaneDate LocalDate on,
            @Size(max = 2000) @Nullable String note) {}

    /** A growth stage seen in the block. */
    record StageForm(
            @NotBlank @Size(max = 10) @Nullable String stage,
            @NotNull @SaneDate LocalDate seenOn,
            @Size(max = 2000) @Nullable String stageNote) {}

    private final YearOne yearOne;
    private final Ground ground;
    private final Vines vines;
    private final Stages stages;
    private final StageWords stageWords;
    private final Cautions cautions;
    private final Members members;
    private final CurrentMember current;
    private final Vineyards vineyards;
    private final RunText runs;

    YearOneController(
            YearOne yearOne,
            Ground ground,
            Vines vines,
            Stages stages,
            StageWords stageWords,
            Cautions cautions,
            Members members,
            CurrentMember current,
            Vineyards vineyards,
            RunText runs) {
        this.yearOne = yearOne;
        this.ground = ground;
        this.vines = vines;
        this.stages = stages;
        this.stageWords = stageWords;
        this.cautions = cautions;
        this.members = members;
        this.current = current;
        this.vineyards = vineyards;
        this.runs = runs;
    }

    @GetMapping
    @Needs(Role.READER)
    String overview(Model model) {
        List<BlockYear> years = yearOne.blocks();
        model.addAttribute("years", years);
        model.addAttribute("standings", List.of(CareLine.Standing.LATE, CareLine.Standing.DUE));
        model.addAttribute("legend", VineMark.legend());
        return "training/year-one";
    }

    @GetMapping("/{code}")
    @Needs(Role.READER)
    String block(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        model.addAttribute("block", block);
        model.addAttribute("year", yearOne.block(block.id()).orElse(null));
        Map<UUID, Integer> open = yearOne.openByRow(block.id());
        Listing<RowTally> rows = Listing.of("rows", vines.tallies(block.id()))
                .pagesOf(PAGE)
                .on(Paths.to("/year-one/" + code))
                .by("training.block.row", r -> r.number());
        for (VineState state : VineState.values()) {
            rows.by("planting.state." + state.key(), r -> r.tally().of(state));
        }
        model.addAttribute(
                "rows",
                rows.by("training.block.empty-places", r -> r.empty())
                        .by("training.block.open-items", r -> open.get(r.rowId())));
        model.addAttribute("open", open);
        model.addAttribute("standings", CareLine.Standing.values());
        model.addAttribute("recorded", stages.recorded(block.id()));
        model.addAttribute("estimate", stages.estimate(block.id()).orElse(null));
        model.addAttribute("stageWords", stageWords.all());
        model.addAttribute("cautions", cautions.all());
        model.addAttribute("names", members.names());
        LocalDate today = vineyards.today();
        if (!model.containsAttribute("tick")) {
            model.addAttribute("tick", new TickForm(List.of(), "", today, ""));
        }
        if (!model.containsAttribute("stageForm")) {
            model.addAttribute("stageForm", new StageForm("", today, ""));
        }
        return "training/block-year";
    }

    @PostMapping("/{code}/ticks")
    @Needs(Role.HELPER)
    String tick(
            @PathVariable String code,
            @Valid @ModelAttribute("tick") TickForm form,
            BindingResult errors,
            Model model) {
        ground.requireBlock(code);
        return Forms.submit(
                errors,
                () -> {
                    List<UUID> items = form.items() == null ? List.of() : form.items();
                    try {
                        yearOne.tick(
                                new HashSet<>(items),
                                runs.runs(code, form.runs(), "runs"),
                                form.on(),
                                form.note(),
                                current.accountId(),
                                null);
                    } catch (Refused refused) {
                        throw "places".equals(refused.field()) ? refused.at("runs") : refused;
                    }
                    return "redirect:" + Paths.to("/year-one/" + code + "?saved");
                },
                () -> block(code, model));
    }

    @PostMapping("/{code}/stages")
    @Needs(Role.HELPER)
    String stage(
            @PathVariable String code,
            @Valid @ModelAttribute("stageForm") StageForm form,
            BindingResult errors,
            Model model) {
        Block block = ground.requireBlock(code);
        return Forms.submit(
                errors,
                () -> {
                    String text = form.stage() == null ? "" : form.stage();
                    Bbch stage =
                            Bbch.parse(text).orElseThrow(() -> new Refused("training.stage.unknown", text).at("stage"));
                    try {
                        stages.record(block.id(), stage, form.seenOn(), form.stageNote(), current.accountId());
                    } catch (Refused refused) {
                        throw "on".equals(refused.field()) ? refused.at("seenOn") : refused;
                    }
                    return "redirect:" + Paths.to("/year-one/" + code + "?saved#stages");
                },
                () -> block(code, model));
    }

    @PostMapping("/{code}/stages/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdrawStage(@PathVariable String code, @PathVariable UUID id) {
        stages.withdraw(id, current.accountId());
        return "redirect:" + Paths.to("/year-one/" + code + "?saved#stages");
    }
}
