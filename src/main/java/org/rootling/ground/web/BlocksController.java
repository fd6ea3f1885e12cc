package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.BlockPlan;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.calc.Field;
import org.rootling.ground.domain.Boundary;
import org.rootling.ground.domain.GroundService;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The blocks: list, new block, a block's own page, what is kept free in it. */
@Controller
@RequestMapping("/v/{vineyard}/blocks")
class BlocksController {

    /** A block from corners in metres. */
    record BlockForm(
            @NotBlank @Size(max = 12) @Nullable String code,
            @NotBlank @Size(max = 80) @Nullable String name,
            @NotBlank @Size(max = 100_000) @Nullable String boundary) {}

    /** A patch to keep free. */
    record ExclusionForm(
            @NotBlank @Size(max = 80) @Nullable String name,
            @NotBlank @Size(max = 20_000) @Nullable String exclusions) {}

    /** A boundary measured anew. */
    record BoundaryForm(
            @NotBlank @Size(max = 100_000) @Nullable String boundary,
            @NotNull Integer version) {}

    private final GroundService ground;
    private final BlockPlan plan;
    private final Members members;
    private final MessageSource messages;

    BlocksController(GroundService ground, BlockPlan plan, Members members, MessageSource messages) {
        this.ground = ground;
        this.plan = plan;
        this.members = members;
        this.messages = messages;
    }

    @GetMapping
    @Needs(Role.READER)
    String list(Model model) {
        List<Block> blocks = ground.blocks();
        model.addAttribute(
                "blocks",
                Listing.of("blocks", blocks)
                        .by("ground.list.code", b -> b.code())
                        .by("ground.list.name", b -> b.name())
                        .by(
                                "ground.list.area-in",
                                Measure.SQUARE_METRE.unit(),
                                b -> Measure.SQUARE_METRE.shown(b.areaM2(), 0))
                        .by("ground.block.rows", b -> b.rows())
                        .by("ground.block.places", b -> b.places()));
        model.addAttribute("places", blocks.stream().mapToInt(Block::places).sum());
        model.addAttribute("area", blocks.stream().mapToDouble(Block::areaM2).sum());
        return "ground/blocks";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String blank(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new BlockForm("", "", "0 0\n60 0\n60 40\n0 40"));
        }
        return "ground/new";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String add(@Valid @ModelAttribute("form") BlockForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors,
                () -> {
                    Field field = Field.of(CornersText.read(text(form.boundary()), "boundary"), List.of());
                    Block block = ground.add(text(form.code()), text(form.name()), Boundary.typed(field), kept(locale));
                    return "redirect:" + Paths.to("/blocks/" + block.code());
                },
                () -> blank(model));
    }

    private String kept(Locale locale) {
        return Objects.requireNonNull(messages.getMessage("ground.plan.exclusion", null, locale));
    }

    @GetMapping("/{code}")
    @Needs(Role.READER)
    String show(@PathVariable String code, Model model) {
        GroundService.Sheet sheet = ground.sheet(code);
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new ExclusionForm("", ""));
        }
        model.addAttribute("sheet", sheet);
        model.addAttribute("block", sheet.block());
        model.addAttribute(
                "rows",
                Listing.of("rows", ground.rows(sheet.block().id()))
                        .on(Paths.to("/blocks/" + code))
                        .by("ground.rows.row", r -> r.number())
                        .by("ground.block.places", r -> r.places())
                        .by("ground.rows.length-in", Measure.METRE.unit(), r -> Measure.METRE.shown(r.lengthM(), 2))
                        .by("ground.rows.stretches", r -> r.stretches().size()));
        model.addAttribute("plan", plan.svg(sheet.block().id(), PlanMarks.bare()));
        model.addAttribute("boundaries", ground.boundaries(sheet.block().id()));
        model.addAttribute("names", members.names());
        model.addAttribute("sides", Sides.of(sheet.field().boundary()));
        Refused reason = ground.guarded(sheet.block().id()).orElse(null);
        model.addAttribute(
                "guard",
                reason == null
                        ? null
                        : messages.getMessage(reason.key(), reason.args(), LocaleContextHolder.getLocale()));
        return "ground/block";
    }

    @PostMapping("/{code}/exclusions")
    @Needs(Role.LEAD)
    String exclude(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ExclusionForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    ground.exclude(code, text(form.name()), CornersText.read(text(form.exclusions()), "exclusions"));
                    return "redirect:" + Paths.to("/blocks/" + code);
                },
                () -> show(code, model));
    }

    @PostMapping("/{code}/exclusions/{id}/withdraw")
    @Needs(Role.LEAD)
    String include(@PathVariable String code, @PathVariable UUID id) {
        ground.include(code, id);
        return "redirect:" + Paths.to("/blocks/" + code);
    }

    @GetMapping("/{code}/boundary")
    @Needs(Role.LEAD)
    String boundary(@PathVariable String code, Model model) {
        GroundService.Sheet sheet = ground.sheet(code);
        if (!model.containsAttribute("form")) {
            model.addAttribute(
                    "form",
                    new BoundaryForm(
                            CornersText.write(sheet.measured().boundary()),
                            sheet.block().version()));
        }
        model.addAttribute("block", sheet.block());
        return "ground/boundary";
    }

    @PostMapping("/{code}/boundary")
    @Needs(Role.LEAD)
    String bound(
            @PathVariable String code,
            @Valid @ModelAttribute("form") BoundaryForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Field field = Field.of(CornersText.read(text(form.boundary()), "boundary"), List.of());
                    GroundService.Sheet before = ground.sheet(code);
                    ground.bound(
                            code,
                            form.version(),
                            new Boundary(
                                    field,
                                    org.rootling.ground.domain.BoundarySource.TYPED,
                                    null,
                                    before.latitude(),
                                    before.longitude()));
                    return "redirect:" + Paths.to("/blocks/" + code);
                },
                () -> boundary(code, model));
    }

    @PostMapping("/{code}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable String code, @org.springframework.web.bind.annotation.RequestParam int version) {
        ground.withdraw(code, version);
        return "redirect:" + Paths.to("/blocks");
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed;
    }
}
