package org.rootling.trellis.calc;

/** Steel of a wire, by its lowest tensile strength. */
public enum WireKind {
    /** High-tensile spring-hard wire: 1235 MPa, low end of the usual grade (from memory). */
    HIGH_TENSILE(1235e6),
    /** Low-carbon wire: 460 lb on 12 1/2 gauge (PasturePro, electricfencemonitor.com) = 417 MPa on 2.5 mm. */
    MILD_STEEL(417e6);

    private final double tensilePa;

    WireKind(double tensilePa) {
        this.tensilePa = tensilePa;
    }

    /** Tensile strength, pascals. */
    public double tensilePa() {
        return tensilePa;
    }
}
