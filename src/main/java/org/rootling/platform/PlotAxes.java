package org.rootling.platform;

/**
 * The frame that every plot of ours shares: outline, grid, ticks and the words beside them. Labels stand outside the area
 * that is drawn in, so that no line runs through them. Units are those of the drawing, y downwards.
 */
public final class PlotAxes {

    /** Width of every plot. */
    public static final int WIDTH = 640;

    private static final int LETTERS = 12;
    private static final String INK = "#2b2a24";
    private static final String FAINT = "#cfc6ae";

    private final MarkupWriter svg = new MarkupWriter();
    private final int height;
    private final int left;
    private final int right;
    private final int top;
    private final int bottom;

    /**
     * Begins a plot; the page tells the same in words, a list or a table with the id {@code plot-told}.
     *
     * @param title said by a screen reader
     * @param height of the whole drawing
     * @param before room at the left
     * @param after room at the right
     * @param above room at the top
     * @param below room at the bottom
     */
    public PlotAxes(String title, int height, int before, int after, int above, int below) {
        this.height = height;
        this.left = before;
        this.right = WIDTH - after;
        this.top = above;
        this.bottom = height - below;
        svg.open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "viewBox",
                "0 0 " + WIDTH + " " + height,
                "class",
                "plot",
                "role",
                "img",
                "aria-details",
                "plot-told",
                "aria-label",
                title);
        svg.text("title", title);
    }

    public int left() {
        return left;
    }

    public int right() {
        return right;
    }

    public int top() {
        return top;
    }

    public int bottom() {
        return bottom;
    }

    /** What is drawn in the frame. */
    public MarkupWriter svg() {
        return svg;
    }

    /** A faint line across the plot, with its value at the left. */
    public void across(double y, String label) {
        svg.line(left, y, right, y, "class", "grid", "stroke", FAINT);
        label(label, left - 6, y + 4, "end");
    }

    /** A faint line from the top to the base. */
    public void down(double x) {
        svg.line(x, top, x, bottom, "class", "grid", "stroke", FAINT);
    }

    /** A short mark on the base, with its value below. */
    public void tick(double x, String label) {
        svg.line(x, bottom, x, bottom + 5, "class", "axis", "stroke", INK);
        label(label, x, bottom + 18, "middle");
    }

    /** The line that everything stands on. */
    public void base() {
        svg.line(left, bottom, right, bottom, "class", "axis", "stroke", INK);
    }

    /** The line at the left. */
    public void side() {
        svg.line(left, top, left, bottom, "class", "axis", "stroke", INK);
    }

    /** What the two directions mean. */
    public void titles(String along, String upwards) {
        label(along, (left + right) / 2.0, height - 8, "middle");
        label(upwards, 6, 14, "start");
    }

    /** Small words; {@code anchor} is start, middle or end. */
    public void label(String text, double x, double y, String anchor) {
        svg.text("text", text, "x", x, "y", y, "text-anchor", anchor, "font-size", LETTERS);
    }

    /** Ends the plot. */
    public String close() {
        return svg.close("svg").toString();
    }

    /** A round step (1, 2 or 5 times a power of ten) that needs at most so many of them up to {@code most}. */
    public static int step(int most, int steps) {
        for (long unit = 1; ; unit *= 10) {
            for (int times : new int[] {1, 2, 5}) {
                if (most <= steps * unit * times) {
                    return (int) (unit * times);
                }
            }
        }
    }
}
