package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;

import org.junit.jupiter.api.Test;

class WireTest {
    private final Wire wire = new Wire(WireKind.HIGH_TENSILE, 0.0025);

    @Test
    void coilsAreAsLongAsTheMakerPrints() {
        // T05, T06: N.Z. Wire Industries, The Press, 18 Apr 1980: 25 kg hold 648 m of 2.50 mm, 253 m of 4.00 mm.
        assertThat(wire.coilM(25)).isCloseTo(648, within(1.0));
        assertThat(new Wire(WireKind.MILD_STEEL, 0.004).coilM(25)).isCloseTo(253, within(1.0));
    }

    @Test
    void massOfAMetre() {
        // T07: density times area.
        assertThat(wire.massKgPerM()).isCloseTo(0.03853, within(5e-5));
    }

    @Test
    void breakingLoadsAreThePublishedOnes() {
        // 12 1/2 gauge: high tensile about 1000 lb or more, low carbon 460 lb (PasturePro, electricfencemonitor.com).
        double pound = 4.44822;
        assertThat(wire.breakingN()).isGreaterThan(1000 * pound);
        assertThat(new Wire(WireKind.MILD_STEEL, 0.0025).breakingN()).isCloseTo(460 * pound, within(20.0));
    }

    @Test
    void advisedTensionIsThePublishedOneOnItsOwnWire() {
        // Powerfields fencing note: do not exceed 250 lb = 1.11 kN.
        assertThat(wire.advisedMaxN()).isCloseTo(1112.06, within(0.01));
        assertThat(new Wire(WireKind.HIGH_TENSILE, 0.002).advisedMaxN()).isLessThan(1112);
    }

    @Test
    void expansionAndColdTightening() {
        // T09: 100 m, 20 K, 12e-6: 24 mm (cableizer.com "Sag"). 03-trellis.md: 11.8 N per kelvin, 236 N per 20 K.
        assertThat(Wire.expansionM(100, 20)).isCloseTo(0.024, within(1e-4));
        assertThat(wire.fixedChangeN(-1)).isCloseTo(11.8, within(0.05));
        assertThat(wire.fixedChangeN(-20)).isCloseTo(236, within(1.0));
    }

    @Test
    void stretchIsHookesLaw() {
        // Rod of 981.7 kN stiffness, 900 N over 84 m: 77.0 mm; a 30 mm drum takes 101.8... mm a turn on the wire's
        // centre.
        assertThat(wire.stretchM(900, 84)).isCloseTo(0.0770, within(1e-4));
        assertThat(wire.turns(900, 84, 0, 0.030)).isCloseTo(0.0770 / (Math.PI * 0.0325), within(1e-3));
    }

    @Test
    void sagOfATightWire() {
        // T08: 6 m, 1 kN: 1.70 mm; 03-trellis.md also 5 m 1.18 mm, 8 m 3.02 mm.
        double w = wire.weightNPerM();
        assertThat(Sag.parabolaM(w, 6, 1000)).isCloseTo(0.0017, within(1e-5));
        assertThat(Sag.parabolaM(w, 5, 1000)).isCloseTo(0.00118, within(1e-5));
        assertThat(Sag.parabolaM(w, 8, 1000)).isCloseTo(0.00302, within(1e-5));
    }

    @Test
    void parabolicCableOfTheTextbook() {
        // Beer and Johnston, Vector Mechanics, sample problem of the parabolic cable (from memory): 40 m span, 0.5 m
        // sag, 0.75 kg/m at g 9.81: 2943 N at mid-span; half the cable is 20.00833 m long.
        double w = 0.75 * 9.81;
        assertThat(Sag.tensionN(w, 40, 0.5)).isCloseTo(2943, within(1.0));
        assertThat(Sag.parabolaLengthM(40, 0.5) / 2).isCloseTo(20.00833, within(1e-4));
    }

    @Test
    void catenaryOfTheTextbook() {
        // Beer and Johnston, sample problem of the catenary (from memory): 500 ft apart, 100 ft sag, 3 lb/ft: c 328 ft,
        // greatest tension 1284 lb, length 550 ft.
        double level = Sag.catenaryTensionN(3, 500, 100);
        assertThat(level / 3).isCloseTo(328, within(0.5));
        assertThat(level + 3 * 100).isCloseTo(1284, within(1.0));
        assertThat(Sag.catenaryLengthM(3, 500, level)).isCloseTo(550, within(0.5));
    }

    @Test
    void tightCatenaryAndParabolaAgree() {
        qt().forAll(doubles().between(2, 12), doubles().between(100, 3000)).check((span, tension) -> {
            double w = wire.weightNPerM();
            double parabola = Sag.parabolaM(w, span, tension);
            double catenary = Sag.catenaryM(w, span, tension);
            // series of cosh: the catenary hangs lower by the share (w l / T)^2 / 48
            double share = Math.pow(w * span / tension, 2) / 48;
            return catenary >= parabola * (1 - 1e-12)
                    && Math.abs(catenary / parabola - 1 - share) < share * 0.01 + 1e-12
                    && Math.abs(Sag.catenaryLengthM(w, span, tension) - Sag.parabolaLengthM(span, parabola)) < 1e-6;
        });
    }

    @Test
    void deflectionGivesTheTensionBothWays() {
        // Shallow rule T = F L / (4 d): 36 N, 6 m, 60 mm: 900 N; exact triangle is 0.02 % more.
        assertThat(Deflection.tensionN(36, 6, 0.06)).isCloseTo(900, within(0.5));
        assertThat(Deflection.tensionN(36, 6, 0.06)).isGreaterThan(900);
        qt().forAll(
                        doubles().between(50, 3000),
                        doubles().between(2, 12),
                        doubles().between(0.01, 0.3))
                .check((tension, span, aside) -> {
                    double scale = Deflection.scaleN(tension, span, aside, wire, 80);
                    double back = Deflection.restTensionN(scale, span, aside, wire, 80);
                    return Math.abs(back - tension) < 1e-6 * tension && scale > Deflection.scaleN(tension, span, aside);
                });
    }

    @Test
    void drawingAsideAShortFixedSpanRaisesItsTensionMuchMoreThanALongRun() {
        // Stretch 2 d^2 / L = 1.2 mm: over 6 m 196 N, over 84 m 14 N (EA 981.7 kN).
        double scale = Deflection.scaleN(900, 6, 0.06);
        assertThat(900 - Deflection.restTensionN(scale, 6, 0.06, wire, 6)).isCloseTo(196.3, within(0.5));
        assertThat(900 - Deflection.restTensionN(scale, 6, 0.06, wire, 84)).isCloseTo(14.02, within(0.1));
    }

    @Test
    void changeOfStateReducesToTheStraightRodForATightWire() {
        double w = wire.weightNPerM();
        assertThat(WireState.tensionN(wire, 6, 900, w, w, 0)).isCloseTo(900, within(1e-3));
        assertThat(WireState.tensionN(wire, 6, 900, w, w, -20)).isCloseTo(900 + 235.6, within(0.5));
    }

    @Test
    void changeOfStateIsWhereStretchedLengthAndBowAgree() {
        qt().forAll(
                        doubles().between(200, 1500),
                        doubles().between(0, 60),
                        doubles().between(-30, 30))
                .check((start, load, dt) -> {
                    double w = wire.weightNPerM();
                    double then = WireState.tensionN(wire, 6, start, w, w + load, dt);
                    // unstretched length at the first temperature, from each state by itself
                    double before = Sag.parabolaLengthM(6, Sag.parabolaM(w, 6, start)) - start * 6 / wire.stiffnessN();
                    double after = Sag.parabolaLengthM(6, Sag.parabolaM(w + load, 6, then))
                            - then * 6 / wire.stiffnessN()
                            - Wire.ALPHA * dt * 6;
                    return Math.abs(before - after) < 1e-7;
                });
    }
}
