package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.rootling.ground.Point;

/** The layouts a grower thinks in: along each long side, north-south, along and across the slope, and the fullest. */
public final class Choices {
    private static final int LONG_SIDES = 3;

    private Choices() {}

    /** Why a bearing was tried. */
    public enum Reason {
        SIDE,
        NORTH_SOUTH,
        UP_AND_DOWN,
        ACROSS_SLOPE,
        FULLEST
    }

    /**
     * One choice.
     *
     * @param corner where the side begins, for {@link Reason#SIDE}; otherwise 0
     */
    public record Choice(Reason reason, int corner, Layout layout) {
        /** Metres from end post to end post, on average. */
        public double averageRowM() {
            return layout.rows().isEmpty()
                    ? 0
                    : layout.rowMetres() / layout.rows().size();
        }

        /** Hectares of the field that no row's own strip covers: headland, margins and leftover. */
        public double openHectares() {
            return (layout.areaM2() - layout.rowMetres() * layout.spec().rowSpacingM()) / 10_000;
        }
    }

    /**
     * All choices for a field; the fullest last.
     *
     * @param field unrolled
     * @param slope how the ground falls
     */
    public static List<Choice> of(Field field, LayoutSpec like, Slope slope) {
        List<Choice> choices = new ArrayList<>();
        List<Point> corners = field.boundary();
        List<Integer> sides = new ArrayList<>();
        for (int i = 0; i < corners.size(); i++) {
            sides.add(i);
        }
        sides.sort(Comparator.comparingDouble(i -> -side(corners, i)));
        double longest = side(corners, sides.get(0));
        for (int i : sides.subList(0, Math.min(LONG_SIDES, sides.size()))) {
            Point a = corners.get(i);
            Point b = corners.get((i + 1) % corners.size());
            double bearing = half(Math.toDegrees(Math.atan2(b.x() - a.x(), b.y() - a.y())));
            boolean fresh = choices.stream().noneMatch(c -> apart(c.layout().rowBearingDeg(), bearing) < 0.5);
            if (fresh && side(corners, i) > longest / 2) {
                choices.add(new Choice(Reason.SIDE, i + 1, solve(field, like, bearing)));
            }
        }
        choices.add(new Choice(Reason.NORTH_SOUTH, 0, solve(field, like, slope.bearingOnGround(0))));
        if (!slope.isLevel()) {
            choices.add(new Choice(Reason.UP_AND_DOWN, 0, solve(field, like, half(slope.downhillDeg()))));
            choices.add(new Choice(Reason.ACROSS_SLOPE, 0, solve(field, like, half(slope.downhillDeg() + 90))));
        }
        choices.add(new Choice(
                Reason.FULLEST, 0, LayoutSolver.solve(field, like.bearing(null).offset(null))));
        return choices;
    }

    private static Layout solve(Field field, LayoutSpec like, double bearing) {
        return LayoutSolver.solve(field, like.bearing(bearing).offset(null));
    }

    private static double side(List<Point> corners, int i) {
        return corners.get(i).distance(corners.get((i + 1) % corners.size()));
    }

    private static double apart(double a, double b) {
        double d = Math.abs(a - b) % 180;
        return Math.min(d, 180 - d);
    }

    private static double half(double degrees) {
        double b = ((degrees % 180) + 180) % 180;
        double neat = Math.rint(b * 1e6) / 1e6;
        return neat >= 180 ? 0 : neat;
    }
}
