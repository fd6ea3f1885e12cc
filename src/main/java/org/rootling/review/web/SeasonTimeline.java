package org.rootling.review.web;

import java.time.LocalDate;
import java.time.format.TextStyle;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.SvgWriter;
import org.springframework.context.i18n.LocaleContextHolder;

/** What happened in a season as marks and bars along its months. */
final class SeasonTimeline {

    /** An event in the reader's words. */
    public record Line(String label, LocalDate on, LocalDate until) {
        public long days() {
            return ChronoUnit.DAYS.between(on, until);
        }
    }

    private static final int WIDTH = 640;
    private static final int LEFT = 190;
    private static final int RIGHT = 20;
    private static final int STEP = 26;
    private static final int TOP = 12;

    private SeasonTimeline() {}

    /** The drawing; null where nothing happened. */
    static @Nullable String draw(List<Line> lines, String title) {
        if (lines.isEmpty()) {
            return null;
        }
        LocalDate from = lines.stream()
                .map(Line::on)
                .min(LocalDate::compareTo)
                .orElseThrow()
                .withDayOfMonth(1);
        LocalDate to = lines.stream()
                .map(Line::until)
                .max(LocalDate::compareTo)
                .orElseThrow()
                .withDayOfMonth(1)
                .plusMonths(1);
        double perDay = (double) (WIDTH - LEFT - RIGHT) / ChronoUnit.DAYS.between(from, to);
        int bottom = TOP + STEP * lines.size();
        SvgWriter svg = new SvgWriter();
        svg.open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + WIDTH + " " + (bottom + 40),
                "class",
                "plot",
                "role",
                "img",
                "aria-label",
                title);
        svg.text("title", title);
        months(svg, from, to, perDay, bottom);
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            double y = TOP + STEP * (i + 0.5);
            double start = LEFT + perDay * ChronoUnit.DAYS.between(from, line.on());
            double width = perDay * line.days();
            svg.text("text", line.label(), "x", LEFT - 10, "y", y + 4, "text-anchor", "end", "font-size", 13);
            if (line.days() > 0) {
                svg.empty(
                        "rect",
                        "x",
                        start,
                        "y",
                        y - 5,
                        "width",
                        Math.max(3, width),
                        "height",
                        10,
                        "class",
                        "f1",
                        "fill",
                        "#3c6e3f");
            } else {
                svg.empty("circle", "cx", start, "cy", y, "r", 5, "class", "f1", "fill", "#3c6e3f");
            }
        }
        return svg.close("svg").toString();
    }

    private static void months(SvgWriter svg, LocalDate from, LocalDate to, double perDay, int bottom) {
        long months = ChronoUnit.MONTHS.between(from, to);
        int every = months <= 9 ? 1 : months <= 18 ? 2 : months <= 36 ? 3 : 12;
        int n = 0;
        for (LocalDate month = from; !month.isAfter(to); month = month.plusMonths(1), n++) {
            double x = LEFT + perDay * ChronoUnit.DAYS.between(from, month);
            svg.empty("line", "x1", x, "y1", TOP, "x2", x, "y2", bottom, "class", "grid", "stroke", "#cfc6ae");
            if (n % every == 0 && month.isBefore(to)) {
                String name = month.getMonth().getDisplayName(TextStyle.SHORT, LocaleContextHolder.getLocale());
                svg.text("text", name, "x", x + 2, "y", bottom + 15, "font-size", 12);
                if (n == 0 || month.getMonthValue() <= every) {
                    svg.text("text", String.valueOf(month.getYear()), "x", x + 2, "y", bottom + 31, "font-size", 12);
                }
            }
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
    }
}
