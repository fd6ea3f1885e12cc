package org.rootling.trellis.calc;

import java.util.List;
import org.rootling.trellis.calc.TrellisSpec.Air;
import org.rootling.trellis.calc.TrellisSpec.End;
import org.rootling.trellis.calc.TrellisSpec.Fixing;
import org.rootling.trellis.calc.TrellisSpec.Hold;
import org.rootling.trellis.calc.TrellisSpec.Line;
import org.rootling.trellis.calc.TrellisSpec.PerVine;
import org.rootling.trellis.calc.TrellisSpec.WireLine;

/**
 * Plans to start from, for canopies of three heights. Our own choice of numbers within common practice; each is meant
 * to be changed. Lean about 20 degrees and a stake for every vine: common practice, no source. End posts 3 to 4 ft deep,
 * ties near 60 degrees with the ground: Domoto, Iowa State Univ. 2002. Number of wires: 1 to 3 for a high cordon, 5 to 7 for shoots trained upwards (Domoto 2002).
 */
public enum StartingPlans {
    /** Fruit low, a short wall of shoots: cool or windy places. */
    LOW,
    /** Fruit at hip height, shoots trained upwards. */
    MEDIUM,
    /** Fruit at the top, shoots hang down. */
    HIGH;

    public TrellisSpec spec() {
        return switch (this) {
            case LOW ->
                plan(
                        2.5,
                        2.0,
                        List.of(
                                line("fruiting", 0.5, 1, 700),
                                line("shoots 1", 0.8, 2, 350),
                                line("shoots 2", 1.1, 2, 350),
                                line("shoots 3", 1.4, 1, 400)));
            case MEDIUM ->
                plan(
                        2.8,
                        2.4,
                        List.of(
                                line("fruiting", 0.8, 1, 800),
                                line("shoots 1", 1.05, 2, 350),
                                line("shoots 2", 1.3, 2, 350),
                                line("shoots 3", 1.65, 1, 400)));
            case HIGH -> plan(3.0, 2.4, List.of(line("training", 1.0, 1, 500), line("cordon", 1.8, 1, 1000)));
        };
    }

    private static TrellisSpec plan(double endPostM, double linePostM, List<WireLine> wires) {
        EndPost post = new EndPost(endPostM, 20, 1);
        double anchorM = post.setBackM() + post.topHeightM() / Math.tan(Math.toRadians(Published.TIE_ANGLE_DEG));
        return new TrellisSpec(
                new End(endPostM, 120, post.leanDeg(), post.buriedM(), 0),
                new Hold(
                        Assembly.ANCHORED,
                        null,
                        Math.round(anchorM * 10) / 10.0,
                        WireKind.MILD_STEEL,
                        4,
                        2,
                        200,
                        1.2,
                        100,
                        Soil.FIRM_LOAM),
                new Line(linePostM, 80, 0.6, 6, null),
                wires,
                new PerVine(1, 1.2, 1, 2),
                new Fixing(1, 180, 1, 30),
                new Air(12, -10));
    }

    private static WireLine line(String name, double heightM, int count, double tensionN) {
        return new WireLine(name, heightM, count, WireKind.HIGH_TENSILE, 2.5, tensionN, 1, 648, 0, 0);
    }
}
