package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class LoadsTest {
    private static List<RowLine> rows(double lengthM) {
        return Collections.nCopies(3, new RowLine(lengthM, (int) (lengthM / 1.2), 1.2, 0.6));
    }

    @ParameterizedTest
    @EnumSource
    void startingPlansAreWithoutFault(StartingPlans plan) {
        assertThat(plan.spec().faults(rows(84))).isEmpty();
        Loads loads = Loads.of(plan.spec(), rows(84));
        assertThat(loads.safety()).allMatch(Loads.Safety::enough);
        assertThat(loads.cautions()).isEmpty();
    }

    @Test
    void coldestDayPullsHarderThanTheDayOfTightening() {
        TrellisSpec spec = StartingPlans.MEDIUM.spec();
        Loads loads = Loads.of(spec, rows(84));
        assertThat(loads.worst().pullN()).isGreaterThan(loads.usual().pullN());
        // 22 K of cold on six tight wires, 11.8 N each (03-trellis.md)
        assertThat(loads.worst().pullN() - loads.usual().pullN()).isCloseTo(6 * 22 * 11.78, within(15.0));
    }

    @Test
    void cropAndWindRaiseTheTension() {
        TrellisSpec bare = StartingPlans.HIGH.spec();
        TrellisSpec laden = withWires(
                bare,
                bare.wires().stream()
                        .map(w -> new TrellisSpec.WireLine(
                                w.name(),
                                w.heightM(),
                                w.count(),
                                w.kind(),
                                w.diameterMm(),
                                w.tensionN(),
                                w.tailM(),
                                w.coilM(),
                                4,
                                30))
                        .toList());
        assertThat(Loads.of(laden, rows(84)).worst().pullN())
                .isGreaterThan(Loads.of(bare, rows(84)).worst().pullN() + 500);
        assertThat(Loads.of(laden, rows(84)).wires().get(0).sagCropM())
                .isGreaterThan(Loads.of(laden, rows(84)).wires().get(0).sagM());
    }

    @Test
    void rowsBeyondThePublishedLengthForAnchorsAskForAnEngineer() {
        // T12: Domoto 2002: anchored ends up to 600 ft = 182.88 m.
        assertThat(codes(StartingPlans.MEDIUM.spec(), 182)).doesNotContain("trellis.caution.row-anchored");
        assertThat(codes(StartingPlans.MEDIUM.spec(), 184))
                .contains("trellis.caution.row-anchored", "trellis.caution.engineer");
    }

    @Test
    void fourInchScrewIsForShortRows() {
        // Domoto 2002: 4-inch helix to about 250 ft = 76.2 m.
        TrellisSpec spec = withHold(StartingPlans.MEDIUM.spec(), 101.6, Soil.STIFF_CLAY);
        assertThat(codes(spec, 76)).doesNotContain("trellis.caution.row-anchor-small");
        assertThat(codes(spec, 77)).contains("trellis.caution.row-anchor-small");
    }

    @Test
    void anchorInLooseSandIsTooWeakAndSaysSo() {
        TrellisSpec spec = withHold(StartingPlans.MEDIUM.spec(), 101.6, Soil.LOOSE_SAND);
        assertThat(codes(spec, 70)).contains("trellis.caution.factor.ANCHOR", "trellis.caution.engineer");
    }

    @Test
    void tensionOverThePublishedAdviceIsNamed() {
        TrellisSpec spec = StartingPlans.HIGH.spec();
        TrellisSpec tight = withWires(
                spec,
                List.of(new TrellisSpec.WireLine("cordon", 1.8, 1, WireKind.HIGH_TENSILE, 2.5, 1200, 1, 648, 0, 0)));
        assertThat(codes(tight, 84)).contains("trellis.caution.tension");
        assertThat(codes(spec, 84)).doesNotContain("trellis.caution.tension");
    }

    @Test
    void faultsNameTheirFields() {
        TrellisSpec spec = StartingPlans.MEDIUM.spec();
        TrellisSpec bad = new TrellisSpec(
                new TrellisSpec.End(2.4, 120, 46, 2.5, 0),
                spec.hold(),
                new TrellisSpec.Line(2.4, 80, 0.6, 500, null),
                List.of(
                        new TrellisSpec.WireLine("a", -0.2, 1, WireKind.HIGH_TENSILE, 2.5, 800, 1, 648, 0, 0),
                        new TrellisSpec.WireLine("b", 0.8, 1, WireKind.MILD_STEEL, 2.5, 2500, 1, 648, 0, 0)),
                spec.perVine(),
                spec.fixing(),
                spec.air());
        assertThat(bad.faults(rows(84)))
                .extracting(Fault::field)
                .containsExactlyInAnyOrder(
                        "end.leanDeg", "end.buriedM", "line.maxSpanM", "wires[0].heightM", "wires[1].tensionN");
    }

    @Test
    void wireAboveThePostIsRefused() {
        TrellisSpec spec = StartingPlans.MEDIUM.spec();
        TrellisSpec bad = withWires(
                spec, List.of(new TrellisSpec.WireLine("a", 2.2, 1, WireKind.HIGH_TENSILE, 2.5, 800, 1, 648, 0, 0)));
        assertThat(bad.faults(List.of())).extracting(Fault::code).containsExactly("trellis.fault.wire-over-top");
    }

    private static List<String> codes(TrellisSpec spec, double rowM) {
        return Loads.of(spec, rows(rowM)).cautions().stream().map(Caution::code).toList();
    }

    private static TrellisSpec withWires(TrellisSpec s, List<TrellisSpec.WireLine> wires) {
        return new TrellisSpec(s.end(), s.hold(), s.line(), wires, s.perVine(), s.fixing(), s.air());
    }

    private static TrellisSpec withHold(TrellisSpec s, double plateMm, Soil soil) {
        TrellisSpec.Hold h = s.hold();
        return new TrellisSpec(
                s.end(),
                new TrellisSpec.Hold(
                        h.assembly(),
                        h.heightM(),
                        h.distanceM(),
                        h.tieKind(),
                        h.tieDiameterMm(),
                        h.tieStrands(),
                        plateMm,
                        h.anchorRodM(),
                        h.poleDiameterMm(),
                        soil),
                s.line(),
                s.wires(),
                s.perVine(),
                s.fixing(),
                s.air());
    }
}
