package org.rootling.review.web;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.UnitText;
import org.rootling.review.calc.HeightSpread;
import org.rootling.review.domain.HeightsOfBlock;
import org.rootling.review.domain.VineQueries;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Heights and shoots of a block: how they are spread, how fast they grow, which rows and vines stay behind. */
@Controller
@RequestMapping("/v/{vineyard}/review/heights")
class HeightsController {

    /** Vines on a page. */
    private static final int LATE_LINES = 20;

    private static final int LOWEST_WIRE_CM = 10;
    private static final int HIGHEST_WIRE_CM = 400;

    private final HeightsOfBlock heights;
    private final VineQueries vines;
    private final Ground ground;
    private final MessageSource messages;
    private final UnitText units;

    HeightsController(
            HeightsOfBlock heights, VineQueries vines, Ground ground, MessageSource messages, UnitText units) {
        this.heights = heights;
        this.vines = vines;
        this.ground = ground;
        this.messages = messages;
        this.units = units;
    }

    @GetMapping
    @Needs(Role.READER)
    String show(
            @RequestParam(required = false) @Nullable String block,
            @RequestParam(required = false) @Nullable Integer season,
            @RequestParam(required = false) @Measured(Measure.CENTIMETRE) @Nullable Double wire,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate end,
            Model model) {
        List<VineQueries.BlockName> blocks = vines.blocks();
        model.addAttribute("blocks", blocks);
        boolean first = block == null || block.isEmpty();
        if (first && blocks.isEmpty()) {
            return "review/heights";
        }
        Block shown = ground.requireBlock(first ? blocks.get(0).code() : String.valueOf(block));
        int now = heights.season();
        int year = season == null ? now : Math.max(1990, Math.min(now, season));
        Integer planned = heights.plannedWireCm(shown.id()).orElse(null);
        int usual = planned == null ? HeightsOfBlock.USUAL_WIRE_CM : planned;
        double asked = wire == null ? usual : wire;
        int wireCm = (int) Math.round(Math.max(LOWEST_WIRE_CM, Math.min(HIGHEST_WIRE_CM, asked)));
        boolean sane = end != null && end.getYear() >= 1990 && end.getYear() <= 2100;
        LocalDate last = end != null && sane ? end : heights.usualEnd(year);
        HeightsOfBlock.Found found = heights.of(shown, year, wireCm, last);
        model.addAttribute("found", found);
        model.addAttribute("block", shown);
        model.addAttribute("seasonNow", now);
        model.addAttribute("wire", wireCm);
        model.addAttribute("planned", planned);
        model.addAttribute("usual", HeightsOfBlock.USUAL_WIRE_CM);
        model.addAttribute("end", last);
        String unit = Measure.CENTIMETRE.unit();
        model.addAttribute(
                "late",
                Listing.of("late", found.late())
                        .pagesOf(LATE_LINES)
                        .by("review.review.row", l -> l.row())
                        .by("review.sample.places", l -> l.place())
                        .by("review.heights.height", unit, l -> Measure.CENTIMETRE.shown(l.heightCm(), 0))
                        .by("review.vines.seen", l -> l.seenOn())
                        .by("review.list.chance", l -> Math.round(l.chance() * 100)));
        model.addAttribute(
                "behind",
                Listing.of("behind", found.growth().behind())
                        .by("review.review.row", b -> b.row())
                        .by("review.count.vines", b -> b.vines())
                        .by("review.heights.mean", unit, b -> Measure.CENTIMETRE.shown(b.mean(), 0))
                        .by("review.heights.others", unit, b -> Measure.CENTIMETRE.shown(b.others(), 0))
                        .by("review.review.corrected", b -> b.p()));
        model.addAttribute(
                "weeks",
                Listing.of("weeks", found.growth().weeks())
                        .by("review.heights.week", w -> LocalDate.ofEpochDay(w.firstDay()))
                        .by("review.heights.growth", unit, w -> Measure.CENTIMETRE.shown(w.cm(), 1))
                        .by("review.count.vines", w -> w.vines()));
        HeightSpread spread = found.spread();
        if (spread != null) {
            model.addAttribute(
                    "plot",
                    HeightPlot.draw(
                            spread,
                            wireCm,
                            new HeightPlot.Words(
                                    text("review.heights.plot"),
                                    text("review.heights.plot-height", units.heightUnit()),
                                    text("review.heights.plot-vines"),
                                    text("review.heights.plot-wire", units.height(wireCm, 0)),
                                    units.heightUnit())));
        }
        return "review/heights";
    }

    private String text(String key, Object... args) {
        return messages.getMessage(key, args, LocaleContextHolder.getLocale());
    }
}
