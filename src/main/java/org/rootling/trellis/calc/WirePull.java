package org.rootling.trellis.calc;

/**
 * Wires that pull level at one height.
 *
 * @param heightM height above the ground, metres
 * @param count wires at this height
 * @param tensionN tension of each, newtons
 */
public record WirePull(double heightM, int count, double tensionN) {
    /** Pull of all wires at this height, newtons. */
    public double pullN() {
        return count * tensionN;
    }

    /** Moment of that pull about the ground line, newton metres. */
    public double momentNm() {
        return pullN() * heightM;
    }
}
