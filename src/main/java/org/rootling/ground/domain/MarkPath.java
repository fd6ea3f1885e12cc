package org.rootling.ground.domain;

import org.rootling.platform.MarkupWriter;

/**
 * Marks of one kind as one path, a piece for each: a plan has hundreds of them, and an element for each would be most of
 * its page. Dots and rings are points drawn with a round cap, a ring with a smaller one on top.
 */
final class MarkPath {
    private final String shape;
    private final double r;
    private final double left;
    private final double up;
    private final String piece;
    private final StringBuilder d = new StringBuilder();

    /**
     * None yet.
     *
     * @param shape one of {@link org.rootling.ground.Mark}, or a house
     * @param r half the width of a mark
     */
    MarkPath(String shape, double r) {
        this.shape = shape;
        this.r = r;
        String half = MarkupWriter.number(r);
        String wide = MarkupWriter.number(2 * r);
        switch (shape) {
            case "square" -> {
                String side = MarkupWriter.number(r * 1.7);
                this.left = r * 0.85;
                this.up = r * 0.85;
                this.piece = "h" + side + "v" + side + "h-" + side + "z";
            }
            case "triangle" -> {
                this.left = 0;
                this.up = r;
                this.piece = "l" + half + " " + MarkupWriter.number(r * 1.8) + "h-" + wide + "z";
            }
            case "house" -> {
                this.left = 0;
                this.up = r;
                this.piece = "l" + half + " " + half + "v" + half + "h-" + wide + "v-" + half + "z";
            }
            case "cross" -> {
                this.left = r;
                this.up = r;
                this.piece = "l" + wide + " " + wide + "m0-" + wide + "l-" + wide + " " + wide;
            }
            case "dash" -> {
                this.left = r;
                this.up = 0;
                this.piece = "h" + wide;
            }
            default -> {
                this.left = 0;
                this.up = 0;
                this.piece = "h0";
            }
        }
    }

    /** One more, with its middle here. */
    void add(double x, double y) {
        d.append('M');
        MarkupWriter.number(d, x - left);
        d.append(' ');
        MarkupWriter.number(d, y - up);
        d.append(piece);
    }

    /** Writes all of them, their lines so wide. */
    void write(MarkupWriter out, String cssClass, double line) {
        switch (shape) {
            case "square", "triangle", "house" -> out.empty("path", "class", cssClass, "d", d, "stroke-width", line);
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
