package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.trellis.calc.TrellisPreview.EndIn;
import org.rootling.trellis.calc.TrellisPreview.Request;
import org.rootling.trellis.calc.TrellisPreview.RowIn;
import org.rootling.trellis.calc.TrellisPreview.WireIn;

class TrellisPreviewTest {
    private static final EndIn END = new EndIn(2.4, 20.0, 0.8, null, 1.9);
    private static final WireIn WIRE = new WireIn(0.8, 1, 900.0, 2.5, 1.0, 648.0, null);
    private static final RowIn ROW = new RowIn(84.0, 70);

    private static Request request(EndIn end, WireIn wire, double span) {
        return new Request(end, List.of(wire), span, List.of(ROW));
    }

    @Test
    void oneRowOfEightyFourMetres() {
        TrellisPreview preview = TrellisPreview.of(request(END, WIRE, 6));
        assertThat(preview.linePosts()).isEqualTo(13);
        assertThat(preview.stakes()).isEqualTo(70);
        assertThat(preview.guards()).isEqualTo(70);
        assertThat(preview.endPost().pullN()).isEqualTo(900);
        assertThat(preview.endPost().momentNm()).isCloseTo(720, within(1e-9));
        // Uplift times anchor distance is the moment: the anchor's level part passes through the ground line.
        assertThat(preview.endPost().upliftN()).isCloseTo(720 / 1.9, within(1e-9));
        // Tie by its own triangle: 1.50351 m up, 1.9 - 0.54723 m out.
        double tie = Math.hypot(1.503508, 1.9 - 0.547232);
        assertThat(preview.endPost().tieForceN()).isCloseTo(720 / 1.9 * tie / 1.503508, within(0.01));
        TrellisPreview.WireOut wire = preview.wires().get(0);
        assertThat(wire.metres()).isEqualTo(86);
        assertThat(wire.coils()).isEqualTo(1);
        assertThat(wire.kg()).isCloseTo(86 * 0.03853, within(0.01));
        // T08's wire at 900 N instead of 1 kN
        assertThat(wire.sagM()).isCloseTo(0.0017 / 0.9, within(1e-5));
    }

    @Test
    void lowerTieNeedsMoreForceAndTheAnchorIsLiftedAlike() {
        TrellisPreview.End top = TrellisPreview.of(request(END, WIRE, 6)).endPost();
        TrellisPreview.End low = TrellisPreview.of(request(new EndIn(2.4, 20.0, 0.8, 0.8, 1.9), WIRE, 6))
                .endPost();
        assertThat(low.tieForceN()).isGreaterThan(top.tieForceN());
        assertThat(low.upliftN()).isCloseTo(top.upliftN(), within(1e-9));
    }

    @Test
    void everyFaultIsNamedAtItsField() {
        Request bad = new Request(
                new EndIn(2.4, 46.0, 2.4, null, null),
                List.of(
                        new WireIn(-0.1, 1, 900.0, 2.5, 1.0, 648.0, null),
                        new WireIn(0.8, 0, 7000.0, 2.5, -1.0, Double.NaN, null)),
                0.0,
                List.of(new RowIn(-1.0, null)));
        assertThat(TrellisPreview.faults(bad))
                .extracting(Fault::field)
                .containsExactlyInAnyOrder(
                        "endPost.leanDeg",
                        "endPost.buriedM",
                        "endPost.anchorDistanceM",
                        "wires[0].heightM",
                        "wires[1].count",
                        "wires[1].tensionN",
                        "wires[1].tailM",
                        "wires[1].coilM",
                        "linePostMaxSpanM",
                        "rows[0].lengthM",
                        "rows[0].vines");
    }

    @Test
    void spanThatLeavesNoPostIsRefused() {
        assertThat(TrellisPreview.faults(request(END, WIRE, 90)))
                .extracting(Fault::code)
                .containsExactly("trellis.fault.no-post");
        Request shortRow = new Request(END, List.of(WIRE), 6.0, List.of(new RowIn(5.0, 4)));
        assertThat(TrellisPreview.of(shortRow).linePosts()).isZero();
    }

    @Test
    void nothingAtAllIsRefusedWithoutBreaking() {
        assertThat(TrellisPreview.faults(new Request(null, null, null, null))).hasSize(4);
    }
}
