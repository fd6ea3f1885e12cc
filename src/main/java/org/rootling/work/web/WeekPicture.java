package org.rootling.work.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.platform.DateText;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.TextWidth;
import org.rootling.work.Task;
import org.rootling.work.domain.ScheduleService;

/**
 * A week as a picture: a line for each person, a column for each day; in each, bars by the clock and below them what they
 * are, in words that wrap and are never cut. Many people make several pictures, each of which fits a page.
 */
final class WeekPicture {
    private static final double LEFT = 108;
    private static final double DAY = 153;
    private static final double HEAD = 28;
    private static final double BARS = 16;
    private static final double LETTERS = 13;
    private static final double LINE = 17;
    private static final double EDGE = 5;
    private static final double WIDTH = LEFT + 7 * DAY;
    private static final double HIGHEST = 640;

    private final LocalDate monday;
    private final Set<LocalDate> lost;
    private final Locale locale;
    private final int last;

    private WeekPicture(LocalDate monday, List<ScheduleService.Day> days, Set<LocalDate> lost, Locale locale) {
        this.monday = monday;
        this.lost = lost;
        this.locale = locale;
        last = last(days);
    }

    /** One person's week: bars and lines of words by day of the week, from 0. */
    private record Week(
            List<String> name, Map<Integer, List<ScheduleService.Slot>> bars, Map<Integer, List<String>> words) {
        double height() {
            int most = name.size();
            for (List<String> lines : words.values()) {
                most = Math.max(most, lines.size());
            }
            return EDGE + BARS + EDGE + most * LINE + EDGE;
        }
    }

    /** The pictures of a week, one below the other. */
    static List<String> of(LocalDate monday, List<ScheduleService.Day> days, Set<LocalDate> lost, Locale locale) {
        WeekPicture picture = new WeekPicture(monday, days, lost, locale);
        List<String> parts = new ArrayList<>();
        List<Week> part = new ArrayList<>();
        double height = HEAD;
        for (Week week : picture.weeks(days)) {
            if (!part.isEmpty() && height + week.height() > HIGHEST) {
                parts.add(picture.draw(part, height));
                part.clear();
                height = HEAD;
            }
            part.add(week);
            height += week.height();
        }
        if (!part.isEmpty()) {
            parts.add(picture.draw(part, height));
        }
        return parts;
    }

    private List<Week> weeks(List<ScheduleService.Day> days) {
        Map<UUID, String> names = new LinkedHashMap<>();
        Map<UUID, Map<Integer, List<ScheduleService.Slot>>> bars = new LinkedHashMap<>();
        for (ScheduleService.Day d : days) {
            for (ScheduleService.PersonDay p : d.people()) {
                names.put(p.id(), p.person());
                bars.computeIfAbsent(p.id(), k -> new TreeMap<>())
                        .put((int) (d.date().toEpochDay() - monday.toEpochDay()), p.slots());
            }
        }
        return names.entrySet().stream()
                .sorted(Map.Entry.<UUID, String>comparingByValue(String.CASE_INSENSITIVE_ORDER)
                        .thenComparing(Map.Entry::getKey))
                .map(e -> {
                    Map<Integer, List<ScheduleService.Slot>> own = bars.getOrDefault(e.getKey(), Map.of());
                    Map<Integer, List<String>> words = new TreeMap<>();
                    own.forEach((day, slots) -> words.put(day, words(slots)));
                    return new Week(TextWidth.wrap(e.getValue(), LETTERS, LEFT - 2 * EDGE), own, words);
                })
                .toList();
    }

    /** What is done in a day: the same step on rows of one block one after the other is said once, from when on. */
    private static List<String> words(List<ScheduleService.Slot> slots) {
        List<String> lines = new ArrayList<>();
        int i = 0;
        while (i < slots.size()) {
            ScheduleService.Slot first = slots.get(i);
            Task task = first.task();
            TreeSet<Integer> rows = new TreeSet<>();
            int end = i;
            while (end < slots.size() && alike(task, slots.get(end).task())) {
                Task next = slots.get(end++).task();
                if (next != null) {
                    rows.add(next.rowNumber());
                }
            }
            String what =
                    task == null ? "?" : task.stepName() + " " + task.blockCode() + "\u00a0r" + PlaceRun.shorten(rows);
            lines.addAll(TextWidth.wrap(first.from() + " " + what, LETTERS, DAY - 2 * EDGE));
            i = Math.max(end, i + 1);
        }
        return lines;
    }

    private static boolean alike(@Nullable Task a, @Nullable Task b) {
        return a == null
                ? b == null
                : b != null && a.step().equals(b.step()) && a.blockCode().equals(b.blockCode());
    }

    private String draw(List<Week> weeks, double height) {
        MarkupWriter svg = new MarkupWriter()
                .open(
                        "svg",
                        "class",
                        "plot week",
                        "viewBox",
                        "0 0 " + MarkupWriter.number(WIDTH) + " " + MarkupWriter.number(height),
                        "role",
                        "img",
                        "aria-labelledby",
                        "plot-name",
                        "aria-details",
                        "plot-told");
        for (int d = 0; d < 7; d++) {
            LocalDate date = monday.plusDays(d);
            double x = LEFT + d * DAY;
            if (lost.contains(date)) {
                svg.empty("rect", "class", "lost", "x", x, "y", 0.0, "width", DAY, "height", height);
            }
            text(
                    svg,
                    DateText.format(date, "EEE d MMM", locale) + (lost.contains(date) ? " \u25b2" : ""),
                    x + EDGE,
                    19,
                    "600");
            svg.empty("line", "class", "grid", "x1", x, "x2", x, "y1", 0.0, "y2", height);
        }
        double y = HEAD;
        for (Week week : weeks) {
            svg.empty("line", "class", "axis", "x1", 0.0, "x2", WIDTH, "y1", y, "y2", y);
            lines(svg, week.name(), EDGE, y + EDGE + 13, "600");
            double top = y;
            week.bars().forEach((day, slots) -> slots.forEach(s -> bar(svg, s, LEFT + day * DAY, top + EDGE)));
            week.words()
                    .forEach((day, lines) ->
                            lines(svg, lines, LEFT + day * DAY + EDGE, top + EDGE + BARS + EDGE + 12, "400"));
            y += week.height();
        }
        return svg.close("svg").toString();
    }

    private static void lines(MarkupWriter svg, List<String> lines, double x, double y, String weight) {
        for (int i = 0; i < lines.size(); i++) {
            text(svg, lines.get(i), x, y + i * LINE, weight);
        }
    }

    private static void text(MarkupWriter svg, String text, double x, double y, String weight) {
        svg.text("text", text, "x", x, "y", y, "font-size", LETTERS, "font-weight", weight);
    }

    private void bar(MarkupWriter svg, ScheduleService.Slot s, double x, double y) {
        double scale = (DAY - 2 * EDGE) / (last - 480.0);
        double from = x + EDGE + (minutes(s.from()) - 480) * scale;
        double width = Math.max(3, (minutes(s.to()) - minutes(s.from())) * scale - 1);
        Task task = s.task();
        svg.open("g");
        svg.text(
                "title",
                s.from() + "\u2013" + s.to() + " " + (task == null ? "?" : task.stepName() + " " + task.row()));
        svg.empty("rect", "class", "stint", "x", from, "y", y, "width", width, "height", BARS);
        svg.close("g");
    }

    /** The end of the longest day, at least 16:00. */
    private static int last(List<ScheduleService.Day> days) {
        return days.stream()
                .flatMap(d -> d.people().stream())
                .flatMap(p -> p.slots().stream())
                .mapToInt(s -> minutes(s.to()))
                .reduce(960, Math::max);
    }

    private static int minutes(String clock) {
        int colon = clock.indexOf(':');
        return Integer.parseInt(clock.substring(0, colon)) * 60 + Integer.parseInt(clock.substring(colon + 1));
    }
}
