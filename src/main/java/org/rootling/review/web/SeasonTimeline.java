package org.rootling.review.web;

import java.time.LocalDate;
import java.time.format.TextStyle;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.PlotAxes;
import org.springframework.context.i18n.LocaleContextHolder;

/** What happened in a season as marks and bars along its months. */
final class SeasonTimeline {

    /** An event in the reader's words. */
    public record Line(String label, LocalDate on, LocalDate until) {
        public long days() {
            return ChronoUnit.DAYS.between(on, until);
        }
    }

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
        PlotAxes axes = new PlotAxes(title, TOP + STEP * lines.size() + 40, 240, 20, TOP, 40);
        double perDay = (double) (axes.right() - axes.left()) / ChronoUnit.DAYS.between(from, to);
        months(axes, from, to, perDay);
        MarkupWriter svg = axes.svg();
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            double y = TOP + STEP * (i + 0.5);
            double start = axes.left() + perDay * ChronoUnit.DAYS.between(from, line.on());
            double width = perDay * line.days();
            axes.label(line.label(), axes.left() - 10, y + 4, "end");
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
        return axes.close();
    }

    private static void months(PlotAxes axes, LocalDate from, LocalDate to, double perDay) {
        long months = ChronoUnit.MONTHS.between(from, to);
        int every = months <= 8 ? 1 : months <= 16 ? 2 : months <= 24 ? 3 : months <= 48 ? 6 : 12;
        int n = 0;
        for (LocalDate month = from; !month.isAfter(to); month = month.plusMonths(1), n++) {
            double x = axes.left() + perDay * ChronoUnit.DAYS.between(from, month);
            axes.down(x);
            if (n % every == 0 && month.isBefore(to)) {
                String name = month.getMonth().getDisplayName(TextStyle.SHORT, LocaleContextHolder.getLocale());
                axes.label(name, x + 2, axes.bottom() + 15, "start");
                if (n == 0 || month.getMonthValue() <= every) {
                    axes.label(String.valueOf(month.getYear()), x + 2, axes.bottom() + 31, "start");
                }
            }
        }
        axes.base();
    }
}
