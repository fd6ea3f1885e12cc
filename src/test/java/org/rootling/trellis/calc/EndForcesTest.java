package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;

import java.util.List;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EndForcesTest {
    @Test
    void guyedMastOfTheThreeFourFiveTriangle() {
        // Statics textbook: mast hinged at its foot, 1 kN level at the head, 4 m up, guy to the ground 3 m away (5 m
        // long). Moments about the foot: T * 4 * 3 / 5 = 1000 * 4, T = 1666.7 N; its parts 1333.3 N up, 1000 N level.
        EndPost mast = new EndPost(5, 0, 1);
        EndForces forces = EndForces.anchored(mast, Tie.of(mast, null, 3), List.of(new WirePull(4, 1, 1000)));
        assertThat(forces.momentNm()).isEqualTo(4000);
        assertThat(forces.braceN()).isCloseTo(5000.0 / 3, within(1e-9));
        assertThat(forces.upliftN()).isCloseTo(4000.0 / 3, within(1e-9));
        assertThat(forces.levelN()).isCloseTo(1000, within(1e-9));
        assertThat(forces.footN()).isCloseTo(0, within(1e-9));
        assertThat(forces.postN()).isCloseTo(4000.0 / 3, within(1e-9));
    }

    @Test
    void strutOnTheInsideLiftsThePostAsMuchAsAnAnchorWouldBeLifted() {
        // The same triangle mirrored: the strut pushes 1666.7 N and tries to lift the post out with 1333.3 N.
        EndPost post = new EndPost(5, 0, 1);
        EndForces forces = EndForces.strut(post, 4, 3, List.of(new WirePull(4, 1, 1000)));
        assertThat(forces.braceN()).isCloseTo(5000.0 / 3, within(1e-9));
        assertThat(forces.upliftN()).isCloseTo(4000.0 / 3, within(1e-9));
        assertThat(forces.levelN()).isCloseTo(1000, within(1e-9));
        assertThat(forces.postN()).isCloseTo(-4000.0 / 3, within(1e-9));
    }

    /**
     * Hibbeler, Engineering Mechanics: Statics, the first worked example of the method of joints; its numbers also in
     * "Kites team, lecture 2" (aero103, SlideShare), problem 4: a vertical member of 2 m pinned at its foot, 500 N level at
     * its head, a diagonal from the head to the ground 2 m away. Diagonal 707.1 N in compression, vertical member 500 N in
     * tension, reaction at its foot 500 N down.
     */
    @Test
    void strutIsTheTextbooksFirstTruss() {
        EndForces forces = EndForces.strut(new EndPost(3, 0, 1), 2, 2, List.of(new WirePull(2, 1, 500)));
        assertThat(forces.braceN()).isCloseTo(707.1, within(0.05));
        assertThat(forces.upliftN()).isCloseTo(500, within(1e-9));
        assertThat(forces.postN()).isCloseTo(-500, within(1e-9));
        assertThat(forces.levelN()).isCloseTo(500, within(1e-9));
    }

    /**
     * "Kites team, lecture 2" (aero103, SlideShare), problem 2, method of joints: a load P level at the head of a vertical
     * member of height h, held by a diagonal to the ground at the distance L. Vertical reactions P h / L up and down,
     * vertical member P h / L in compression, diagonal P sqrt(h^2 + L^2) / L in tension. It is the inner post of an H-brace,
     * which the rail loads with the whole pull. Numbers: P 500 N, h 2 m, L 2 m as above, and h 1.2 m, L 2.4 m.
     */
    @Test
    void innerPostAndDiagonalOfTheBracedBayAreTheTextbooksTriangle() {
        EndForces square = EndForces.hBrace(2, 2, List.of(new WirePull(2, 1, 500)));
        assertThat(square.railN()).isCloseTo(500, within(1e-9));
        assertThat(square.braceN()).isCloseTo(707.1, within(0.05));
        assertThat(square.upliftN()).isCloseTo(500, within(1e-9));
        EndForces bay = EndForces.hBrace(1.2, 2.4, List.of(new WirePull(1.2, 1, 500)));
        assertThat(bay.braceN()).isCloseTo(500 * Math.sqrt(1.2 * 1.2 + 2.4 * 2.4) / 2.4, within(1e-9));
        assertThat(bay.upliftN()).isCloseTo(500 * 1.2 / 2.4, within(1e-9));
    }

    @Test
    void bracedBayCarriesThePullByRailAndDiagonal() {
        // Truss by joints: rail 1000 N; diagonal over 3 m at 1.25 m height: 1000 * 3.25 / 3; uplift 1000 * 1.25 / 3.
        EndForces forces = EndForces.hBrace(1.25, 3, List.of(new WirePull(1.25, 1, 1000)));
        assertThat(forces.railN()).isCloseTo(1000, within(1e-9));
        assertThat(forces.braceN()).isCloseTo(1000 * 3.25 / 3, within(1e-9));
        assertThat(forces.upliftN()).isCloseTo(1250.0 / 3, within(1e-9));
    }

    /**
     * An independent check where no published example with numbers was found: the two posts as bodies hinged at the ground,
     * each with its three equations of equilibrium, for the six unknowns (level and upright force of the ground on either
     * foot, push in the rail, pull in the diagonal), solved by Hipparchus. Loads: the usual pull on a fence brace is 1,000 to
     * 1,500 lb, in the cold up to 2,500 lb (British Columbia Ministry of Agriculture, Fencing factsheet 307.220-1, 2015);
     * the rail is 8 to 10 ft long (Cadwallader and Cosgrove, Univ. of Wisconsin-Extension). One lb is 4.4482216 N, one foot
     * 0.3048 m.
     */
    @ParameterizedTest
    @CsvSource({"1000, 8, 0.9", "1500, 8, 1.2", "2500, 10, 1.2", "2500, 10, 1.6"})
    void bracedBayObeysTheEquationsOfItsTwoPosts(double pounds, double feet, double railHeightM) {
        double spanM = feet * 0.3048;
        double each = pounds * 4.4482216 / 4;
        List<WirePull> wires =
                List.of(new WirePull(0.5, 1, each), new WirePull(0.8, 2, each), new WirePull(1.1, 1, each));
        double moment = each * (0.5 + 2 * 0.8 + 1.1);
        double cos = spanM / Math.hypot(spanM, railHeightM);
        double sin = railHeightM / Math.hypot(spanM, railHeightM);
        // unknowns: ground on the end post's foot (inwards, up), on the inner post's foot (inwards, up), rail, diagonal
        double[] solved = new LUDecomposition(MatrixUtils.createRealMatrix(new double[][] {
                    {1, 0, 0, 0, -1, cos}, // end post, level: foot, wires, rail, diagonal at the foot
                    {0, 1, 0, 0, 0, sin}, // end post, upright
                    {0, 0, 0, 0, railHeightM, 0}, // end post, moments about its foot
                    {0, 0, 1, 0, 1, -cos}, // inner post, level
                    {0, 0, 0, 1, 0, -sin}, // inner post, upright
                    {0, 0, 1, 0, 0, 0} // inner post, moments about its head
                }))
                .getSolver()
                .solve(MatrixUtils.createRealVector(new double[] {-4 * each, 0, moment, 0, 0, 0}))
                .toArray();
        EndForces forces = EndForces.hBrace(railHeightM, spanM, wires);
        assertThat(forces.pullN()).isCloseTo(pounds * 4.4482216, within(1e-6));
        assertThat(forces.railN()).isCloseTo(solved[4], within(1e-6));
        assertThat(forces.braceN()).isCloseTo(solved[5], within(1e-6));
        assertThat(forces.footN()).isCloseTo(-solved[0], within(1e-6));
        assertThat(forces.upliftN()).isCloseTo(-solved[1], within(1e-6)).isCloseTo(solved[3], within(1e-6));
        assertThat(solved[2]).isCloseTo(0, within(1e-6));
    }

    @Test
    void everyEndIsInEquilibrium() {
        qt().forAll(
                        doubles().between(0, 45),
                        doubles().between(0.3, 4),
                        doubles().between(0.2, 1),
                        doubles().between(10, 5000))
                .check((lean, anchor, share, tension) -> {
                    EndPost post = new EndPost(3, lean, 1);
                    double height = share * post.topHeightM();
                    List<WirePull> wires = List.of(
                            new WirePull(0.4 * post.topHeightM(), 2, tension),
                            new WirePull(0.9 * post.topHeightM(), 1, tension / 3));
                    return balanced(
                                    post,
                                    height,
                                    anchor,
                                    wires,
                                    EndForces.anchored(post, Tie.of(post, height, anchor), wires),
                                    1)
                            && balanced(post, height, -anchor, wires, EndForces.strut(post, height, anchor, wires), -1);
                });
    }

    /** Resultant moment of wires and brace about the foot is nil, with the brace's force taken apart anew. */
    private static boolean balanced(
            EndPost post, double height, double ground, List<WirePull> wires, EndForces forces, int sign) {
        double dx = ground - post.outAtM(height);
        double length = Math.hypot(dx, height);
        double fx = sign * forces.braceN() * dx / length;
        double fy = -sign * forces.braceN() * height / length;
        double turning = post.outAtM(height) * fy - height * fx;
        double wiresTurning =
                wires.stream().mapToDouble(w -> w.heightM() * w.pullN()).sum();
        double level = fx - forces.pullN() + forces.footN();
        return Math.abs(turning + wiresTurning) < 1e-6 * wiresTurning
                && Math.abs(level) < 1e-6 * forces.pullN() + 1e-6 * forces.braceN()
                && Math.abs(Math.abs(fy) - forces.upliftN()) < 1e-6 * forces.braceN();
    }

    @Test
    void pullScalesEverythingAlike() {
        EndPost post = new EndPost(2.4, 20, 0.8);
        Tie tie = Tie.of(post, null, 1.9);
        EndForces one = EndForces.anchored(post, tie, List.of(new WirePull(0.8, 1, 900)));
        EndForces two = EndForces.anchored(post, tie, List.of(new WirePull(0.8, 2, 900)));
        assertThat(two.braceN()).isCloseTo(2 * one.braceN(), within(1e-9));
        assertThat(two.upliftN()).isCloseTo(2 * one.upliftN(), within(1e-9));
    }

    @Test
    void simplySupportedBeamWithACentralLoadBendsByAQuarterOfLoadTimesSpan() {
        // Beam tables: M = F L / 4; F = 1000 N, L = 2 m.
        EndPost post = new EndPost(3, 0, 1);
        assertThat(PostBending.momentNm(post, 2, List.of(new WirePull(1, 1, 1000))))
                .isCloseTo(500, within(1e-9));
    }

    @Test
    void overhangBendsAtTheSupport() {
        // Beam tables, overhang: M = F a; F = 1000 N, a = 0.5 m above the tie.
        EndPost post = new EndPost(3, 0, 1);
        assertThat(PostBending.momentNm(post, 1.5, List.of(new WirePull(2, 1, 1000))))
                .isCloseTo(500, within(1e-9));
    }

    @Test
    void tieAtTheOnlyWireLeavesThePostUnbent() {
        EndPost post = new EndPost(3, 20, 1);
        assertThat(PostBending.momentNm(post, 1.5, List.of(new WirePull(1.5, 1, 1000))))
                .isCloseTo(0, within(1e-9));
    }

    @Test
    void roundSectionFormulas() {
        // Section tables: W = pi d^3 / 32, d = 0.1 m: 98.17e-6 m3, so 98.17 N m give 1 MPa.
        assertThat(PostBending.stressPa(98.1748, 0.1)).isCloseTo(1e6, within(10.0));
        // Euler, both ends hinged, I = pi d^4/64 = 4.9087e-6 m4, E 8 GPa, L 2 m: 96.9 kN.
        assertThat(PostBending.bucklingN(2, 0.1)).isCloseTo(96_894, within(50.0));
    }
}
