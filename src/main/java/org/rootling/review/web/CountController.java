package org.rootling.review.web;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.VineState;
import org.rootling.platform.Listing;
import org.rootling.review.domain.Progress;
import org.rootling.review.domain.VineQueries;
import org.rootling.work.Task;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The page of counts, and the vines that a count is made of. */
@Controller
@RequestMapping("/v/{vineyard}/progress")
class CountController {

    private static final int LINES = 12;
    private static final int PAGE = 100;

    /** Blocks on one page. */
    private static final int BLOCKS = 20;

    /** A line of the table beside a drawing: its vines of each state. */
    record BandLine(@Nullable UUID rowId, String name, int places, Map<VineState, Integer> counts) {
        public int of(VineState state) {
            return counts.getOrDefault(state, 0);
        }
    }

    /** What a list of vines was asked for, as in its address. */
    record Wanted(
            @Nullable String block,
            @Nullable String variety,
            @Nullable String rootstock,
            @Nullable String lot,
            @Nullable String state) {}

    private final Progress progress;
    private final VineQueries queries;
    private final Vineyards vineyards;
    private final StateCells cells;
    private final CountLines lines;
    private final Ground ground;
    private final Lots lots;
    private final BlockDrawing drawing;

    CountController(
            Progress progress,
            VineQueries queries,
            Vineyards vineyards,
            StateCells cells,
            CountLines lines,
            Ground ground,
            Lots lots,
            BlockDrawing drawing) {
        this.progress = progress;
        this.queries = queries;
        this.vineyards = vineyards;
        this.cells = cells;
        this.lines = lines;
        this.ground = ground;
        this.lots = lots;
        this.drawing = drawing;
    }

    /** Read in one transaction: each of its own would cost a journey to the database and back, or three. */
    @Transactional(readOnly = true)
    @GetMapping
    @Needs(Role.READER)
    String count(
            @RequestParam(required = false) @Nullable String block,
            @RequestParam(defaultValue = "2") int spares,
            @RequestParam(defaultValue = "25") int bundle,
            Model model) {
        int spare = Math.max(0, Math.min(100, spares));
        int size = Math.max(1, Math.min(1000, bundle));
        Progress.Count count = progress.count(vineyards.today(), spare / 100.0, size);
        model.addAttribute(
                "blockLines",
                states(Listing.of("blocks", count.blocks())
                        .pagesOf(BLOCKS)
                        .by("review.count.block", l -> l.code() + " " + l.second())
                        .by("review.count.places", l -> l.places())
                        .by("review.state.empty", l -> l.empty())));
        model.addAttribute(
                "kinds",
                states(Listing.of("kinds", count.kinds())
                        .by("review.count.variety", l -> l.code())
                        .by("review.count.rootstock", l -> l.second())
                        .by("review.count.in-place", l -> l.tally().present())));
        model.addAttribute("count", count);
        model.addAttribute("most", LINES);
        model.addAttribute("cells", cells);
        model.addAttribute("lines", lines);
        model.addAttribute("waiting", Shown.first(LINES, count.waiting()));
        model.addAttribute("late", Shown.first(LINES, count.due().late()));
        model.addAttribute("spares", spare);
        model.addAttribute("bundle", size);
        model.addAttribute(
                "reorder",
                Listing.of("reorder", count.reorder())
                        .by("review.count.variety", r -> r.variety())
                        .by("review.count.rootstock", r -> r.rootstock())
                        .by("review.count.gaps", r -> r.order().gaps())
                        .by("review.count.in-hand", r -> r.order().inHand())
                        .by("review.count.needed", r -> r.order().needed())
                        .by("review.count.spares", r -> r.order().spares())
                        .by("review.count.bundles", r -> r.order().bundles())
                        .by("review.count.order", r -> r.order().vines()));
        model.addAttribute(
                "duties",
                Listing.of("duties", count.due().byPerson())
                        .by(
                                "review.count.who",
                                d -> d.account() == null ? new Listing.Word("review.count.nobody") : d.name())
                        .by("review.count.late", d -> d.late())
                        .by("review.count.soon", d -> d.soon())
                        .by("review.count.later", d -> d.later()));
        model.addAttribute("names", peopleOf(count.due()));
        Block shown = shown(block, count.ground());
        model.addAttribute("block", shown);
        if (shown != null) {
            draw(shown, model);
        }
        return "review/count";
    }

    private static @Nullable Block shown(@Nullable String code, List<Block> blocks) {
        if (code != null) {
            return blocks.stream()
                    .filter(block -> block.code().equalsIgnoreCase(code))
                    .findFirst()
                    .orElse(null);
        }
        return blocks.isEmpty() ? null : blocks.get(0);
    }

    private void draw(Block block, Model model) {
        if (block.places() <= BlockDrawing.MOST_VINES) {
            List<Row> rows = ground.rows(block.id());
            List<VineQueries.InPlace> standing = queries.inBlock(block.id());
            model.addAttribute("plan", drawing.plan(block, rows, standing));
            model.addAttribute("bands", listed(bands(rows, standing)));
        } else {
            List<VineQueries.Band> bands = queries.bands(block.id(), block.rows(), BlockDrawing.MOST_BARS);
            model.addAttribute("bars", drawing.bars(block, bands));
            model.addAttribute(
                    "bands",
                    listed(bands.stream()
                            .map(b -> new BandLine(null, BlockDrawing.name(b), b.places(), b.counts()))
                            .toList()));
        }
    }

    private static List<BandLine> bands(List<Row> rows, List<VineQueries.InPlace> standing) {
        Map<UUID, Map<VineState, Integer>> counts = new HashMap<>();
        standing.forEach(v -> counts.computeIfAbsent(v.rowId(), r -> new EnumMap<>(VineState.class))
                .merge(v.state(), 1, Integer::sum));
        return rows.stream()
                .map(r -> new BandLine(
                        r.id(), Integer.toString(r.number()), r.places(), counts.getOrDefault(r.id(), Map.of())))
                .toList();
    }

    private static Listing<BandLine> listed(List<BandLine> bands) {
        Listing<BandLine> listing = Listing.of("rows", bands)
                .by("review.count.rows", b -> b.rowId() == null ? b.name() : Integer.valueOf(b.name()))
                .by("review.count.places", b -> b.places());
        for (VineState state : VineState.values()) {
            listing.by("review.state." + state.key(), b -> b.of(state));
        }
        return listing;
    }

    private static Listing<Progress.Line> states(Listing<Progress.Line> listing) {
        for (VineState state : VineState.values()) {
            listing.by("review.state." + state.key(), l -> l.tally().of(state));
        }
        return listing;
    }

    private static Map<UUID, String> peopleOf(Progress.Due due) {
        Map<UUID, String> names = new HashMap<>();
        due.byPerson().forEach(duty -> names.put(duty.account(), duty.name()));
        Map<UUID, String> byTask = new HashMap<>();
        for (Task task : Shown.first(LINES, due.late())) {
            byTask.put(task.id(), task.people().stream().map(names::get).collect(Collectors.joining(", ")));
        }
        return byTask;
    }

    @GetMapping("/vines")
    @Needs(Role.READER)
    String vines(Wanted wanted, Model model) {
        List<Lot> all = lots.all();
        VineState state = state(wanted.state());
        VineQueries.Wanted which = known(wanted, state, all)
                ? new VineQueries.Wanted(
                        blockId(wanted.block()), lotId(wanted.lot(), all), wanted.variety(), wanted.rootstock(), state)
                : null;
        model.addAttribute(
                "vines",
                Listing.<VineQueries.Standing>from(
                                "vines",
                                Listing.byOffset((wish, from) -> which == null
                                        ? List.of()
                                        : queries.standing(which, wish.sort().startsWith("-"), from, wish.most())))
                        .pagesOf(PAGE)
                        .notSearched()
                        .by("review.count.block", x -> x.block())
                        .orderedByThose()
                        .by("review.review.row", x -> x.row())
                        .by("review.vines.place", x -> x.place())
                        .by(
                                "review.vines.state",
                                x -> new Listing.Word(
                                        "review.state." + x.state().key()))
                        .by("review.vines.seen", x -> x.state() == VineState.PLANTED ? null : x.seenOn())
                        .by("review.count.lot", x -> x.lot())
                        .by("review.count.variety", x -> x.variety())
                        .by("review.count.rootstock", x -> x.rootstock())
                        .by("review.vines.planted", x -> x.plantedOn()));
        model.addAttribute("wanted", wanted);
        model.addAttribute("states", VineState.values());
        model.addAttribute("blocks", ground.blocks());
        model.addAttribute("lots", all.stream().map(Lot::code).toList());
        model.addAttribute("varieties", distinct(all.stream().map(Lot::variety).toList()));
        model.addAttribute(
                "rootstocks", distinct(all.stream().map(Lot::rootstock).toList()));
        return "review/vines";
    }

    /** A name that is not known matches nothing, rather than everything. */
    private boolean known(Wanted wanted, @Nullable VineState state, List<Lot> all) {
        return (wanted.block() == null || blockId(wanted.block()) != null)
                && (wanted.lot() == null || lotId(wanted.lot(), all) != null)
                && (wanted.state() == null || state != null);
    }

    private @Nullable UUID blockId(@Nullable String code) {
        return code == null ? null : ground.blockByCode(code).map(Block::id).orElse(null);
    }

    private static @Nullable UUID lotId(@Nullable String code, List<Lot> all) {
        return all.stream()
                .filter(lot -> lot.code().equals(code))
                .map(Lot::id)
                .findFirst()
                .orElse(null);
    }

    private static @Nullable VineState state(@Nullable String key) {
        for (VineState state : VineState.values()) {
            if (state.key().equals(key)) {
                return state;
            }
        }
        return null;
    }

    private static List<String> distinct(List<String> names) {
        return List.copyOf(new TreeSet<>(names));
    }
}
