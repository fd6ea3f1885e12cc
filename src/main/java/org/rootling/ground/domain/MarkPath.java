package org.rootling.ground.domain;

import org.rootling.platform.MarkupWriter;

/**
 * Marks of one kind as one path, a piece for each: a plan has hundreds of them, and an element for each would be most of
 * its page. Dots and rings are points drawn with a round cap, a ring with a smaller one on top.
 */
final class MarkPath {
    private final String shape;
    private final double r;
    private final String piece;
    private final StringBuilder d = new StringBuilder();

    /**
     * None yet.
     *
     * @param shape one of {@link org.rootling.ground.Mark}
     * @param r half the width of a mark
     */
    MarkPath(String shape, double r) {
        this.shape = shape;
        this.r = r;
        String wide = MarkupWriter.number(2 * r);
        this.piece = switch (shape) {
            case "square" -> {
                String side = MarkupWriter.number(r * 1.7);
                yield "h" + side + "v" + side + "h-" + side + "z";
            }
            case "triangle" -> "l" + MarkupWriter.number(r) + " " + MarkupWriter.number(r * 1.8) + "h-" + wide + "z";
            case "cross" -> "l" + wide + " " + wide + "m0-" + wide + "l-" + wide + " " + wide;
            case "dash" -> "h" + wide;
            default -> "h0";
        };
    }

    /** One more, with its middle here. */
    void add(double x, double y) {
        double left = switch (shape) {
            case "square" -> r * 0.85;
            case "cross", "dash" -> r;
            default -> 0;
        };
        double up = switch (shape) {
            case "square" -> r * 0.85;
            case "cross", "triangle" -> r;
            default -> 0;
        };
        d.append('M');
        MarkupWriter.number(d, x - left);
        d.append(' ');
        MarkupWriter.number(d, y - up);
        d.append(piece);
    }

    /** Writes all of them, their lines so wide. */
    void write(MarkupWriter out, String cssClass, double line) {
        switch (shape) {
            case "square", "triangle" -> out.empty("path", "class", cssClass, "d", d, "stroke-width", line);
            case "cross" -> out.empty("path", "class", cssClass, "d", d, "stroke-width", line * 1.5);
            case "dash" -> out.empty("path", "class", cssClass, "d", d, "stroke-width", line * 2);
            default -> {
                out.empty("path", "class", cssClass, "d", d, "stroke-linecap", "round", "stroke-width", 2 * r + line);
                if (shape.equals("ring")) {
                    out.empty("path", "class", "hole", "d", d, "stroke-linecap", "round", "stroke-width", 2 * r - line);
                }
            }
        }
    }
}
