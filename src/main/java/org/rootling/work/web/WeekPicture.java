package org.rootling.work.web;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.rootling.platform.SvgWriter;
import org.rootling.work.Task;
import org.rootling.work.domain.ScheduleService;

/** A week as a picture: a line for each person, a column for each day, a bar for each piece of work, by the clock. */
final class WeekPicture {
    private static final double LEFT = 110;
    private static final double DAY = 190;
    private static final double HEAD = 34;
    private static final double LINE = 58;

    private WeekPicture() {}

    static String of(LocalDate monday, List<ScheduleService.Day> days, Set<LocalDate> lost, Locale locale) {
        TreeSet<String> people = new TreeSet<>(String.CASE_INSENSITIVE_ORDER);
        days.forEach(d -> people.addAll(d.byPerson().keySet()));
        double width = LEFT + 7 * DAY;
        double height = HEAD + Math.max(1, people.size()) * LINE;
        int last = last(days);
        SvgWriter svg = new SvgWriter()
                .open(
                        "svg",
                        "class",
                        "plot week",
                        "viewBox",
                        "0 0 " + SvgWriter.number(width) + " " + SvgWriter.number(height),
                        "role",
                        "img",
                        "aria-labelledby",
                        "plot-name",
                        "aria-details",
                        "plot-told");
        DateTimeFormatter head = DateTimeFormatter.ofPattern("EEE d MMM", locale);
        for (int d = 0; d < 7; d++) {
            LocalDate date = monday.plusDays(d);
            double x = LEFT + d * DAY;
            if (lost.contains(date)) {
                svg.empty("rect", "class", "lost", "x", x, "y", 0.0, "width", DAY, "height", height);
            }
            svg.text(
                    "text",
                    head.format(date) + (lost.contains(date) ? " \u25b2" : ""),
                    "x",
                    x + 6,
                    "y",
                    22.0,
                    "font-size",
                    "15",
                    "font-weight",
                    "600");
            svg.empty("line", "class", "grid", "x1", x, "x2", x, "y1", 0.0, "y2", height);
        }
        int line = 0;
        for (String person : people) {
            double y = HEAD + line++ * LINE;
            svg.empty("line", "class", "axis", "x1", 0.0, "x2", width, "y1", y, "y2", y);
            svg.text("text", shorten(person, 12), "x", 6.0, "y", y + 33, "font-size", "15");
            for (ScheduleService.Day d : days) {
                double x = LEFT + (d.date().toEpochDay() - monday.toEpochDay()) * DAY;
                for (ScheduleService.Slot s : d.byPerson().getOrDefault(person, List.of())) {
                    bar(svg, s, x, y, last);
                }
            }
        }
        return svg.close("svg").toString();
    }

    private static void bar(SvgWriter svg, ScheduleService.Slot s, double x, double y, int last) {
        double scale = (DAY - 6) / (last - 480.0);
        double from = x + 3 + (minutes(s.from()) - 480) * scale;
        double width = Math.max(3, (minutes(s.to()) - minutes(s.from())) * scale - 1);
        Task task = s.task();
        String text = task == null ? "?" : task.stepName() + " " + task.row();
        svg.open("g");
        svg.text("title", s.from() + "\u2013" + s.to() + " " + text);
        svg.empty("rect", "class", "stint", "x", from, "y", y + 6, "width", width, "height", LINE - 12);
        int room = (int) (width / 7.2);
        if (room >= 4 && task != null) {
            svg.text("text", shorten(task.stepName(), room), "x", from + 4, "y", y + 26, "font-size", "12");
            svg.text("text", shorten(task.row(), room), "x", from + 4, "y", y + 43, "font-size", "12");
        }
        svg.close("g");
    }

    private static String shorten(String text, int most) {
        return text.length() <= most ? text : text.substring(0, Math.max(1, most - 1)) + "\u2026";
    }

    /** The end of the longest day, at least 16:00. */
    private static int last(List<ScheduleService.Day> days) {
        int latest = 960;
        for (ScheduleService.Day d : days) {
            for (List<ScheduleService.Slot> slots : d.byPerson().values()) {
                for (ScheduleService.Slot s : slots) {
                    latest = Math.max(latest, minutes(s.to()));
                }
            }
        }
        return latest;
    }

    private static int minutes(String clock) {
        int colon = clock.indexOf(':');
        return Integer.parseInt(clock.substring(0, colon)) * 60 + Integer.parseInt(clock.substring(colon + 1));
    }
}
