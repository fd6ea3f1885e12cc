package org.rootling.trellis.calc;

/**
 * Soil classes for rough checks of what anchors and posts hold. All numbers are rules of thumb, from memory; only a
 * pull test on the spot tells what the ground really holds, and wet ground holds less.
 *
 * <p>Anchors: breakout theory of Meyerhof and Adams (1968) for shallow plates as foundation textbooks give it. Sand:
 * {@code Q = A g D (1 + 2 (1 + m D/B) (D/B) Ku tan phi)}, D/B taken no larger than the critical ratio. Clay:
 * {@code Q = A cu min(9, 1.2 D/B)}. Friction on a post: a fixed value over its buried surface.
 */
public enum Soil {
    LOOSE_SAND(15_000, 28, 0.08, 3.6, 0, 4_000),
    FIRM_SAND(17_000, 34, 0.14, 4.8, 0, 8_000),
    SOFT_CLAY(0, 0, 0, 0, 20_000, 6_000),
    FIRM_LOAM(0, 0, 0, 0, 45_000, 15_000),
    STIFF_CLAY(0, 0, 0, 0, 90_000, 25_000);

    private static final double KU = 0.95;

    private final double weightNPerM3;
    private final double phiDeg;
    private final double shape;
    private final double criticalRatio;
    private final double shearPa;
    private final double frictionPa;

    Soil(double weightNPerM3, double phiDeg, double shape, double criticalRatio, double shearPa, double frictionPa) {
        this.weightNPerM3 = weightNPerM3;
        this.phiDeg = phiDeg;
        this.shape = shape;
        this.criticalRatio = criticalRatio;
        this.shearPa = shearPa;
        this.frictionPa = frictionPa;
    }

    /**
     * Pull at which a plate or screw breaks out of the ground, newtons.
     *
     * @param plateM diameter of the screw's helix, or of the circle that has the buried plate's area, metres
     * @param depthM depth of the plate below the ground, metres
     */
    public double anchorN(double plateM, double depthM) {
        double area = Math.PI * plateM * plateM / 4;
        double ratio = depthM / plateM;
        if (shearPa > 0) {
            return area * shearPa * Math.min(9, 1.2 * ratio);
        }
        double held = Math.min(ratio, criticalRatio);
        double factor = breakout(held, shape, KU * Math.tan(Math.toRadians(phiDeg)));
        return area * weightNPerM3 * depthM * factor;
    }

    /** Breakout factor in sand: {@code 1 + 2 (1 + m r) r k} with r = depth over width and k = Ku tan phi. */
    static double breakout(double ratio, double shape, double kuTanPhi) {
        return 1 + 2 * (1 + shape * ratio) * ratio * kuTanPhi;
    }

    /** Pull at which a straight post slides out of the ground, newtons; the post's own weight is left out. */
    public double postPullOutN(double diameterM, double buriedM) {
        return Math.PI * diameterM * buriedM * frictionPa;
    }
}
