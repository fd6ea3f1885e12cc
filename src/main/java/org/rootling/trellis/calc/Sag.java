package org.rootling.trellis.calc;

/**
 * A wire between two supports at the same height. Parabola: load even along the level, right for shallow spans
 * (d = w l^2 / 8 T, millwrightmasters.com tight-wire chart; L = S + 8 f^2 / 3 S, cableizer.com "Sag"). Catenary: load
 * even along the wire, exact for its own weight (y = (T/w) cosh(w x / T)). T is the level part of the tension.
 */
public final class Sag {
    private Sag() {}

    /** Mid-span sag, metres, of a parabola. */
    public static double parabolaM(double loadNPerM, double spanM, double tensionN) {
        return loadNPerM * spanM * spanM / (8 * tensionN);
    }

    /** Tension, newtons, of a parabola with that mid-span sag. */
    public static double tensionN(double loadNPerM, double spanM, double sagM) {
        return loadNPerM * spanM * spanM / (8 * sagM);
    }

    /** Length, metres, of a shallow parabola; error below 32/5 f^4/S^3. */
    public static double parabolaLengthM(double spanM, double sagM) {
        return spanM + 8 * sagM * sagM / (3 * spanM);
    }

    /** Mid-span sag, metres, of a catenary. */
    public static double catenaryM(double loadNPerM, double spanM, double tensionN) {
        double half = loadNPerM * spanM / (2 * tensionN);
        // cosh(u) - 1 = 2 sinh^2(u/2), which keeps its digits for the very small u of a tight wire
        double sinh = Math.sinh(half / 2);
        return tensionN / loadNPerM * 2 * sinh * sinh;
    }

    /** Length, metres, of a catenary. */
    public static double catenaryLengthM(double loadNPerM, double spanM, double tensionN) {
        double c = tensionN / loadNPerM;
        return 2 * c * Math.sinh(spanM / (2 * c));
    }

    /** Level tension, newtons, of a catenary with that mid-span sag; by halving, to 1e-12 of its value. */
    public static double catenaryTensionN(double loadNPerM, double spanM, double sagM) {
        double low = loadNPerM * spanM / 1000;
        double high = 2 * tensionN(loadNPerM, spanM, sagM) + loadNPerM * (spanM + sagM);
        for (int i = 0; i < 200 && high - low > 1e-12 * high; i++) {
            double middle = (low + high) / 2;
            if (catenaryM(loadNPerM, spanM, middle) > sagM) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
