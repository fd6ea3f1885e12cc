package org.rootling.ground.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.rootling.ground.Point;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Refused;
import org.rootling.platform.UnitText;

/**
 * Corners as people type them: one a line, distance east and distance north in the reader's unit, with a space, comma or
 * semicolon between ({@code 12.5 30}, {@code 12.5, 30}, {@code 12,5; 30}); a number may have its own unit behind it
 * ({@code 12.5m}, {@code 41ft}). One line alone with three numbers is a circle: middle and radius.
 */
final class CornersText {
    private static final int MOST_LINES = 10_000;
    private static final int CIRCLE_SIDES = 24;

    private CornersText() {}

    static List<Point> read(String text, String field) {
        List<double[]> lines = new ArrayList<>();
        String[] all = text.split("\\R", MOST_LINES + 2);
        for (int i = 0; i < Math.min(all.length, MOST_LINES + 1); i++) {
            if (!all[i].isBlank()) {
                lines.add(numbers(all[i].strip(), i + 1, field));
            }
        }
        if (lines.size() == 1 && lines.get(0).length == 3) {
            return circle(lines.get(0), field);
        }
        List<Point> corners = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            double[] pair = lines.get(i);
            if (pair.length != 2) {
                throw new Refused("ground.corners.line", i + 1).at(field);
            }
            corners.add(new Point(pair[0], pair[1]));
        }
        return corners;
    }

    private static double[] numbers(String line, int number, String field) {
        // a comma is a decimal comma only where something else parts the numbers
        String[] parts = line.contains(";")
                ? line.split(";")
                : line.matches(".*\\d\\s+[-+.\\d].*") && !line.matches(".*,\\s.*")
                        ? line.split("\\s+")
                        : line.split("\\s*,\\s*|\\s+");
        double[] values = new double[parts.length];
        for (int i = 0; i < parts.length; i++) {
            String typed = parts[i].strip().replace(',', '.').toLowerCase(Locale.ROOT);
            String plain = typed.replaceFirst("(m|ft)$", "");
            if (plain.length() > 24 || !plain.matches("[+-]?(\\d+\\.?\\d*|\\.\\d+)")) {
                throw new Refused("ground.corners.line", number).at(field);
            }
            boolean feet = typed.equals(plain) ? UnitText.us() : typed.endsWith("ft");
            values[i] = Double.parseDouble(plain) * (feet ? UnitText.METRES_PER_FOOT : 1);
        }
        return values;
    }

    /** Circumscribed, so that the polygon leaves out no part of the circle. */
    private static List<Point> circle(double[] middleAndRadius, String field) {
        double r = middleAndRadius[2] / Math.cos(Math.PI / CIRCLE_SIDES);
        if (!(r > 0 && r < 1000)) {
            throw new Refused("ground.corners.radius").at(field);
        }
        List<Point> corners = new ArrayList<>();
        for (int i = 0; i < CIRCLE_SIDES; i++) {
            double turn = 2 * Math.PI * i / CIRCLE_SIDES;
            corners.add(new Point(middleAndRadius[0] + r * Math.cos(turn), middleAndRadius[1] + r * Math.sin(turn)));
        }
        return corners;
    }

    static String write(List<Point> corners) {
        StringBuilder text = new StringBuilder();
        for (Point p : corners) {
            text.append(number(p.x())).append(' ').append(number(p.y())).append('\n');
        }
        return text.toString().strip();
    }

    private static String number(double metres) {
        return MarkupWriter.number(UnitText.us() ? metres / UnitText.METRES_PER_FOOT : metres);
    }
}
