package org.rootling.review.web;

import org.rootling.platform.SvgWriter;
import org.rootling.review.calc.HeightSpread;

/** How many vines have which height, with the wire as a line. */
final class HeightPlot {

    /** Words on the drawing, in the reader's language. */
    record Words(String title, String heights, String vines, String wire) {}

    private static final int WIDTH = 640;
    private static final int HEIGHT = 300;
    private static final int LEFT = 46;
    private static final int RIGHT = 16;
    private static final int TOP = 34;
    private static final int BOTTOM = 46;

    private HeightPlot() {}

    static String draw(HeightSpread spread, int wireCm, Words words) {
        int first = Math.min(spread.firstBinCm(), wireCm / spread.binCm() * spread.binCm());
        int last = Math.max(
                spread.firstBinCm() + spread.binCm() * spread.counts().size(),
                (wireCm / spread.binCm() + 1) * spread.binCm());
        int most = spread.counts().stream().mapToInt(Integer::intValue).max().orElse(1);
        int bottom = HEIGHT - BOTTOM;
        double perCm = (double) (WIDTH - LEFT - RIGHT) / (last - first);
        double perVine = (double) (bottom - TOP) / most;
        SvgWriter svg = new SvgWriter();
        svg.open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + WIDTH + " " + HEIGHT,
                "class",
                "plot",
                "role",
                "img",
                "aria-label",
                words.title());
        svg.text("title", words.title());
        int step = tick(most);
        for (int count = 0; count <= most; count += step) {
            double y = bottom - count * perVine;
            svg.empty("line", "x1", LEFT, "y1", y, "x2", WIDTH - RIGHT, "y2", y, "class", "grid", "stroke", "#cfc6ae");
            svg.text("text", String.valueOf(count), "x", LEFT - 6, "y", y + 4, "text-anchor", "end", "font-size", 12);
        }
        for (int i = 0; i < spread.counts().size(); i++) {
            int count = spread.counts().get(i);
            int from = spread.firstBinCm() + i * spread.binCm();
            svg.open("g");
            svg.text("title", from + "–" + (from + spread.binCm() - 1) + " cm: " + count);
            svg.empty(
                    "rect",
                    "x",
                    LEFT + (from - first) * perCm + 1,
                    "y",
                    bottom - count * perVine,
                    "width",
                    Math.max(1, spread.binCm() * perCm - 2),
                    "height",
                    count * perVine,
                    "class",
                    "f1",
                    "fill",
                    "#3c6e3f");
            svg.close("g");
        }
        int every = spread.binCm() * Math.max(1, (int) Math.ceil((last - first) / (10.0 * spread.binCm())));
        for (int cm = first; cm <= last; cm += every) {
            double x = LEFT + (cm - first) * perCm;
            svg.empty("line", "x1", x, "y1", bottom, "x2", x, "y2", bottom + 5, "class", "axis", "stroke", "#2b2a24");
            svg.text("text", String.valueOf(cm), "x", x, "y", bottom + 18, "text-anchor", "middle", "font-size", 12);
        }
        svg.empty(
                "line",
                "x1",
                LEFT,
                "y1",
                bottom,
                "x2",
                WIDTH - RIGHT,
                "y2",
                bottom,
                "class",
                "axis",
                "stroke",
                "#2b2a24");
        double wire = LEFT + (wireCm - first) * perCm;
        svg.empty(
                "line",
                "x1",
                wire,
                "y1",
                TOP - 12,
                "x2",
                wire,
                "y2",
                bottom,
                "class",
                "axis",
                "stroke",
                "#2b2a24",
                "stroke-width",
                2,
                "stroke-dasharray",
                "6 4");
        boolean right = wire > WIDTH / 2.0;
        svg.text(
                "text",
                words.wire(),
                "x",
                wire + (right ? -6 : 6),
                "y",
                TOP - 4,
                "text-anchor",
                right ? "end" : "start",
                "font-size",
                12);
        svg.text(
                "text",
                words.heights(),
                "x",
                (LEFT + WIDTH - RIGHT) / 2,
                "y",
                HEIGHT - 8,
                "text-anchor",
                "middle",
                "font-size",
                12);
        svg.text("text", words.vines(), "x", 6, "y", 14, "font-size", 12);
        return svg.close("svg").toString();
    }

    /** A round number of vines between lines, at most six of them. */
    private static int tick(int most) {
        int unit = 1;
        while (true) {
            for (int times : new int[] {1, 2, 5}) {
                if (most <= 6L * unit * times) {
                    return unit * times;
                }
            }
            unit *= 10;
        }
    }
}
