package org.rootling.ground.domain;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.BlockPlan;
import org.rootling.ground.Mark;
import org.rootling.ground.PlanMarks;
import org.rootling.ground.PlanPins;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.Field;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.UnitText;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** Draws plans in the one drawing language; north is up. */
@Component
public class PlanDrawing implements BlockPlan {
    /** Boundaries of more corners are drawn without their numbers, which nobody could read. */
    private static final int MOST_NUMBERED = 40;

    /** Letters of a line under a pin. */
    private static final int SHORT_LINE = 9;

    /** About how wide a letter is against its height. */
    private static final double LETTER = 0.58;

    private final GroundService ground;
    private final MessageSource messages;
    private final UnitText units;
    private final ObjectProvider<PlanPins> pins;

    PlanDrawing(GroundService ground, MessageSource messages, UnitText units, ObjectProvider<PlanPins> pins) {
        this.pins = pins;
        this.ground = ground;
        this.messages = messages;
        this.units = units;
    }

    @Override
    public String svg(UUID blockId, PlanMarks marks) {
        return svg(blockId, ground.rows(blockId), marks);
    }

    @Override
    public String svg(UUID blockId, List<Row> rows, PlanMarks marks) {
        BlockStore.Outline outline = ground.outline(blockId);
        return figure(
                word("ground.plan.of", outline.code()),
                outline.field(),
                rows,
                outline.headlandM(),
                marks,
                List.of(),
                pins.stream().flatMap(p -> p.pins(blockId).stream()).toList());
    }

    /** A peg or another point with its letter. */
    public record Peg(String letter, Point at) {}

    /** A figure of any field with rows, stored or not. */
    public String figure(String title, Field field, List<Row> rows, double headlandM, PlanMarks marks) {
        return figure(title, field, rows, headlandM, marks, List.of());
    }

    /** The same with pegs. */
    public String figure(String title, Field field, List<Row> rows, double headlandM, PlanMarks marks, List<Peg> pegs) {
        return figure(title, field, rows, headlandM, marks, pegs, List.of());
    }

    private String figure(
            String title,
            Field field,
            List<Row> rows,
            double headlandM,
            PlanMarks marks,
            List<Peg> pegs,
            List<PlanPins.Pin> beside) {
        Drawing d = new Drawing(field);
        d.begin(title);
        d.ring(field.boundary(), "boundary", 2);
        for (List<Point> patch : field.exclusions()) {
            d.ring(patch, "exclusion", 1);
        }
        int places = rows.stream().mapToInt(Row::places).sum();
        boolean each = places <= MOST_DRAWN;
        Map<String, Mark> used = new LinkedHashMap<>();
        Map<Double, MarkPath> bare = new LinkedHashMap<>();
        d.lines(rows, headlandM);
        for (Row row : rows) {
            Map<Mark, List<Point>> marked = new LinkedHashMap<>();
            double r = d.radius(row);
            for (Stretch s : row.stretches()) {
                for (int place = s.firstPlace(); each && place <= s.lastPlace(); place++) {
                    Mark mark = marks.mark(row, place);
                    Point at = s.position(place);
                    if (mark == null) {
                        bare.computeIfAbsent(r, x -> new MarkPath("ring", x * 0.6))
                                .add(d.x(at.x()), d.y(at.y()));
                    } else {
                        marked.computeIfAbsent(mark, m -> new ArrayList<>()).add(at);
                    }
                }
            }
            marked.keySet().forEach(mark -> used.putIfAbsent(mark.word(), mark));
            d.marks(row, r, marked, marks.href(row));
        }
        bare.forEach((r, path) -> path.write(d.out, "place", Math.min(d.pen * 0.7, r * 0.3)));
        d.posts(rows);
        rows.forEach(row -> d.number(row, rows.size()));
        d.corners(field.boundary());
        pegs.forEach(d::peg);
        beside.forEach(d::pin);
        d.northAndScale(units);
        d.end();
        return "<figure class=\"plan-figure\">" + d.out + legend(field, rows, headlandM, !bare.isEmpty(), used, beside)
                + "</figure>";
    }

    private String legend(
            Field field,
            List<Row> rows,
            double headlandM,
            boolean bare,
            Map<String, Mark> used,
            List<PlanPins.Pin> beside) {
        StringBuilder list = new StringBuilder("<ul class=\"legend plan-legend\">");
        entry(list, word("ground.plan.boundary"), "boundary", "line");
        if (field.boundary().size() <= MOST_NUMBERED) {
            entry(list, word("ground.plan.corner"), "corner", "number");
        }
        if (!field.exclusions().isEmpty()) {
            entry(list, word("ground.plan.exclusion"), "exclusion", "square");
        }
        if (!rows.isEmpty()) {
            entry(list, word("ground.plan.row"), "line", "line");
            entry(list, word("ground.plan.post"), "post", "square");
        }
        if (!rows.isEmpty() && headlandM > 0) {
            entry(list, word("ground.plan.headland"), "headland", "dots");
        }
        if (bare) {
            entry(list, word("ground.plan.place"), "place", "ring");
        }
        for (Mark mark : used.values()) {
            entry(list, mark.word(), "mark " + mark.cssClass(), mark.shape());
        }
        beside.stream().map(PlanPins.Pin::word).distinct().forEach(word -> entry(list, word, "pin", "house"));
        return list.append("</ul>").toString();
    }

    private static void entry(StringBuilder list, String word, String cssClass, String shape) {
        MarkupWriter svg = new MarkupWriter()
                .open("li")
                .open("svg", "class", "plan-key", "viewBox", "0 0 20 20", "aria-hidden", "true");
        switch (shape) {
            case "line" ->
                svg.empty("line", "class", cssClass, "x1", 1, "y1", 10, "x2", 19, "y2", 10, "stroke-width", 2);
            case "dots" ->
                svg.empty(
                        "line",
                        "class",
                        cssClass,
                        "x1",
                        1,
                        "y1",
                        10,
                        "x2",
                        19,
                        "y2",
                        10,
                        "stroke-width",
                        2,
                        "stroke-dasharray",
                        "2 3");
            case "number" ->
                svg.text("text", "1", "class", cssClass, "x", 10, "y", 16, "font-size", 17, "text-anchor", "middle");
            default -> shape(svg, cssClass, shape, 10, 10, 6, 2);
        }
        svg.close("svg").text("span", word).close("li");
        list.append(svg);
    }

    /** One mark about a middle; r is half its width. */
    private static void shape(
            MarkupWriter svg, String cssClass, String shape, double x, double y, double r, double line) {
        MarkPath one = new MarkPath(shape, r);
        one.add(x, y);
        one.write(svg, cssClass, line);
    }

    /** The words of a name in lines of up to {@value #SHORT_LINE} letters; longer words stay whole. */
    static List<String> shortLines(String name) {
        List<String> lines = new ArrayList<>();
        for (String word : name.strip().split("\\s+")) {
            int last = lines.size() - 1;
            if (last >= 0 && lines.get(last).length() + 1 + word.length() <= SHORT_LINE) {
                lines.set(last, lines.get(last) + " " + word);
            } else {
                lines.add(word);
            }
        }
        return lines;
    }

    private static String path(double x, double y) {
        return "M" + pair(x, y);
    }

    private static String pair(double x, double y) {
        return MarkupWriter.number(x) + " " + MarkupWriter.number(y);
    }

    private String word(String key, @Nullable Object... args) {
        Locale locale = LocaleContextHolder.getLocale();
        return messages.getMessage(key, args, locale);
    }

    /** One drawing: metres east and north become units right and down. */
    private final class Drawing {
        private final MarkupWriter out = new MarkupWriter();
        private final double left;
        private final double top;
        private final double width;
        private final double height;
        private final double pen;
        private final List<double[]> labels = new ArrayList<>();

        Drawing(Field field) {
            double minX = Double.MAX_VALUE;
            double minY = Double.MAX_VALUE;
            double maxX = -Double.MAX_VALUE;
            double maxY = -Double.MAX_VALUE;
            for (Point p : field.boundary()) {
                minX = Math.min(minX, p.x());
                minY = Math.min(minY, p.y());
                maxX = Math.max(maxX, p.x());
                maxY = Math.max(maxY, p.y());
            }
            double span = Math.max(maxX - minX, maxY - minY);
            double edge = span * 0.06;
            this.left = minX - edge;
            this.top = maxY + edge;
            this.width = Math.max(maxX - minX, span * 0.35) + 2 * edge;
            this.height = maxY - minY + 2 * edge + span * 0.1;
            this.pen = Math.max(width, height) / 500;
        }

        private double x(double east) {
            return east - left;
        }

        private double y(double north) {
            return top - north;
        }

        void begin(String title) {
            out.open(
                    "svg",
                    "xmlns",
                    "http://www.w3.org/2000/svg",
                    "class",
                    "plan",
                    "role",
                    "group",
                    "aria-details",
                    "plan-told",
                    "viewBox",
                    "0 0 " + pair(width, height));
            out.text("title", title);
        }

        void ring(List<Point> corners, String cssClass, double weight) {
            StringBuilder points = new StringBuilder();
            for (Point p : corners) {
                points.append(points.isEmpty() ? "" : " ").append(pair(x(p.x()), y(p.y())));
            }
            out.empty("polygon", "class", cssClass, "points", points, "stroke-width", pen * weight);
        }

        /** Row lines, and the headland at both ends of each. */
        void lines(List<Row> rows, double headlandM) {
            StringBuilder lines = new StringBuilder();
            StringBuilder headland = new StringBuilder();
            for (Row row : rows) {
                for (Stretch s : row.stretches()) {
                    line(lines, s.startX(), s.startY(), s.endX(), s.endY());
                    double length = s.lengthM();
                    if (headlandM > 0 && length > 0) {
                        double ux = (s.endX() - s.startX()) / length * headlandM;
                        double uy = (s.endY() - s.startY()) / length * headlandM;
                        line(headland, s.startX() - ux, s.startY() - uy, s.startX(), s.startY());
                        line(headland, s.endX(), s.endY(), s.endX() + ux, s.endY() + uy);
                    }
                }
            }
            if (!lines.isEmpty()) {
                out.empty("path", "class", "line", "d", lines, "stroke-width", pen * 0.8);
            }
            if (!headland.isEmpty()) {
                String dashes = MarkupWriter.number(pen) + " " + MarkupWriter.number(pen * 2);
                out.empty(
                        "path",
                        "class",
                        "headland",
                        "d",
                        headland,
                        "stroke-width",
                        pen * 0.8,
                        "stroke-dasharray",
                        dashes);
            }
        }

        private void line(StringBuilder path, double ax, double ay, double bx, double by) {
            path.append('M').append(pair(x(ax), y(ay))).append('L').append(pair(x(bx), y(by)));
        }

        /** End posts: points drawn with a square cap. */
        void posts(List<Row> rows) {
            StringBuilder posts = new StringBuilder();
            for (Row row : rows) {
                for (Stretch s : row.stretches()) {
                    posts.append('M').append(pair(x(s.startX()), y(s.startY()))).append("h0");
                    posts.append('M').append(pair(x(s.endX()), y(s.endY()))).append("h0");
                }
            }
            if (!posts.isEmpty()) {
                double wide = 2 * Math.min(pen * 2.2, 0.7);
                out.empty("path", "class", "post", "d", posts, "stroke-linecap", "square", "stroke-width", wide);
            }
        }

        private double radius(Row row) {
            double spacing = row.stretches().stream()
                    .mapToDouble(Stretch::vineSpacingM)
                    .min()
                    .orElse(1);
            return Math.min(spacing * 0.34, pen * 6);
        }

        /** The marks of a row, a path for each state. */
        void marks(Row row, double r, Map<Mark, List<Point>> marked, @Nullable String href) {
            if (marked.isEmpty()) {
                return;
            }
            if (href == null) {
                out.open("g");
            } else {
                out.open("a", "href", href);
            }
            out.text("title", title(row, marked));
            marked.forEach((mark, points) -> {
                MarkPath path = new MarkPath(mark.shape(), r);
                points.forEach(p -> path.add(x(p.x()), y(p.y())));
                path.write(out, "mark " + mark.cssClass(), Math.min(pen * 1.2, r * 0.4));
            });
            out.close(href == null ? "g" : "a");
        }

        private static String title(Row row, Map<Mark, List<Point>> marked) {
            StringBuilder title = new StringBuilder(row.name());
            String before = ": ";
            for (Map.Entry<Mark, List<Point>> each : marked.entrySet()) {
                title.append(before)
                        .append(each.getValue().size())
                        .append(' ')
                        .append(each.getKey().word());
                before = ", ";
            }
            return title.toString();
        }

        void number(Row row, int rows) {
            double size = pen * 14;
            Stretch s = row.stretches().get(0);
            Point p = s.along(-size * 0.9);
            for (double[] before : labels) {
                if (Math.hypot(before[0] - p.x(), before[1] - p.y()) < size * 1.5 && row.number() != rows) {
                    return;
                }
            }
            labels.add(new double[] {p.x(), p.y()});
            out.text(
                    "text",
                    String.valueOf(row.number()),
                    "x",
                    x(p.x()),
                    "y",
                    y(p.y()) + size * 0.35,
                    "font-size",
                    size,
                    "text-anchor",
                    "middle");
        }

        /** Numbers the corners, outside of them, as the sides and the stake-out sheet name them. */
        void corners(List<Point> ring) {
            double size = pen * 15;
            int n = ring.size();
            for (int i = 0; i < n && n <= MOST_NUMBERED; i++) {
                Point here = ring.get(i);
                Point a = outward(ring.get((i + n - 1) % n), here);
                Point b = outward(here, ring.get((i + 1) % n));
                double east = a.x() + b.x();
                double north = a.y() + b.y();
                double length = Math.max(0.2, Math.hypot(east, north));
                Point at = here.plus(east / length * size * 0.85, north / length * size * 0.85);
                letter(String.valueOf(i + 1), "corner", at, size);
            }
        }

        private static Point outward(Point from, Point to) {
            double length = from.distance(to);
            return new Point((to.y() - from.y()) / length, (from.x() - to.x()) / length);
        }

        void peg(Peg peg) {
            double size = pen * 15;
            shape(out, "peg", "cross", x(peg.at().x()), y(peg.at().y()), pen * 4, pen * 1.5);
            letter(peg.letter(), "peg-letter", peg.at().plus(size * 0.7, size * 0.7), size);
        }

        private void letter(String text, String cssClass, Point at, double size) {
            out.text(
                    "text",
                    text,
                    "class",
                    cssClass,
                    "x",
                    x(at.x()),
                    "y",
                    y(at.y()) + size * 0.35,
                    "font-size",
                    size,
                    "text-anchor",
                    "middle");
        }

        /** Beside the rows; what lies beyond the drawing stands at its edge. */
        void pin(PlanPins.Pin pin) {
            double size = pen * 14;
            double px = Math.max(size, Math.min(x(pin.at().x()), width - size));
            double py = Math.max(size, Math.min(y(pin.at().y()), height - 2 * size));
            if (pin.href() == null) {
                out.open("g");
            } else {
                out.open("a", "href", pin.href());
            }
            out.text("title", pin.word() + ": " + pin.name());
            shape(out, "pin", "house", px, py, size * 0.6, pen * 1.5);
            under(pin.name(), px, py, size);
            out.close(pin.href() == null ? "g" : "a");
        }

        /** A name in short lines under a house, or over it at the lower edge: beside it, it would lie across the rows. */
        private void under(String name, double px, double py, double size) {
            List<String> lines = shortLines(name);
            double line = size * 1.1;
            double high = lines.size() * line;
            boolean over = py + size + high > height;
            double half = lines.stream().mapToInt(String::length).max().orElse(0) * size * LETTER / 2;
            double middle = Math.max(half, Math.min(px, width - half));
            out.open("text", "font-size", size, "text-anchor", "middle");
            for (int i = 0; i < lines.size(); i++) {
                double y = over ? py - size - high + (i + 1) * line : py + size * 0.7 + (i + 1) * line;
                String words = i + 1 < lines.size() ? lines.get(i) + " " : lines.get(i);
                out.text("tspan", words, "x", middle, "y", y);
            }
            out.close("text");
        }

        void northAndScale(UnitText text) {
            double size = pen * 14;
            double baseline = height - size;
            double unit = UnitText.us() ? UnitText.METRES_PER_FOOT : 1;
            double bar = nice(width * 0.3 / unit) * unit;
            double from = size;
            out.empty(
                    "path",
                    "class",
                    "boundary",
                    "d",
                    path(from, baseline - size * 0.3) + "V" + MarkupWriter.number(baseline) + "H"
                            + MarkupWriter.number(from + bar) + "V" + MarkupWriter.number(baseline - size * 0.3),
                    "stroke-width",
                    pen * 1.5);
            out.text(
                    "text",
                    text.length(bar, 0),
                    "x",
                    from + bar + size * 0.5,
                    "y",
                    baseline + size * 0.2,
                    "font-size",
                    size);
            double nx = width - size * 1.5;
            out.empty(
                    "path",
                    "class",
                    "post",
                    "d",
                    path(nx, baseline - size * 1.6) + "L" + pair(nx + size * 0.45, baseline) + "L"
                            + pair(nx, baseline - size * 0.35) + "L" + pair(nx - size * 0.45, baseline) + "Z",
                    "stroke-width",
                    0);
            out.text(
                    "text",
                    word("ground.plan.north"),
                    "x",
                    nx,
                    "y",
                    baseline - size * 1.8,
                    "font-size",
                    size,
                    "text-anchor",
                    "middle");
        }

        private double nice(double most) {
            double ten = Math.pow(10, Math.floor(Math.log10(most)));
            return most >= 5 * ten ? 5 * ten : most >= 2 * ten ? 2 * ten : ten;
        }

        void end() {
            out.close("svg");
        }
    }
}
