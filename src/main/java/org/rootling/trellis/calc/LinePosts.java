package org.rootling.trellis.calc;

/**
 * Posts between the two end posts of one stretch of row.
 *
 * @param count how many
 * @param spanM longest distance between neighbours, metres
 */
public record LinePosts(int count, double spanM) {
    /** Keeps a row that is an exact multiple of the span from getting one post too many by rounding. */
    private static final double HAIR = 1e-9;

    /** The fewest posts whose equal spans do not exceed the maximum. */
    public static LinePosts bySpan(double lengthM, double maxSpanM) {
        int bays = Math.max(1, (int) Math.ceil(lengthM / maxSpanM - HAIR));
        return new LinePosts(bays - 1, lengthM / bays);
    }

    /**
     * A post after every so many vines, half-way between two vines.
     *
     * @param endGapM end post to first vine, metres
     */
    public static LinePosts byVines(int vines, int every, double vineSpacingM, double endGapM) {
        int bays = Math.max(1, (vines + every - 1) / every);
        int last = vines - (bays - 1) * every;
        if (bays == 1) {
            return new LinePosts(0, 2 * endGapM + Math.max(0, vines - 1) * vineSpacingM);
        }
        double first = endGapM + (every - 0.5) * vineSpacingM;
        double inner = bays > 2 ? every * vineSpacingM : 0;
        double end = endGapM + (last - 0.5) * vineSpacingM;
        return new LinePosts(bays - 1, Math.max(first, Math.max(inner, end)));
    }
}
