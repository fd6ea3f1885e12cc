package org.rootling.trellis.calc;

/**
 * A round steel wire.
 *
 * @param kind steel
 * @param diameterM diameter, metres, zinc left out
 */
public record Wire(WireKind kind, double diameterM) {
    /** Density of steel, kg/m3 (from memory; agrees with the published lengths of 25-kg coils). */
    public static final double DENSITY = 7850;
    /** Young's modulus of steel wire, pascals (from memory). */
    public static final double E_PA = 200e9;
    /** Linear expansion of steel per kelvin (from memory, 11 to 12.5e-6). */
    public static final double ALPHA = 12e-6;
    /** Standard gravity, m/s2. */
    public static final double G = 9.80665;
    /** Published advice: no more than 250 lb on 2.5 mm high-tensile wire (Powerfields fencing note). */
    public static final double ADVISED_MAX_N = 250 * 4.4482216152605;

    public Wire {
        if (!(diameterM > 0)) {
            throw new IllegalArgumentException("wire diameter " + diameterM);
        }
    }

    /** Cross-section, square metres. */
    public double areaM2() {
        return Math.PI * diameterM * diameterM / 4;
    }

    /** Mass of a metre, kilograms. */
    public double massKgPerM() {
        return DENSITY * areaM2();
    }

    /** Weight of a metre, newtons. */
    public double weightNPerM() {
        return massKgPerM() * G;
    }

    /** Load at which the wire breaks, newtons. */
    public double breakingN() {
        return kind.tensilePa() * areaM2();
    }

    /** Stiffness EA, newtons per unit of strain. */
    public double stiffnessN() {
        return E_PA * areaM2();
    }

    /** Length of a coil of the given mass, metres. */
    public double coilM(double massKg) {
        return massKg / massKgPerM();
    }

    /** Change of length with temperature of a wire that is free to move, metres: alpha L dT. */
    public static double expansionM(double lengthM, double deltaK) {
        return ALPHA * lengthM * deltaK;
    }

    /** Change of tension of a straight wire held fast at both ends, newtons: -EA alpha dT; cold tightens. */
    public double fixedChangeN(double deltaK) {
        return -stiffnessN() * ALPHA * deltaK;
    }

    /** How much longer a wire of that length is under tension than slack, metres: T L / (EA). */
    public double stretchM(double tensionN, double lengthM) {
        return tensionN * lengthM / stiffnessN();
    }

    /**
     * Turns of a tensioner's drum that take in the stretch and the slack.
     *
     * @param drumM diameter of the drum, metres; the wire lies on it, so its centre runs on drum plus wire
     * @param slackM wire to take in before it is straight, metres
     */
    public double turns(double tensionN, double lengthM, double slackM, double drumM) {
        return (stretchM(tensionN, lengthM) + slackM) / (Math.PI * (drumM + diameterM));
    }

    /**
     * Most tension that published advice allows, newtons: 250 lb on 2.5 mm high-tensile wire; on other wires in
     * proportion to what they bear (rule of thumb).
     */
    public double advisedMaxN() {
        return ADVISED_MAX_N * breakingN() / new Wire(WireKind.HIGH_TENSILE, 0.0025).breakingN();
    }
}
