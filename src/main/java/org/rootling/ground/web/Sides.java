package org.rootling.ground.web;

import java.util.ArrayList;
import java.util.List;
import org.rootling.ground.Point;

/**
 * A side of a boundary as the block's page lists it.
 *
 * @param from number of the corner where it begins, from 1
 * @param to number of the next corner
 * @param lengthM metres
 * @param angleDeg inside angle at the corner where it begins, degrees
 */
record Sides(int from, int to, double lengthM, double angleDeg, Point corner) {

    static List<Sides> of(List<Point> corners) {
        List<Sides> sides = new ArrayList<>();
        int n = corners.size();
        for (int i = 0; i < n; i++) {
            Point before = corners.get((i + n - 1) % n);
            Point here = corners.get(i);
            Point next = corners.get((i + 1) % n);
            double in = Math.atan2(before.y() - here.y(), before.x() - here.x());
            double out = Math.atan2(next.y() - here.y(), next.x() - here.x());
            double angle = Math.toDegrees(in - out);
            sides.add(new Sides(i + 1, (i + 1) % n + 1, here.distance(next), angle < 0 ? angle + 360 : angle, here));
        }
        return sides;
    }
}
