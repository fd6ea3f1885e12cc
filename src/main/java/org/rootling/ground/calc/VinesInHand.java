package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * The other way round: so many vines are there; which spacings use them in this field. Spacings are tried in steps of
 * 5 cm between the given limits, at the bearing and offset given, or at the best offset; no bearing is searched.
 */
public final class VinesInHand {
    private static final double STEP = 0.05;
    private static final int MOST_TRIES = 700;
    private static final int FEW_TRIES = 40;
    private static final double LARGE_M2 = 200_000;

    private VinesInHand() {}

    /**
     * A way to plant them.
     *
     * @param left vines left over; negative when so many places stay empty
     */
    public record Way(double rowSpacingM, double vineSpacingM, int vines, int rows, int left) {}

    /**
     * The ways that come nearest, those that use all vines or leave some over before those with empty places; at most
     * eight.
     */
    public static List<Way> ways(
            Field field,
            LayoutSpec like,
            int inHand,
            double leastRow,
            double mostRow,
            double leastVine,
            double mostVine) {
        List<Way> ways = new ArrayList<>();
        int rowSteps = steps(leastRow, mostRow);
        int vineSteps = steps(leastVine, mostVine);
        double gapShare = like.endGapM() / like.vineSpacingM();
        int most = field.boundary().size() > LayoutSolver.EXACT_CORNERS || field.areaM2() > LARGE_M2
                ? FEW_TRIES
                : MOST_TRIES;
        int tries = 0;
        for (int i = 0; i <= rowSteps; i++) {
            for (int j = 0; j <= vineSteps && tries < most; j++, tries++) {
                double row = round(leastRow + i * STEP);
                double vine = round(leastVine + j * STEP);
                LayoutSpec spec = new LayoutSpec(
                        row,
                        vine,
                        like.headlandM(),
                        like.sideMarginM(),
                        gapShare * vine,
                        like.rowBearingDeg() == null ? Double.valueOf(0) : like.rowBearingDeg(),
                        null,
                        like.minVinesPerRow(),
                        like.alignment());
                Layout layout = LayoutSolver.solve(field, spec);
                if (layout.vines() > 0) {
                    ways.add(new Way(row, vine, layout.vines(), layout.rowCount(), inHand - layout.vines()));
                }
            }
        }
        ways.sort(Comparator.comparingInt((Way w) -> w.left() < 0 ? 1 : 0)
                .thenComparingInt(w -> Math.abs(w.left()))
                .thenComparingDouble(w -> -w.rowSpacingM()));
        return ways.subList(0, Math.min(8, ways.size()));
    }

    private static int steps(double least, double most) {
        return (int) Math.max(0, Math.floor((most - least) / STEP + 1e-9));
    }

    private static double round(double metres) {
        return Math.rint(metres * 100) / 100;
    }
}
