package org.rootling.review.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
import org.rootling.review.calc.SurvivalCurve;
import org.rootling.review.domain.Clusters;
import org.rootling.review.domain.Establishment;
import org.rootling.review.domain.Establishment.By;
import org.rootling.review.domain.Register;
import org.rootling.review.domain.Samples;
import org.rootling.review.domain.VineQueries;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Whether the vines take, where they fail, and what to do about it. */
@Controller
@RequestMapping("/v/{vineyard}/review")
class ReviewController {

    private static final int ROWS_BEHIND = 20;

    private static final int GAP_LINES = 200;

    private final Establishment establishment;
    private final Clusters clusters;
    private final Samples samples;
    private final Register register;
    private final VineQueries vines;
    private final Ground ground;
    private final ReviewWords words;

    ReviewController(
            Establishment establishment,
            Clusters clusters,
            Samples samples,
            Register register,
            VineQueries vines,
            Ground ground,
            ReviewWords words) {
        this.establishment = establishment;
        this.clusters = clusters;
        this.samples = samples;
        this.register = register;
        this.vines = vines;
        this.ground = ground;
        this.words = words;
    }

    @GetMapping
    @Needs(Role.READER)
    String review(
            @RequestParam(defaultValue = "lot") String by,
            @RequestParam(required = false) @Nullable String block,
            Model model) {
        List<VineQueries.BlockName> blocks = vines.blocks();
        Establishment.Review review = reviewed(by, block, blocks, model);
        model.addAttribute("groupings", By.values());
        model.addAttribute("differences", words.differences(review));
        model.addAttribute("verdict", words.verdict(review));
        model.addAttribute("pace", words.pace(review));
        model.addAttribute("plot", words.plot(review));
        model.addAttribute("blocks", blocks);
        model.addAttribute(
                "groups",
                Listing.of("groups", review.groups())
                        .by("review.by." + review.by().key(), g -> g.name())
                        .by("review.review.planted", g -> g.planted())
                        .by("review.review.seen", g -> g.seen())
                        .by("review.review.alive", g -> g.alive())
                        .by("review.review.lost", g -> g.lost())
                        .by(
                                "review.list.share",
                                g -> percent(
                                        g.interval() == null
                                                ? null
                                                : g.interval().share()))
                        .by(
                                "review.list.low",
                                g -> percent(
                                        g.interval() == null
                                                ? null
                                                : g.interval().low()))
                        .by(
                                "review.list.high",
                                g -> percent(
                                        g.interval() == null
                                                ? null
                                                : g.interval().high())));
        model.addAttribute(
                "behind",
                Listing.of("behind", establishment.rowsBehind(ROWS_BEHIND))
                        .by("review.count.block", r -> r.block())
                        .by("review.review.row", r -> r.row())
                        .by("review.review.seen", r -> r.seen())
                        .by("review.review.lost", r -> r.lost())
                        .by("review.list.share", r -> percent(r.interval().share()))
                        .by("review.list.low", r -> percent(r.interval().low()))
                        .by("review.list.high", r -> percent(r.interval().high())));
        model.addAttribute(
                "samples", samples.latest(model.getAttribute("within") instanceof Block within ? within.id() : null));
        return "review/review";
    }

    private Establishment.Review reviewed(
            String by, @Nullable String block, List<VineQueries.BlockName> blocks, Model model) {
        By grouping = by(by);
        Block within = block == null || block.isEmpty() ? null : block(block);
        if (within == null && grouping == By.ROW && !blocks.isEmpty()) {
            within = block(blocks.get(0).code());
        }
        Establishment.Review review = establishment.by(grouping, within);
        model.addAttribute("review", review);
        model.addAttribute("within", within);
        return review;
    }

    @GetMapping("/numbers")
    @Needs(Role.READER)
    String numbers(
            @RequestParam(defaultValue = "lot") String by,
            @RequestParam(required = false) @Nullable String block,
            Model model) {
        Establishment.Review review = reviewed(by, block, vines.blocks(), model);
        model.addAttribute(
                "pairs",
                Listing.of("pairs", review.pairs())
                        .by("review.review.one", p -> p.a())
                        .by("review.review.other", p -> p.b())
                        .by("review.review.p", p -> p.p())
                        .by("review.review.corrected", p -> p.correctedP()));
        model.addAttribute(
                "steps",
                Listing.of("steps", steps(review.curves()))
                        .by("review.by." + review.by().key(), s -> s.curve().group())
                        .by(
                                "review.review.days",
                                s -> s.step() == null
                                        ? s.curve().lastDay()
                                        : s.step().days())
                        .by(
                                "review.review.at-risk",
                                s -> s.step() == null
                                        ? s.curve().lives()
                                        : s.step().atRisk())
                        .by(
                                "review.review.died",
                                s -> s.step() == null ? 0 : s.step().events())
                        .by(
                                "review.list.alive",
                                s -> percent(s.step() == null ? 1.0 : s.step().survival()))
                        .by(
                                "review.list.error",
                                s -> percent(s.step() == null ? null : s.step().standardError())));
        return "review/numbers";
    }

    /** A step of a curve; of a group without a death its one line. */
    record CurveStep(SurvivalCurve curve, SurvivalCurve.@Nullable Step step) {}

    private static List<CurveStep> steps(List<SurvivalCurve> curves) {
        List<CurveStep> steps = new ArrayList<>();
        for (SurvivalCurve curve : curves) {
            if (curve.steps().isEmpty()) {
                steps.add(new CurveStep(curve, null));
            }
            curve.steps().forEach(step -> steps.add(new CurveStep(curve, step)));
        }
        return steps;
    }

    private static @Nullable BigDecimal percent(@Nullable Double share) {
        return share == null ? null : BigDecimal.valueOf(share * 100).setScale(1, RoundingMode.HALF_UP);
    }

    private static By by(String asked) {
        try {
            return By.valueOf(asked.toUpperCase(Locale.ROOT));
        } catch (IllegalArgumentException unknown) {
            return By.LOT;
        }
    }

    @GetMapping("/clusters")
    @Needs(Role.READER)
    String clusters(@RequestParam(required = false) @Nullable String block, Model model) {
        Clusters.Found found = clusters.of(block(block));
        model.addAttribute("found", found);
        model.addAttribute("blocks", vines.blocks());
        return "review/clusters";
    }

    @GetMapping("/replacing")
    @Needs(Role.READER)
    String replacing(@RequestParam(required = false) @Nullable String block, Model model) {
        Block wanted = block == null || block.isEmpty() ? null : block(block);
        UUID within = wanted == null ? null : wanted.id();
        model.addAttribute(
                "gaps",
                Listing.<VineQueries.Gaps>from(
                                "gaps", Listing.byOffset((wish, from) -> vines.gaps(within, from, wish.most())))
                        .pagesOf(GAP_LINES)
                        .notSearched()
                        .by("review.count.block", g -> g.block())
                        .by("review.review.row", g -> g.row())
                        .by("review.sample.places", g -> g.places())
                        .by("review.count.vines", g -> g.vines())
                        .by("review.count.variety", g -> g.variety())
                        .by("review.count.rootstock", g -> g.rootstock())
                        .by("review.count.lot", g -> g.lot()));
        model.addAttribute("block", wanted);
        model.addAttribute("blocks", vines.blocks());
        return "review/replacing";
    }

    @GetMapping("/register")
    @Needs(Role.READER)
    String register(Model model) {
        String area = Measure.SQUARE_METRE.unit();
        model.addAttribute(
                "lines",
                Listing.of("register", register.lines())
                        .by("review.count.block", l -> l.block() + " " + l.blockName())
                        .by("review.count.variety", l -> l.variety())
                        .by("review.count.rootstock", l -> l.rootstock())
                        .by("review.register.year", l -> l.years())
                        .by("review.count.vines", l -> l.vines())
                        .by("review.register.stand-in", area, l -> Measure.SQUARE_METRE.shown(l.standAreaM2(), 0))
                        .by("review.register.share-in", area, l -> Measure.SQUARE_METRE.shown(l.blockShareM2(), 0))
                        .by(
                                "review.register.density",
                                UnitText.areaUnit(),
                                l -> Measure.PER_HECTARE.shown(l.perHectare(), 0)));
        return "review/register";
    }

    /** The block asked for; the first one where none was. */
    private Block block(@Nullable String asked) {
        String code = asked == null ? "" : asked;
        if (code.isEmpty()) {
            code = vines.blocks().stream()
                    .findFirst()
                    .map(VineQueries.BlockName::code)
                    .orElse("");
        }
        return ground.requireBlock(code);
    }
}
