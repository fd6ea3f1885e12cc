package org.rootling.trellis.calc;

/**
 * What becomes of a wire's tension when the temperature or the load on it changes and its ends stay where they are: the
 * change-of-state equation of parabolic spans as overhead lines use it,
 * {@code T - EA w^2 l^2 / (24 T^2) = T0 - EA w0^2 l^2 / (24 T0^2) - EA alpha dT}. End posts give way a little, so the
 * result is the upper bound.
 */
public final class WireState {
    private WireState() {}

    /**
     * @param spanM distance between posts, metres
     * @param startN tension as tightened, newtons
     * @param startNPerM load per metre then: the wire's own weight
     * @param thenNPerM load per metre now, all directions together
     * @param deltaK temperature now less temperature at tightening, kelvins
     * @return tension now, newtons, to 1e-9 of its value
     */
    public static double tensionN(
            Wire wire, double spanM, double startN, double startNPerM, double thenNPerM, double deltaK) {
        double right = startN - bow(wire, spanM, startNPerM) / (startN * startN) + wire.fixedChangeN(deltaK);
        double bow = bow(wire, spanM, thenNPerM);
        double low = 1e-6;
        double high = Math.max(right, 0) + Math.cbrt(bow) + 1;
        for (int i = 0; i < 200 && high - low > 1e-9 * high; i++) {
            double middle = (low + high) / 2;
            if (middle - bow / (middle * middle) < right) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    private static double bow(Wire wire, double spanM, double loadNPerM) {
        return wire.stiffnessN() * loadNPerM * loadNPerM * spanM * spanM / 24;
    }
}
