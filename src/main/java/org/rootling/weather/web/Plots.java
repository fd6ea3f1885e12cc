package org.rootling.weather.web;

import java.time.LocalDate;
import java.time.format.TextStyle;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.function.UnaryOperator;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
import org.rootling.weather.calc.Seasons;
import org.rootling.weather.calc.WeatherDay;
import org.rootling.weather.domain.SeasonService.Course;

/** Draws the season's plots as SVG, legible at the width of a phone. */
final class Plots {
    private static final double LEFT = 54;
    private static final double RIGHT = 468;
    private static final double TOP = 34;
    private static final double BOTTOM = 262;
    private static final String TEXT = "14";

    private final UnaryOperator<String> words;
    private final Locale locale;

    Plots(UnaryOperator<String> words, Locale locale) {
        this.words = words;
        this.locale = locale;
    }

    /** The axes of one plot. */
    private record Frame(double xMost, double yLeast, double yMost) {
        double x(double value) {
            return LEFT + (RIGHT - LEFT) * value / xMost;
        }

        double y(double value) {
            return BOTTOM - (BOTTOM - TOP) * (value - yLeast) / (yMost - yLeast);
        }
    }

    private MarkupWriter start(String titleKey) {
        String title = words.apply(titleKey);
        MarkupWriter svg = new MarkupWriter()
                .open(
                        "svg",
                        "class",
                        "plot",
                        "viewBox",
                        "0 0 480 300",
                        "role",
                        "img",
                        "aria-details",
                        "plot-told",
                        "aria-label",
                        title);
        svg.text("text", title, "x", LEFT, "y", 20.0, "font-size", "15", "font-weight", "600");
        return svg;
    }

    /** Running heat sums: the season asked thick (its forecast dashed), earlier ones thin. */
    String heat(List<Course> courses, int season, boolean south) {
        double factor = UnitText.us() ? 1.8 : 1;
        LocalDate first = Seasons.winkler(season, south).first();
        int length = Seasons.winkler(season, south).days();
        double most = 100;
        for (Course course : courses) {
            List<Double> sums = course.sums();
            most = Math.max(most, sums.isEmpty() ? 0 : sums.get(sums.size() - 1) * factor);
        }
        Frame frame = new Frame(length, 0, most * 1.05);
        MarkupWriter svg = start("weather.plot.heat");
        grid(svg, frame, 0);
        months(svg, frame, first, length);
        for (int i = courses.size() - 1; i >= 1; i--) {
            List<Double> sums = courses.get(i).sums();
            line(svg, frame, sums, 0, sums.size(), factor, "class", "old", "stroke-width", "1", "opacity", "0.6");
        }
        if (!courses.isEmpty()) {
            Course mine = courses.get(0);
            int turn = mine.forecastFrom();
            int end = mine.sums().size();
            line(svg, frame, mine.sums(), 0, turn, factor, "class", "s1", "stroke-width", "3");
            line(
                    svg,
                    frame,
                    mine.sums(),
                    Math.max(0, turn - 1),
                    end,
                    factor,
                    "class",
                    "s1",
                    "stroke-width",
                    "3",
                    "stroke-dasharray",
                    "3 5");
            if (end > 0) {
                boolean late = end > length * 0.8;
                svg.text(
                        "text",
                        mine.label(),
                        "x",
                        frame.x(end) + (late ? -8 : 8),
                        "y",
                        frame.y(mine.sums().get(end - 1) * factor) - 6,
                        "font-size",
                        TEXT,
                        "font-weight",
                        "600",
                        "text-anchor",
                        late ? "end" : "start");
            }
        }
        if (courses.size() > 1) {
            svg.empty("line", "class", "old", "x1", LEFT + 8, "x2", LEFT + 34, "y1", TOP + 12, "y2", TOP + 12);
            svg.text("text", words.apply("weather.plot.earlier"), "x", LEFT + 40, "y", TOP + 17, "font-size", TEXT);
        }
        return svg.close("svg").toString();
    }

    /** Lowest to highest of each day as a bar; forecast bars are hollow; a frost night carries a mark below. */
    String temperatures(List<WeatherDay> days, LocalDate today) {
        LocalDate first = days.get(0).date();
        int length = length(days);
        double least = 0;
        double most = 5;
        for (WeatherDay day : days) {
            least = Math.min(least, day.lowC());
            most = Math.max(most, day.highC());
        }
        Frame frame = new Frame(length, typed(least - 2), typed(most + 2));
        MarkupWriter svg = start(UnitText.us() ? "weather.plot.temperature-f" : "weather.plot.temperature-c");
        grid(svg, frame, typed(0));
        months(svg, frame, first, length);
        double wide = Math.max(1.5, (RIGHT - LEFT) / length - 1.5);
        for (WeatherDay day : days) {
            double x = frame.x((double) ChronoUnit.DAYS.between(first, day.date()));
            double high = frame.y(typed(day.highC()));
            double low = frame.y(typed(day.lowC()));
            boolean hollow = day.forecast() || day.date().isAfter(today);
            svg.empty(
                    "rect",
                    "class",
                    hollow ? "s1" : "f1",
                    "stroke-width",
                    hollow ? "1.5" : "0",
                    "x",
                    x,
                    "y",
                    high,
                    "width",
                    wide,
                    "height",
                    Math.max(1.0, low - high));
            if (day.lowC() <= 0) {
                svg.empty(
                        "path",
                        "class",
                        "f3",
                        "d",
                        "M%s %sl3.5 7h-7z"
                                .formatted(
                                        MarkupWriter.number(x + wide / 2),
                                        MarkupWriter.number(Math.min(low + 2, BOTTOM - 8))));
            }
        }
        marker(svg, frame, first, today, length);
        return svg.close("svg").toString();
    }

    /** Rain as bars, reference evapotranspiration as a line. */
    String water(List<WeatherDay> days, LocalDate today) {
        double factor = Measure.MILLIMETRE.seen(1);
        LocalDate first = days.get(0).date();
        int length = length(days);
        double most = 8 * factor;
        for (WeatherDay day : days) {
            most = Math.max(most, Math.max(day.rainMm(), day.et0Mm()) * factor);
        }
        Frame frame = new Frame(length, 0, most * 1.1);
        MarkupWriter svg = start(UnitText.us() ? "weather.plot.water-in" : "weather.plot.water-mm");
        grid(svg, frame, 0);
        months(svg, frame, first, length);
        double wide = Math.max(1.5, (RIGHT - LEFT) / length - 1.5);
        StringBuilder path = new StringBuilder();
        LocalDate before = null;
        for (WeatherDay day : days) {
            double x = frame.x((double) ChronoUnit.DAYS.between(first, day.date()));
            double y = frame.y(day.rainMm() * factor);
            if (day.rainMm() > 0) {
                svg.empty("rect", "class", "f1", "x", x, "y", y, "width", wide, "height", BOTTOM - y);
            }
            path.append(day.date().minusDays(1).equals(before) ? 'L' : 'M')
                    .append(MarkupWriter.number(x + wide / 2))
                    .append(' ')
                    .append(MarkupWriter.number(frame.y(day.et0Mm() * factor)));
            before = day.date();
        }
        svg.empty("path", "class", "s2", "stroke-width", "2", "d", path);
        marker(svg, frame, first, today, length);
        return svg.close("svg").toString();
    }

    private static int length(List<WeatherDay> days) {
        return Math.toIntExact(ChronoUnit.DAYS.between(
                        days.get(0).date(), days.get(days.size() - 1).date()))
                + 1;
    }

    private static double typed(double celsius) {
        return UnitText.us() ? celsius * 1.8 + 32 : celsius;
    }

    private void line(
            MarkupWriter svg, Frame frame, List<Double> values, int from, int to, double factor, Object... attributes) {
        if (to - from < 2) {
            return;
        }
        StringBuilder points = new StringBuilder();
        for (int i = from; i < to; i++) {
            points.append(MarkupWriter.number(frame.x(i + 1.0)))
                    .append(',')
                    .append(MarkupWriter.number(frame.y(values.get(i) * factor)))
                    .append(' ');
        }
        Object[] all = new Object[attributes.length + 2];
        System.arraycopy(attributes, 0, all, 0, attributes.length);
        all[attributes.length] = "points";
        all[attributes.length + 1] = points.toString().strip();
        svg.empty("polyline", all);
    }

    /** Horizontal lines at round values and the bottom axis; a heavier line at the base value if it lies inside. */
    private void grid(MarkupWriter svg, Frame frame, double base) {
        double step = step(frame.yMost() - frame.yLeast());
        for (double value = Math.ceil(frame.yLeast() / step) * step; value <= frame.yMost(); value += step) {
            double y = frame.y(value);
            svg.empty("line", "class", "grid", "x1", LEFT, "x2", RIGHT, "y1", y, "y2", y);
            svg.text(
                    "text",
                    MarkupWriter.number(value),
                    "x",
                    LEFT - 6,
                    "y",
                    y + 5,
                    "font-size",
                    TEXT,
                    "text-anchor",
                    "end");
        }
        double y = frame.y(Math.max(base, frame.yLeast()));
        svg.empty("line", "class", "axis", "x1", LEFT, "x2", RIGHT, "y1", y, "y2", y);
    }

    /** A step of 1, 2 or 5 times a power of ten that gives four to eight lines. */
    static double step(double span) {
        double power = Math.pow(10, Math.floor(Math.log10(span / 4)));
        double times = span / 4 / power;
        return power * (times >= 5 ? 5 : times >= 2 ? 2 : 1);
    }

    private void months(MarkupWriter svg, Frame frame, LocalDate first, int length) {
        for (int i = 0; i < length; i++) {
            LocalDate date = first.plusDays(i);
            if (date.getDayOfMonth() == 1) {
                double x = frame.x((double) i);
                svg.empty("line", "class", "grid", "x1", x, "x2", x, "y1", BOTTOM, "y2", BOTTOM + 6);
                if (length - i > length / 12) {
                    svg.text(
                            "text",
                            date.getMonth().getDisplayName(TextStyle.SHORT, locale),
                            "x",
                            x + 3,
                            "y",
                            BOTTOM + 19,
                            "font-size",
                            TEXT);
                }
            }
        }
    }

    /** A dashed upright where today stands. */
    private void marker(MarkupWriter svg, Frame frame, LocalDate first, LocalDate today, int length) {
        long i = ChronoUnit.DAYS.between(first, today);
        if (i >= 0 && i < length) {
            double x = frame.x((double) i);
            svg.empty("line", "class", "axis", "stroke-dasharray", "2 4", "x1", x, "x2", x, "y1", TOP, "y2", BOTTOM);
            svg.text(
                    "text",
                    words.apply("weather.plot.today"),
                    "x",
                    x - 4,
                    "y",
                    BOTTOM + 34,
                    "font-size",
                    TEXT,
                    "text-anchor",
                    "middle");
        }
    }
}
