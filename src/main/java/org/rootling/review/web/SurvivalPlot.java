package org.rootling.review.web;

import java.text.NumberFormat;
import java.util.List;
import java.util.Locale;
import org.rootling.platform.SvgWriter;
import org.rootling.review.calc.SurvivalCurve;

/** Survival curves as a drawing: each group its own dash, mark and number at the end, so that no colour is needed. */
final class SurvivalPlot {

    /** Words on the drawing, in the reader's language. */
    record Words(String title, String days, String alive, Locale locale) {}

    /** Curves that can still be told apart. */
    static final int MOST_CURVES = 8;

    private static final int WIDTH = 640;
    private static final int HEIGHT = 320;
    private static final int LEFT = 52;
    private static final int RIGHT = 40;
    private static final int TOP = 32;
    private static final int BOTTOM = 44;
    private static final String[] DASHES = {"none", "8 4", "2 3", "12 3 2 3", "5 5", "14 5", "1 4", "9 3 2 3 2 3"};

    private SurvivalPlot() {}

    static String draw(List<SurvivalCurve> curves, Words words) {
        List<SurvivalCurve> shown = curves.subList(0, Math.min(MOST_CURVES, curves.size()));
        int lastDay = Math.max(
                1, shown.stream().mapToInt(SurvivalCurve::lastDay).max().orElse(1));
        double lowest = shown.stream()
                .flatMap(c -> c.steps().stream())
                .mapToDouble(SurvivalCurve.Step::survival)
                .min()
                .orElse(1);
        // The axis starts below the lowest curve at a whole tenth, and says so by its labels.
        double floor = Math.max(0, Math.floor((lowest - 0.02) * 10) / 10);
        floor = Math.min(floor, 0.8);
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
        axes(svg, lastDay, floor, words);
        for (int i = 0; i < shown.size(); i++) {
            curve(svg, shown.get(i), i, lastDay, floor);
        }
        return svg.close("svg").toString();
    }

    private static void axes(SvgWriter svg, int lastDay, double floor, Words words) {
        int bottom = HEIGHT - BOTTOM;
        int right = WIDTH - RIGHT;
        NumberFormat percent = NumberFormat.getPercentInstance(words.locale());
        int tenths = (int) Math.round((1 - floor) * 10);
        int step = tenths > 5 ? 2 : 1;
        for (int t = 0; t <= tenths; t += step) {
            double share = 1 - t / 10.0;
            double y = y(share, floor);
            svg.empty("line", "x1", LEFT, "y1", y, "x2", right, "y2", y, "class", "grid", "stroke", "#cfc6ae");
            svg.text("text", percent.format(share), "x", LEFT - 6, "y", y + 4, "text-anchor", "end", "font-size", 12);
        }
        int every = tick(lastDay);
        for (int day = 0; day <= lastDay; day += every) {
            double x = x(day, lastDay);
            svg.empty("line", "x1", x, "y1", bottom, "x2", x, "y2", bottom + 5, "class", "axis", "stroke", "#2b2a24");
            svg.text("text", Integer.toString(day), "x", x, "y", bottom + 18, "text-anchor", "middle", "font-size", 12);
        }
        svg.empty("line", "x1", LEFT, "y1", bottom, "x2", right, "y2", bottom, "class", "axis", "stroke", "#2b2a24");
        svg.empty("line", "x1", LEFT, "y1", TOP, "x2", LEFT, "y2", bottom, "class", "axis", "stroke", "#2b2a24");
        svg.text(
                "text",
                words.days(),
                "x",
                (LEFT + right) / 2,
                "y",
                HEIGHT - 6,
                "text-anchor",
                "middle",
                "font-size",
                12);
        svg.text("text", words.alive(), "x", 6, "y", 16, "font-size", 12);
    }

    private static void curve(SvgWriter svg, SurvivalCurve curve, int index, int lastDay, double floor) {
        StringBuilder path = new StringBuilder("M").append(point(0, 1, lastDay, floor));
        double before = 1;
        for (SurvivalCurve.Step step : curve.steps()) {
            path.append('L').append(point(step.days(), before, lastDay, floor));
            path.append('L').append(point(step.days(), step.survival(), lastDay, floor));
            before = step.survival();
        }
        path.append('L').append(point(curve.lastDay(), before, lastDay, floor));
        svg.empty(
                "path",
                "d",
                path,
                "class",
                "s" + (index % 3 + 1),
                "stroke",
                "#2b2a24",
                "stroke-width",
                2,
                "stroke-dasharray",
                DASHES[index],
                "fill",
                "none");
        svg.text(
                "text",
                Integer.toString(index + 1),
                "x",
                x(curve.lastDay(), lastDay) + 6 + 10.0 * (index % 3),
                "y",
                y(before, floor) + 4,
                "font-size",
                13,
                "font-weight",
                "bold");
    }

    /** A round number of days between marks, four to eight marks in all. */
    private static int tick(int lastDay) {
        for (int every : new int[] {1, 2, 5, 7, 14, 30, 60, 90, 180, 365, 730, 1825, 3650}) {
            if (lastDay / every <= 8) {
                return every;
            }
        }
        return 7300;
    }

    private static String point(int day, double share, int lastDay, double floor) {
        return SvgWriter.number(x(day, lastDay)) + " " + SvgWriter.number(y(share, floor));
    }

    private static double x(int day, int lastDay) {
        return LEFT + (double) (WIDTH - LEFT - RIGHT) * day / lastDay;
    }

    private static double y(double share, double floor) {
        return TOP + (HEIGHT - BOTTOM - TOP) * (1 - share) / (1 - floor);
    }
}
