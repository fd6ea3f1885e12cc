package org.rootling.review.web;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.BlockPlan;
import org.rootling.ground.Mark;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.Row;
import org.rootling.planting.VineState;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Paths;
import org.rootling.review.domain.VineQueries;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * A block with the state of its vines: each vine a mark on the plan, or, where that would be more than a page can carry,
 * each row or band of rows a bar. Colour, shape and word always go together.
 */
@Component
class BlockDrawing {

    /** More vines than this are drawn as bars, so that the page does not grow with them. */
    static final int MOST_VINES = 1500;

    static final int MOST_BARS = 25;

    private static final int WIDTH = 640;
    private static final int LEFT = 96;
    private static final int RIGHT = 8;
    private static final int BAR = 11;
    private static final int STEP = 15;

    /** In the order of the bar, with the pattern that tells them apart without colour. */
    private static final List<VineState> ORDER = List.of(
            VineState.GROWING,
            VineState.WEAK,
            VineState.NOT_MOVING,
            VineState.PLANTED,
            VineState.DEAD,
            VineState.MISSING);

    private final BlockPlan plan;
    private final MessageSource messages;

    BlockDrawing(BlockPlan plan, MessageSource messages) {
        this.plan = plan;
        this.messages = messages;
    }

    /**
     * The block's plan with every vine on it, each row a link to its page: a link for each vine would be hundreds of stops
     * for whoever goes by keyboard.
     */
    String plan(Block block, List<Row> rows, List<VineQueries.InPlace> standing) {
        Map<UUID, Map<Integer, VineState>> states = new HashMap<>();
        standing.forEach(
                v -> states.computeIfAbsent(v.rowId(), r -> new HashMap<>()).put(v.place(), v.state()));
        Map<VineState, Mark> marks = new EnumMap<>(VineState.class);
        for (VineState state : VineState.values()) {
            marks.put(state, new Mark(state.key(), shape(state), text("review.state." + state.key())));
        }
        String pages = Paths.to("/rows/");
        return plan.svg(block.id(), rows, new PlanMarks() {
            @Override
            public @Nullable Mark mark(Row row, int place) {
                VineState state = states.getOrDefault(row.id(), Map.of()).get(place);
                return state == null ? null : marks.get(state);
            }

            @Override
            public String href(Row row) {
                return pages + row.id();
            }
        });
    }

    private static String shape(VineState state) {
        return switch (state) {
            case PLANTED -> "ring";
            case GROWING -> "dot";
            case WEAK -> "triangle";
            case NOT_MOVING -> "square";
            case DEAD -> "cross";
            case MISSING -> "dash";
        };
    }

    /** One bar for each band, as long as its places, cut by state. */
    String bars(Block block, List<VineQueries.Band> bands) {
        int most = Math.max(
                1, bands.stream().mapToInt(VineQueries.Band::places).max().orElse(1));
        int height = 8 + STEP * bands.size();
        MarkupWriter svg = new MarkupWriter();
        String title = text("review.bars.title", block.code());
        svg.open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + WIDTH + " " + height,
                "class",
                "plan bars",
                "role",
                "img",
                "aria-details",
                "plan-told",
                "aria-label",
                title);
        svg.text("title", title);
        for (int i = 0; i < bands.size(); i++) {
            VineQueries.Band band = bands.get(i);
            double y = 4 + (double) STEP * i;
            svg.text(
                    "text",
                    text("review.bars.row", name(band)),
                    "x",
                    LEFT - 6,
                    "y",
                    y + BAR - 2,
                    "text-anchor",
                    "end",
                    "font-size",
                    10);
            double full = (double) (WIDTH - LEFT - RIGHT) * band.places() / most;
            svg.empty("rect", "x", LEFT, "y", y, "width", full, "height", BAR, "class", "mark empty");
            double x = LEFT;
            for (VineState state : ORDER) {
                int count = band.counts().getOrDefault(state, 0);
                if (count > 0) {
                    double width = (double) (WIDTH - LEFT - RIGHT) * count / most;
                    svg.open("g");
                    svg.text("title", text("review.state." + state.key()) + ": " + count);
                    svg.empty(
                            "rect",
                            "x",
                            x,
                            "y",
                            y + inset(state),
                            "width",
                            width,
                            "height",
                            BAR - 2 * inset(state),
                            "class",
                            "mark " + state.key());
                    svg.close("g");
                    x += width;
                }
            }
        }
        return svg.close("svg").toString();
    }

    /** What lives fills the bar, what fails is a thinner line: told apart without colour. */
    private static double inset(VineState state) {
        return switch (state) {
            case GROWING, PLANTED -> 0;
            case WEAK, NOT_MOVING -> 2;
            case DEAD -> 4;
            case MISSING -> 3;
        };
    }

    /** "7" or "1-40". */
    static String name(VineQueries.Band band) {
        return band.firstRow() == band.lastRow()
                ? Integer.toString(band.firstRow())
                : band.firstRow() + "–" + band.lastRow();
    }

    private String text(String key, Object... args) {
        return messages.getMessage(key, args, LocaleContextHolder.getLocale());
    }
}
