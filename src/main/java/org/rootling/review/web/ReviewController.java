package org.rootling.review.web;

import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.Needs;
import org.rootling.people.Role;
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

    /** Groups on the page; the workbook has them all. */
    private static final int GROUP_LINES = 60;

    private static final int GAP_LINES = 200;
    private static final int LAST_PAGE = 500;

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
        model.addAttribute("most", GROUP_LINES);
        model.addAttribute("groupings", By.values());
        model.addAttribute("differences", words.differences(review));
        model.addAttribute("verdict", words.verdict(review));
        model.addAttribute("pace", words.pace(review));
        model.addAttribute("plot", words.plot(review));
        model.addAttribute("blocks", blocks);
        model.addAttribute("behind", establishment.rowsBehind(ROWS_BEHIND));
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
        reviewed(by, block, vines.blocks(), model);
        return "review/numbers";
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
    String replacing(
            @RequestParam(required = false) @Nullable String block,
            @RequestParam(defaultValue = "0") int page,
            Model model) {
        int shown = Math.max(0, Math.min(LAST_PAGE, page));
        Block wanted = block == null || block.isEmpty() ? null : block(block);
        List<VineQueries.Gaps> gaps = vines.gaps(wanted == null ? null : wanted.id(), shown * GAP_LINES, GAP_LINES);
        boolean more = gaps.size() > GAP_LINES;
        model.addAttribute("gaps", more ? gaps.subList(0, GAP_LINES) : gaps);
        model.addAttribute("more", more && shown < LAST_PAGE);
        model.addAttribute("page", shown);
        model.addAttribute("block", wanted);
        model.addAttribute("blocks", vines.blocks());
        return "review/replacing";
    }

    @GetMapping("/register")
    @Needs(Role.READER)
    String register(Model model) {
        model.addAttribute("lines", register.lines());
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
