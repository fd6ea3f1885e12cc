package org.rootling.trellis.calc;

/**
 * Tension by the deflection method: a spring scale draws the wire aside at mid-span, square to it. Equilibrium of the
 * point where it is held: F = 2 T sin a, tan a = 2 d / L; for small d this is the usual T = F L / (4 d).
 */
public final class Deflection {
    private Deflection() {}

    /** Tension while the wire is drawn aside, newtons. */
    public static double tensionN(double scaleN, double spanM, double deflectionM) {
        return scaleN * Math.hypot(spanM / 2, deflectionM) / (2 * deflectionM);
    }

    /**
     * Tension after the scale is taken off, newtons, never below zero. Drawing aside lengthens the wire by 2 d^2 / L;
     * over the length that can slide through the staples that is so much extra tension.
     *
     * @param freeM length of wire that shares the stretch: the run if it slides, the span if it is fixed at both posts
     */
    public static double restTensionN(double scaleN, double spanM, double deflectionM, Wire wire, double freeM) {
        return Math.max(0, tensionN(scaleN, spanM, deflectionM) - extraN(spanM, deflectionM, wire, freeM));
    }

    /** What the scale shows when a wire of that tension at rest is drawn aside, newtons. */
    public static double scaleN(double restTensionN, double spanM, double deflectionM, Wire wire, double freeM) {
        double drawn = restTensionN + extraN(spanM, deflectionM, wire, freeM);
        return scaleN(drawn, spanM, deflectionM);
    }

    /** What the scale shows when the tension while drawn aside is given, newtons. */
    public static double scaleN(double tensionN, double spanM, double deflectionM) {
        return tensionN * 2 * deflectionM / Math.hypot(spanM / 2, deflectionM);
    }

    private static double extraN(double spanM, double deflectionM, Wire wire, double freeM) {
        double longer = 2 * Math.hypot(spanM / 2, deflectionM) - spanM;
        return wire.stiffnessN() * longer / freeM;
    }
}
