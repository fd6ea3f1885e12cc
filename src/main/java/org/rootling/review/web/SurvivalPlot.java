package org.rootling.review.web;

import java.text.NumberFormat;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.PlotAxes;
import org.rootling.review.calc.SurvivalCurve;

/** Survival curves as a drawing: each group its own dash, mark and number at the end, so that no colour is needed. */
final class SurvivalPlot {

    /** Words on the drawing, in the reader's language. */
    record Words(String title, String days, String alive, Locale locale) {}

    /** Curves that can still be told apart. */
    static final int MOST_CURVES = 8;

    private static final int HEIGHT = 320;

    /** Between two numbers at the right. */
    private static final double LETTER = 14;

    private static final String[] DASHES = {"none", "8 4", "2 3", "12 3 2 3", "5 5", "14 5", "1 4", "9 3 2 3 2 3"};

    private final PlotAxes axes;
    private final int lastDay;
    private final double floor;

    private SurvivalPlot(Words words, int lastDay, double floor) {
        this.axes = new PlotAxes(words.title(), HEIGHT, 52, 44, 32, 44);
        this.lastDay = lastDay;
        this.floor = floor;
    }

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
        SurvivalPlot plot = new SurvivalPlot(words, lastDay, Math.min(floor, 0.8));
        plot.frame(words);
        for (int i = 0; i < shown.size(); i++) {
            plot.curve(shown.get(i), i);
        }
        plot.numbers(shown);
        return plot.axes.close();
    }

    private void frame(Words words) {
        NumberFormat percent = NumberFormat.getPercentInstance(words.locale());
        int tenths = (int) Math.round((1 - floor) * 10);
        int step = tenths > 5 ? 2 : 1;
        for (int t = 0; t <= tenths; t += step) {
            double share = 1 - t / 10.0;
            axes.across(y(share), percent.format(share));
        }
        int every = tick(lastDay);
        for (int day = 0; day <= lastDay; day += every) {
            axes.tick(x(day), Integer.toString(day));
        }
        axes.base();
        axes.side();
        axes.titles(words.days(), words.alive());
    }

    private void curve(SurvivalCurve curve, int index) {
        StringBuilder path = new StringBuilder("M").append(point(0, 1));
        double before = 1;
        for (SurvivalCurve.Step step : curve.steps()) {
            path.append('L').append(point(step.days(), before));
            path.append('L').append(point(step.days(), step.survival()));
            before = step.survival();
        }
        path.append('L').append(point(curve.lastDay(), before));
        axes.svg()
                .empty(
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
        // The end is a mark of its own, so that a curve of no length at all is seen.
        axes.svg().empty("circle", "cx", x(curve.lastDay()), "cy", y(before), "r", 3, "class", "f1", "fill", "#2b2a24");
    }

    /** The number of each curve in the margin, lowest curve lowest, none over another, led to where its curve ends. */
    private void numbers(List<SurvivalCurve> curves) {
        List<Integer> order = IntStream.range(0, curves.size())
                .boxed()
                .sorted(Comparator.comparingDouble((Integer i) -> y(last(curves.get(i)))))
                .toList();
        double[] at = new double[order.size()];
        for (int i = 0; i < at.length; i++) {
            double own = y(last(curves.get(order.get(i))));
            at[i] = i == 0 ? own : Math.max(own, at[i - 1] + LETTER);
        }
        double lowest = axes.bottom();
        for (int i = at.length - 1; i >= 0; i--) {
            at[i] = Math.min(at[i], lowest);
            lowest = at[i] - LETTER;
        }
        for (int i = 0; i < at.length; i++) {
            SurvivalCurve curve = curves.get(order.get(i));
            double x = axes.right() + 16;
            axes.svg().line(x(curve.lastDay()), y(last(curve)), x - 3, at[i], "class", "grid", "stroke", "#a09880");
            axes.svg()
                    .text(
                            "text",
                            Integer.toString(order.get(i) + 1),
                            "x",
                            x,
                            "y",
                            at[i] + 4,
                            "font-size",
                            13,
                            "font-weight",
                            "bold");
        }
    }

    private static double last(SurvivalCurve curve) {
        return curve.steps().isEmpty()
                ? 1
                : curve.steps().get(curve.steps().size() - 1).survival();
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

    private String point(int day, double share) {
        return MarkupWriter.number(x(day)) + " " + MarkupWriter.number(y(share));
    }

    private double x(int day) {
        return axes.left() + (double) (axes.right() - axes.left()) * day / lastDay;
    }

    private double y(double share) {
        return axes.top() + (axes.bottom() - axes.top()) * (1 - share) / (1 - floor);
    }
}
