package org.rootling.trellis.calc;

import org.jspecify.annotations.Nullable;

/**
 * The tie from an end post back to an anchor at ground level.
 *
 * @param heightM height on the post, above the ground, metres
 * @param postOutM how far outwards of the post's foot the post stands at that height, metres
 * @param anchorOutM how far outwards of the post's foot the anchor lies, metres
 */
public record Tie(double heightM, double postOutM, double anchorOutM) {
    public Tie {
        if (!(heightM > 0) || !(anchorOutM > 0)) {
            throw new IllegalArgumentException("tie height " + heightM + ", anchor at " + anchorOutM);
        }
    }

    /** @param tieHeightM null ties the post's top */
    public static Tie of(EndPost post, @Nullable Double tieHeightM, double anchorDistanceM) {
        double height = tieHeightM == null ? post.topHeightM() : tieHeightM;
        return new Tie(height, post.outAtM(height), anchorDistanceM);
    }

    /** Length of the tie above the ground, metres. */
    public double lengthM() {
        return Math.hypot(heightM, anchorOutM - postOutM);
    }

    /** Angle between tie and level ground at the anchor, degrees; over 90 when the anchor lies inside the tied point. */
    public double angleDeg() {
        return Math.toDegrees(Math.atan2(heightM, anchorOutM - postOutM));
    }

    /** Distance of the tie's line from the post's foot, metres: what turns the tie's force into a moment. */
    public double leverM() {
        return heightM * anchorOutM / lengthM();
    }
}
