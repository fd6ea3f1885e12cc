package org.rootling.review.web;

import org.rootling.platform.MarkupWriter;
import org.rootling.platform.PlotAxes;
import org.rootling.review.calc.HeightSpread;

/** How many vines have which height, with the wire as a line. */
final class HeightPlot {

    /** Words on the drawing, in the reader's language; {@code unit} is that of the classes. */
    record Words(String title, String heights, String vines, String wire, String unit) {}

    private static final int HEIGHT = 300;

    private HeightPlot() {}

    static String draw(HeightSpread spread, int wireCm, Words words) {
        int bin = spread.bin();
        double wireAt = spread.scale().of(wireCm);
        int below = ((int) (wireAt / bin)) * bin;
        int first = Math.min(spread.firstBin(), below);
        int last = Math.max(spread.from(spread.counts().size()), below + bin);
        int most = Math.max(
                1, spread.counts().stream().mapToInt(Integer::intValue).max().orElse(1));
        PlotAxes axes = new PlotAxes(words.title(), HEIGHT, 52, 16, 44, 46);
        MarkupWriter svg = axes.svg();
        double across = (double) (axes.right() - axes.left()) / (last - first);
        double up = (double) (axes.bottom() - axes.top()) / most;
        int step = PlotAxes.step(most, 6);
        for (int count = 0; count <= most; count += step) {
            axes.across(axes.bottom() - count * up, String.valueOf(count));
        }
        for (int i = 0; i < spread.counts().size(); i++) {
            int count = spread.counts().get(i);
            svg.open("g");
            svg.text("title", spread.from(i) + "–" + spread.to(i) + " " + words.unit() + ": " + count);
            svg.empty(
                    "rect",
                    "x",
                    axes.left() + (spread.from(i) - first) * across + 1,
                    "y",
                    axes.bottom() - count * up,
                    "width",
                    Math.max(1, bin * across - 2),
                    "height",
                    count * up,
                    "class",
                    "f1",
                    "fill",
                    "#3c6e3f");
            svg.close("g");
        }
        int every = bin * Math.max(1, (int) Math.ceil((last - first) / (10.0 * bin)));
        for (int at = first; at <= last; at += every) {
            axes.tick(axes.left() + (at - first) * across, String.valueOf(at));
        }
        axes.base();
        double wire = axes.left() + (wireAt - first) * across;
        svg.line(
                wire,
                axes.top() - 14,
                wire,
                axes.bottom(),
                "class",
                "axis",
                "stroke",
                "#2b2a24",
                "stroke-width",
                2,
                "stroke-dasharray",
                "6 4");
        boolean right = wire > PlotAxes.WIDTH / 2.0;
        axes.label(words.wire(), wire + (right ? -6 : 6), axes.top() - 6, right ? "end" : "start");
        axes.titles(words.heights(), words.vines());
        return axes.close();
    }
}
