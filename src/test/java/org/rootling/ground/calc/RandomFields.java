package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/** Odd but possible fields, the same for the same seed. */
final class RandomFields {
    private RandomFields() {}

    /** A field about a middle, with corners that jut in and out, and now and then something in it to keep off. */
    static Field field(int seed) {
        Random random = new Random(seed);
        for (int attempt = 0; ; attempt++) {
            try {
                return attempt(random);
            } catch (Refused e) {
                if (attempt > 50) {
                    throw e;
                }
            }
        }
    }

    private static Field attempt(Random random) {
        int corners = 3 + random.nextInt(8);
        double size = 25 + 50 * random.nextDouble();
        List<Point> ring = new ArrayList<>();
        for (int i = 0; i < corners; i++) {
            double turn = 2 * Math.PI * (i + 0.7 * random.nextDouble()) / corners;
            double r = size * (0.4 + 0.6 * random.nextDouble());
            ring.add(new Point(500 + r * Math.cos(turn), -300 + r * Math.sin(turn)));
        }
        List<List<Point>> patches = new ArrayList<>();
        for (int i = random.nextInt(3); i > 0; i--) {
            double x = 500 + size * (random.nextDouble() - 0.5) * 0.6;
            double y = -300 + size * (random.nextDouble() - 0.5) * 0.6;
            double w = 0.5 + 5 * random.nextDouble();
            patches.add(List.of(new Point(x, y), new Point(x + w, y + w / 3), new Point(x + w / 4, y + w)));
        }
        return Field.of(ring, patches);
    }

    static LayoutSpec spec(int seed) {
        Random random = new Random(seed * 31L + 7);
        double vine = 0.8 + random.nextDouble();
        return new LayoutSpec(
                1.6 + 1.5 * random.nextDouble(),
                vine,
                random.nextInt(4) * 1.5 * random.nextDouble(),
                random.nextInt(3) * random.nextDouble(),
                vine * (random.nextBoolean() ? 0.5 : random.nextDouble()),
                180 * random.nextDouble(),
                null,
                1 + random.nextInt(4),
                Alignment.ROW);
    }

    static Field turned(Field field, double degrees, double east, double north) {
        return new Field(
                turned(field.boundary(), degrees, east, north),
                field.exclusions().stream()
                        .map(p -> turned(p, degrees, east, north))
                        .toList());
    }

    /** Turned clockwise about the origin, then moved. */
    private static List<Point> turned(List<Point> ring, double degrees, double east, double north) {
        double s = Math.sin(Math.toRadians(degrees));
        double c = Math.cos(Math.toRadians(degrees));
        return ring.stream()
                .map(p -> new Point(p.x() * c + p.y() * s + east, -p.x() * s + p.y() * c + north))
                .toList();
    }
}
