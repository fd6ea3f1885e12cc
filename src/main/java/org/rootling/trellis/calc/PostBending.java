package org.rootling.trellis.calc;

import java.util.List;

/**
 * Bending of a round post that is hinged at the ground line and held at one point above it, under level wire pulls:
 * a simple beam with an overhang. Friction and the post's own weight are left out.
 */
public final class PostBending {
    /** Bending strength of treated softwood posts, characteristic, pascals (C24 class; from memory). */
    public static final double SOFTWOOD_PA = 24e6;
    /** Stiffness of softwood along the grain, pascals (from memory). */
    public static final double SOFTWOOD_E_PA = 8e9;

    private PostBending() {}

    /** Greatest bending moment anywhere in the post, newton metres. */
    public static double momentNm(EndPost post, double heldAtM, List<WirePull> wires) {
        double across = Math.cos(post.leanRad());
        double held = post.alongM(heldAtM);
        double reaction = wires.stream()
                        .mapToDouble(w -> w.pullN() * across * post.alongM(w.heightM()))
                        .sum()
                / held;
        double worst = Math.abs(at(post, held, held, reaction, wires));
        for (WirePull wire : wires) {
            worst = Math.max(worst, Math.abs(at(post, post.alongM(wire.heightM()), held, reaction, wires)));
        }
        return worst;
    }

    /** Moment at a point, taken from the free upper part: loads above it less the support if that is above too. */
    private static double at(EndPost post, double alongM, double heldM, double reactionN, List<WirePull> wires) {
        double moment = heldM > alongM ? -reactionN * (heldM - alongM) : 0;
        for (WirePull wire : wires) {
            double arm = post.alongM(wire.heightM()) - alongM;
            if (arm > 0) {
                moment += wire.pullN() * Math.cos(post.leanRad()) * arm;
            }
        }
        return moment;
    }

    /** Bending stress in a round post, pascals: 32 M / (pi d^3). */
    public static double stressPa(double momentNm, double diameterM) {
        return 32 * momentNm / (Math.PI * Math.pow(diameterM, 3));
    }

    /** Load under which a round strut hinged at both ends buckles, newtons: Euler, pi^2 E I / L^2, I = pi d^4 / 64. */
    public static double bucklingN(double lengthM, double diameterM) {
        double inertia = Math.PI * Math.pow(diameterM, 4) / 64;
        return Math.PI * Math.PI * SOFTWOOD_E_PA * inertia / (lengthM * lengthM);
    }
}
