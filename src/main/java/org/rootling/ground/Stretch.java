package org.rootling.ground;

/**
 * One unbroken piece of a row, from end post to end post; metres in the block's plane.
 *
 * @param segment from 1 along the row
 * @param firstPlace number in the row of its first place
 * @param places planting positions in it
 * @param startGapM end post at the start to the first vine
 * @param endGapM last vine to the end post
 * @param vineSpacingM vine to vine
 */
public record Stretch(
        int segment,
        int firstPlace,
        int places,
        double startX,
        double startY,
        double endX,
        double endY,
        double startGapM,
        double endGapM,
        double vineSpacingM) {

    /** End post to end post, metres. */
    public double lengthM() {
        return Math.hypot(endX - startX, endY - startY);
    }

    /** Number in the row of its last place. */
    public int lastPlace() {
        return firstPlace + places - 1;
    }

    /** Where a place of this stretch lies; the number is that in the row. */
    public Point position(int place) {
        return along(startGapM + (place - firstPlace) * vineSpacingM);
    }

    /** The spot that many metres from the end post at the start. */
    public Point along(double metres) {
        double length = lengthM();
        double share = length == 0 ? 0 : metres / length;
        return new Point(startX + (endX - startX) * share, startY + (endY - startY) * share);
    }
}
