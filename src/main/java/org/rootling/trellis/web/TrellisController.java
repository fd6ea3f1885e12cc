package org.rootling.trellis.web;

import jakarta.servlet.http.HttpServletRequest;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Paths;
import org.rootling.trellis.RowProgress;
import org.rootling.trellis.Trellis;
import org.rootling.trellis.calc.Assembly;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.LinePosts;
import org.rootling.trellis.calc.Loads;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.Soil;
import org.rootling.trellis.calc.StartingPlans;
import org.rootling.trellis.calc.TakeOff;
import org.rootling.trellis.calc.TrellisSpec;
import org.rootling.trellis.calc.WireKind;
import org.rootling.trellis.domain.Readings;
import org.rootling.trellis.domain.TrellisPlan;
import org.rootling.trellis.domain.TrellisPlans;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.core.convert.ConversionService;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Trellis plans: the list of blocks, a block's plan, its numbers, its loads. */
@Controller
@RequestMapping("/v/{vineyard}/trellis")
class TrellisController {
    /** Blocks on one page: each may hold a form. */
    private static final int BLOCKS = 20;

    /** A block in the list. */
    record Listed(Block block, @Nullable TrellisPlan plan) {}

    /** One row of a block with its parts and what is done. */
    record RowParts(Row row, Trellis.RowParts parts, Map<RowProgress.Step, RowProgress.Done> done) {}

    private final TrellisPlans plans;
    private final Readings readings;
    private final Ground ground;
    private final Words words;
    private final ConversionService conversion;
    private final ObjectProvider<RowProgress> progress;

    TrellisController(
            TrellisPlans plans,
            Readings readings,
            Ground ground,
            Words words,
            @Qualifier("mvcConversionService") ConversionService conversion,
            ObjectProvider<RowProgress> progress) {
        this.plans = plans;
        this.readings = readings;
        this.ground = ground;
        this.words = words;
        this.conversion = conversion;
        this.progress = progress;
    }

    @Transactional(readOnly = true)
    @GetMapping
    @Needs(Role.READER)
    String list(Model model) {
        Map<UUID, TrellisPlan> byBlock = plans.byBlock();
        List<Listed> listed = new ArrayList<>();
        for (Block block : ground.blocks()) {
            listed.add(new Listed(block, byBlock.get(block.id())));
        }
        Listing<Listed> blocks = Listing.of("blocks", listed)
                .pagesOf(BLOCKS)
                .by("trellis.list.code", b -> b.block().code())
                .by("trellis.list.name", b -> b.block().name())
                .by("trellis.list.rows", b -> b.block().rows())
                .by("trellis.list.places", b -> b.block().places());
        model.addAttribute("blocks", blocks);
        model.addAttribute(
                "metres",
                ground.rowMetres(
                        blocks.shown().stream().map(b -> b.block().id()).toList()));
        model.addAttribute("canopies", StartingPlans.values());
        List<Readings.Reading> due = readings.due();
        model.addAttribute("due", due);
        model.addAttribute("rows", rowsById(due));
        return "trellis/list";
    }

    private Map<UUID, Row> rowsById(List<Readings.Reading> due) {
        Map<UUID, Row> rows = new LinkedHashMap<>();
        ground.rowsById(due.stream().map(Readings.Reading::rowId).distinct().toList())
                .forEach(r -> rows.put(r.id(), r));
        return rows;
    }

    @PostMapping("/blocks/{code}/start")
    @Needs(Role.LEAD)
    String start(@PathVariable String code, @RequestParam StartingPlans canopy) {
        plans.start(ground.requireBlock(code).id(), canopy);
        return "redirect:" + Paths.to("/trellis/blocks/" + code);
    }

    @GetMapping("/blocks/{code}")
    @Needs(Role.READER)
    String plan(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        Optional<TrellisPlan> plan = plans.ofBlock(block.id());
        if (plan.isEmpty()) {
            return begin(block, model);
        }
        TrellisSpec spec = plan.get().spec();
        List<Row> rows = ground.rows(block.id());
        List<RowLine> lines =
                rows.stream().flatMap(r -> TrellisPlans.lines(r).stream()).toList();
        RowLine shown = lines.stream()
                .max(Comparator.comparingDouble(RowLine::lengthM))
                .orElse(new RowLine(
                        2 * spec.line().maxSpanM(),
                        (int) (2 * spec.line().maxSpanM() / block.vineSpacingM()),
                        block.vineSpacingM(),
                        block.vineSpacingM() / 2));
        model.addAttribute("block", block);
        model.addAttribute("spec", spec);
        model.addAttribute("post", spec.post());
        model.addAttribute("out", spec.settingOut());
        model.addAttribute("tie", spec.hold().assembly() == Assembly.ANCHORED ? spec.tie() : null);
        model.addAttribute("loads", Loads.of(spec, lines));
        model.addAttribute("endDrawing", EndDrawing.end(spec, shown, words));
        model.addAttribute("rowDrawing", EndDrawing.row(spec, shown, words));
        LinePosts posts = spec.linePosts(shown);
        model.addAttribute(
                "rowLabel",
                words.say(
                        "trellis.plan.row-label",
                        words.length(shown.lengthM()),
                        posts.count(),
                        words.length(posts.spanM()),
                        shown.vines()));
        model.addAttribute("faults", spec.faults(lines));
        List<Item> items =
                lines.isEmpty() ? List.of() : new TakeOff().add(spec, lines).items();
        model.addAttribute(
                "items",
                Listing.of("items", items)
                        .by("trellis.order.head.item", i -> words.name(i))
                        .by(
                                "trellis.order.head.needed",
                                i -> Words.shown(i, BigDecimal.valueOf(i.quantity()))
                                        .setScale(1, RoundingMode.HALF_UP))
                        .by("trellis.order.head.unit", i -> words.unit(i))
                        .by("trellis.plan.coils", i -> i.steel() == null ? null : i.coils())
                        .by(
                                "trellis.plan.mass-in",
                                Measure.KILOGRAM.unit(),
                                i -> i.steel() == null ? null : Measure.KILOGRAM.shown(i.massKg(), 0)));
        Map<UUID, Readings.Reading> measured = slackest(rows);
        String metre = Measure.METRE.unit();
        model.addAttribute(
                "rows",
                Listing.of("rows", parts(spec, rows))
                        .by("trellis.plan.row-number", r -> r.row().number())
                        .by("trellis.plan.end-posts", r -> r.parts().endPosts())
                        .by("trellis.plan.line-posts", r -> r.parts().linePosts())
                        .by(
                                "trellis.plan.wire-in",
                                metre,
                                r -> Measure.METRE.shown(r.parts().wireM(), 0))
                        .by("trellis.plan.stakes", r -> r.parts().stakes())
                        .by("trellis.plan.done", r -> doneInWords(r))
                        .by("trellis.plan.measured", r -> {
                            Readings.Reading reading = measured.get(r.row().id());
                            return reading == null ? null : words.force(reading.tensionN());
                        }));
        model.addAttribute("tracked", progress.getIfAvailable() != null);
        model.addAttribute("measured", measured);
        return "trellis/plan";
    }

    private String doneInWords(RowParts row) {
        return row.done().values().stream()
                .map(d -> words.say("trellis.plan.done-step", words.say("trellis.step." + d.step()), d.done(), d.of()))
                .collect(Collectors.joining(" "));
    }

    /** By row, of the latest readings of its wires, the one that is farthest below what was wanted. */
    private Map<UUID, Readings.Reading> slackest(List<Row> rows) {
        Map<UUID, Readings.Reading> slackest = new LinkedHashMap<>();
        for (Readings.Reading reading :
                readings.latest(rows.stream().map(Row::id).toList())) {
            slackest.merge(reading.rowId(), reading, (a, b) -> b.share() < a.share() ? b : a);
        }
        return slackest;
    }

    /** What to begin a plan from. */
    private static String begin(Block block, Model model) {
        model.addAttribute("block", block);
        model.addAttribute("canopies", StartingPlans.values());
        return "trellis/begin";
    }

    /** Where a block without a plan is asked for more than the plan: to the page that begins one. */
    static String toBegin(String code) {
        return "redirect:" + Paths.to("/trellis/blocks/" + code);
    }

    private List<RowParts> parts(TrellisSpec spec, List<Row> rows) {
        Map<UUID, Map<RowProgress.Step, RowProgress.Done>> done = new LinkedHashMap<>();
        RowProgress known = progress.getIfAvailable();
        if (known != null && !rows.isEmpty()) {
            known.of(rows.stream().map(Row::id).toList())
                    .forEach(d -> done.computeIfAbsent(d.rowId(), k -> new LinkedHashMap<>())
                            .put(d.step(), d));
        }
        return rows.stream()
                .map(r -> new RowParts(r, TrellisPlans.parts(spec, r), done.getOrDefault(r.id(), Map.of())))
                .toList();
    }

    @GetMapping("/blocks/{code}/loads")
    @Needs(Role.READER)
    String loads(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        Optional<TrellisPlan> plan = plans.ofBlock(block.id());
        if (plan.isEmpty()) {
            return toBegin(code);
        }
        TrellisSpec spec = plan.get().spec();
        model.addAttribute("block", block);
        model.addAttribute("spec", spec);
        model.addAttribute("loads", Loads.of(spec, plans.lines(block.id())));
        return "trellis/loads";
    }

    @GetMapping("/blocks/{code}/edit")
    @Needs(Role.LEAD)
    String edit(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        Optional<TrellisPlan> plan = plans.ofBlock(block.id());
        return plan.isEmpty()
                ? toBegin(code)
                : form(block, PlanFields.of(plan.get().spec(), plan.get().version()), model);
    }

    @PostMapping("/blocks/{code}/edit")
    @Needs(Role.LEAD)
    String change(@PathVariable String code, HttpServletRequest request, Model model) {
        Block block = ground.requireBlock(code);
        PlanFields form = PlanFields.sent(request.getParameterMap());
        int version = form.version(conversion);
        TrellisSpec spec = form.read(conversion);
        if (!form.errors().hasErrors()) {
            form.show(plans.faults(block.id(), spec), words);
        }
        if (form.errors().hasErrors()) {
            return form(block, form, model);
        }
        plans.change(block.id(), spec, version);
        return "redirect:" + Paths.to("/trellis/blocks/" + code + "?saved");
    }

    private String form(Block block, PlanFields form, Model model) {
        model.addAttribute("block", block);
        model.addAttribute("form", form.fields());
        model.addAttribute(BindingResult.MODEL_KEY_PREFIX + "form", form.errors());
        model.addAttribute("wireLines", form.wireLines());
        model.addAttribute("assemblies", choices("trellis.assembly.", Assembly.values()));
        model.addAttribute("soils", choices("trellis.soil.", Soil.values()));
        model.addAttribute("steels", choices("trellis.steel.", WireKind.values()));
        return "trellis/edit";
    }

    private Map<String, String> choices(String prefix, Enum<?>[] values) {
        Map<String, String> all = new LinkedHashMap<>();
        for (Enum<?> value : values) {
            all.put(value.name(), words.say(prefix + value.name()));
        }
        return all;
    }
}
