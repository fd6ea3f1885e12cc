package org.rootling.ground.calc;

import java.util.ArrayList;
import java.util.List;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;

/**
 * What to measure to put rows on the ground with tape and string. The base line is the line of the longest row, found
 * from readings along two sides of the boundary; at two places on it lines are set out square, and along these every row
 * has a peg; from the pegs each row is read along its own string. Metres; positions follow from the layout exactly.
 *
 * @param base row whose line is the base line
 * @param sights where the base line leaves the field: the sides on which its two ends are found
 * @param baseLengthM between those two points, to check
 * @param zeroM reading on the base line, from the first sight, of the first cross line
 * @param secondM reading on the base line, from the first sight, of the second cross line
 * @param triangle for the right angle at the first cross line
 * @param pegs one per row
 * @param frame the rectangle of outermost pegs, to check by its diagonals; null when there is only one row
 */
public record StakeOut(
        int base,
        List<Sight> sights,
        double baseLengthM,
        double zeroM,
        double secondM,
        Squaring.Triangle triangle,
        List<Peg> pegs,
        @org.jspecify.annotations.Nullable Frame frame) {

    /**
     * A point on a side of the boundary.
     *
     * @param fromCorner number of the corner from which to read, from 1
     * @param toCorner the next corner
     * @param readingM from the corner
     */
    public record Sight(int fromCorner, int toCorner, double readingM, Point point) {}

    /**
     * A row on the cross lines.
     *
     * @param row number
     * @param acrossM reading along both cross lines from the base line; negative on the left, looking along the rows
     * @param first peg on the first cross line; {@code inField} false when it would stand outside the boundary
     * @param second peg on the second cross line
     * @param posts readings along the row's string from the first cross line, end post by end post
     */
    public record Peg(
            int row,
            double acrossM,
            Point first,
            boolean firstInField,
            Point second,
            boolean secondInField,
            List<Double> posts) {}

    /**
     * The check rectangle.
     *
     * @param fromRow and {@code toRow} are the outermost rows with both pegs in the field
     * @param widthM between those rows
     * @param lengthM between the cross lines
     * @param diagonalM both diagonals
     * @param allowedM how far a diagonal may be out so that no row end swings by more than {@link #MOST_SWING_M}
     * @param degreesPerCm how far the corner turns for each centimetre
     * @param swingPerCmM how far the end of the longest row swings for each centimetre
     */
    public record Frame(
            int fromRow,
            int toRow,
            double widthM,
            double lengthM,
            double diagonalM,
            double allowedM,
            double degreesPerCm,
            double swingPerCmM) {}

    /** How far a row end may be out, metres (common practice, no source). */
    public static final double MOST_SWING_M = 0.05;

    /** Works out the sheet for rows that stand in this field, with a tape of that length. */
    public static StakeOut of(Field field, List<Row> rows, double bearingDeg, double tapeM) {
        return new Work(field, rows, bearingDeg, tapeM).sheet();
    }

    private static final class Work {
        private final Field field;
        private final List<Row> rows;
        private final double tapeM;
        private final double sin;
        private final double cos;

        Work(Field field, List<Row> rows, double bearingDeg, double tapeM) {
            this.field = field;
            this.rows = rows;
            this.tapeM = tapeM;
            this.sin = Math.sin(Math.toRadians(bearingDeg));
            this.cos = Math.cos(Math.toRadians(bearingDeg));
        }

        private double across(Point p) {
            return p.x() * cos - p.y() * sin;
        }

        private double along(Point p) {
            return p.x() * sin + p.y() * cos;
        }

        private Point point(double across, double along) {
            return new Point(across * cos + along * sin, -across * sin + along * cos);
        }

        private double across(Row row) {
            Stretch s = row.stretches().get(0);
            return across(new Point(s.startX(), s.startY()));
        }

        private double start(Row row) {
            Stretch s = row.stretches().get(0);
            return along(new Point(s.startX(), s.startY()));
        }

        private double end(Row row) {
            Stretch s = row.stretches().get(row.stretches().size() - 1);
            return along(new Point(s.endX(), s.endY()));
        }

        StakeOut sheet() {
            Row base = rows.get(0);
            for (Row row : rows) {
                if (end(row) - start(row) > end(base) - start(base) + 1e-9) {
                    base = row;
                }
            }
            double line = across(base);
            List<Sight> sights = sights(line, start(base), end(base));
            double from = along(sights.get(0).point());
            double[] crossings = crossings(base);
            List<Peg> pegs = new ArrayList<>();
            for (Row row : rows) {
                pegs.add(peg(row, line, crossings));
            }
            double widest =
                    pegs.stream().mapToDouble(p -> Math.abs(p.acrossM())).max().orElse(0);
            double longest = end(base) - start(base);
            return new StakeOut(
                    base.number(),
                    sights,
                    along(sights.get(1).point()) - from,
                    crossings[0] - from,
                    crossings[1] - from,
                    Squaring.largest(Math.max(widest, 3), longest, tapeM),
                    pegs,
                    frame(pegs, crossings[1] - crossings[0], longest));
        }

        /** Where the line of the base row crosses the boundary before and after the row. */
        private List<Sight> sights(double line, double start, double end) {
            Sight before = null;
            Sight after = null;
            List<Point> corners = field.boundary();
            for (int i = 0; i < corners.size(); i++) {
                Point a = corners.get(i);
                Point b = corners.get((i + 1) % corners.size());
                double da = across(a) - line;
                double db = across(b) - line;
                if (Math.abs(da - db) < 1e-9 || Math.min(da, db) > 1e-9 || Math.max(da, db) < -1e-9) {
                    continue;
                }
                double share = Math.max(0, Math.min(1, da / (da - db)));
                double at = along(a) + (along(b) - along(a)) * share;
                Sight sight = new Sight(i + 1, (i + 1) % corners.size() + 1, a.distance(b) * share, point(line, at));
                if (at <= start + 1e-6 && (before == null || at > along(before.point()))) {
                    before = sight;
                }
                if (at >= end - 1e-6 && (after == null || at < along(after.point()))) {
                    after = sight;
                }
            }
            if (before == null || after == null) {
                throw new org.rootling.platform.Refused("ground.stake.outside");
            }
            return List.of(before, after);
        }

        /** The two places along the base row that give the best frame: far apart, and shared by many rows. */
        private double[] crossings(Row base) {
            double from = start(base);
            double to = end(base);
            double most = -1;
            double[] best = {from, to};
            int steps = 24;
            for (int i = 0; i < steps; i++) {
                for (int j = i + 1; j <= steps; j++) {
                    double a = from + (to - from) * i / steps;
                    double b = from + (to - from) * j / steps;
                    int covered = 0;
                    for (Row row : rows) {
                        covered += start(row) <= a + 1e-9 && end(row) >= b - 1e-9 ? 1 : 0;
                    }
                    // one short row should not make the whole frame short: a short frame squares nothing
                    if (covered * (b - a) > most + 1e-9) {
                        most = covered * (b - a);
                        best = new double[] {a, b};
                    }
                }
            }
            return new double[] {Math.rint(best[0] * 100) / 100, Math.rint(best[1] * 100) / 100};
        }

        private Peg peg(Row row, double line, double[] crossings) {
            double c = across(row);
            Point first = point(c, crossings[0]);
            Point second = point(c, crossings[1]);
            List<Double> posts = new ArrayList<>();
            for (Stretch s : row.stretches()) {
                posts.add(along(new Point(s.startX(), s.startY())) - crossings[0]);
                posts.add(along(new Point(s.endX(), s.endY())) - crossings[0]);
            }
            return new Peg(row.number(), c - line, first, inField(first), second, inField(second), posts);
        }

        private boolean inField(Point p) {
            return field.outline()
                    .covers(field.outline()
                            .getFactory()
                            .createPoint(new org.locationtech.jts.geom.Coordinate(p.x(), p.y())));
        }

        private static @org.jspecify.annotations.Nullable Frame frame(List<Peg> pegs, double lengthM, double longestM) {
            Peg first = null;
            Peg last = null;
            for (Peg p : pegs) {
                if (p.firstInField() && p.secondInField()) {
                    first = first == null ? p : first;
                    last = p;
                }
            }
            if (first == null || last == null || last.acrossM() - first.acrossM() < 0.1) {
                return null;
            }
            double width = last.acrossM() - first.acrossM();
            double degrees = Squaring.degreesPerCentimetre(width, lengthM);
            return new Frame(
                    first.row(),
                    last.row(),
                    width,
                    lengthM,
                    Squaring.diagonal(width, lengthM),
                    Squaring.allowed(width, lengthM, longestM, MOST_SWING_M),
                    degrees,
                    Squaring.swing(longestM, degrees));
        }
    }

    /**
     * What a check says.
     *
     * @param angleDeg corner angle from the measured diagonal
     * @param offDeg how far from square
     * @param swingM how far the end of the longest row is out
     * @param advice {@code ACCEPT}, {@code SHIFT} the pegs of the second cross line by {@code swingM}, or {@code REDO}
     */
    public record Verdict(double angleDeg, double offDeg, double swingM, Advice advice) {}

    /** What to do about a check. */
    public enum Advice {
        ACCEPT,
        SHIFT,
        REDO
    }

    /** Judges a corner by its two legs and diagonal as measured, for rows of that length. */
    public static Verdict judge(double legA, double legB, double diagonal, double longestRowM) {
        double angle = Squaring.angle(legA, legB, diagonal);
        double off = angle - 90;
        double swing = Squaring.swing(longestRowM, off);
        Advice advice = swing <= MOST_SWING_M ? Advice.ACCEPT : swing <= 10 * MOST_SWING_M ? Advice.SHIFT : Advice.REDO;
        return new Verdict(angle, off, swing, advice);
    }
}
