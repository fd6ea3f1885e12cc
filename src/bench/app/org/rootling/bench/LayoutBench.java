package org.rootling.bench;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutSolver;
import org.rootling.ground.calc.LayoutSpec;

/**
 * The fullest layout against PostGIS, which counts the vines of every layout on a grid of bearings and offsets; and how the
 * time grows with the field. Arguments: JDBC address of a database with PostGIS, or nothing.
 */
final class LayoutBench {
    private static final double ROW = 2.2;
    private static final LayoutSpec SPEC = new LayoutSpec(ROW, 1.2, 6, 2, 0.6, null, null, 3, Alignment.ROW);
    private static final double BEARING_STEP = 0.5;
    private static final int OFFSETS = 44;

    /** Twelve corners, two of them pointing inwards; scaled to the area asked for. */
    private static final double[][] SHAPE = {
        {0, 0}, {31, -4}, {52, 3}, {70, -2}, {83, 14}, {74, 31}, {81, 47}, {60, 58}, {41, 49}, {22, 60}, {5, 44}, {-8, 19}
    };

    /** One row of the grid: vines of each layout at this bearing. */
    private static final String POSTGIS = """
            with turned as (select ST_Rotate(ST_GeomFromText(?), radians(?)) as g),
            allowed as (select g, ST_Buffer(g, -2, 'quad_segs=32') as a from turned),
            lines as (
              select t, ST_XMin(a) + t * ?::float8 / ? + k * ?::float8 as c, g, a
              from allowed, generate_series(0, ? - 1) t, generate_series(0, 2000) k
              where ST_XMin(a) + t * ?::float8 / ? + k * ?::float8 <= ST_XMax(a)),
            cut as (
              select t, i.geom as field, s.geom as free
              from lines,
                lateral (select ST_SetSRID(ST_MakeLine(ST_MakePoint(c, ST_YMin(g) - 1), ST_MakePoint(c, ST_YMax(g) + 1)), 0) as l) x,
                lateral ST_Dump(ST_Intersection(g, l)) i,
                lateral ST_Dump(ST_Intersection(a, l)) s
              where ST_YMin(s.geom) >= ST_YMin(i.geom) - 1e-9 and ST_YMax(s.geom) <= ST_YMax(i.geom) + 1e-9),
            fit as (
              select t, floor((least(ST_YMax(free), ST_YMax(field) - 6) - greatest(ST_YMin(free), ST_YMin(field) + 6) - 1.2)
                         / 1.2 + 1e-9)::int + 1 as n from cut)
            select t, coalesce(sum(n) filter (where n >= 3), 0) from fit group by t""";

    private LayoutBench() {}

    public static void main(String[] args) throws SQLException {
        Field five = field(5);
        for (int i = 0; i < 3; i++) {
            LayoutSolver.solve(five, SPEC);
        }
        growth();
        if (args.length == 0) {
            System.out.println("PostGIS is missing: the comparison with it is left out.");
            return;
        }
        try (Connection db = DriverManager.getConnection(args[0])) {
            against(db, five);
        }
    }

    private static Field field(double hectares) {
        List<Point> corners = new ArrayList<>();
        for (double[] p : SHAPE) {
            corners.add(new Point(p[0], p[1]));
        }
        double scale = Math.sqrt(hectares * 10_000 / Field.signedArea(corners));
        return Field.of(
                corners.stream().map(p -> new Point(p.x() * scale, p.y() * scale)).toList(), List.of());
    }

    private static void growth() {
        System.out.println("the fullest layout, bearing and offset free; and one layout after another on the grid:");
        double first = 0;
        for (double hectares : new double[] {1, 5, 20, 50, 100}) {
            Field field = field(hectares);
            double best = Double.MAX_VALUE;
            Layout layout = LayoutSolver.solve(field, SPEC);
            for (int i = 0; i < 3; i++) {
                long start = System.nanoTime();
                layout = LayoutSolver.solve(field, SPEC);
                best = Math.min(best, seconds(start));
            }
            long lines = 0;
            long start = System.nanoTime();
            for (double bearing = 0; bearing < 180; bearing += 2) {
                for (int t = 0; t < 4; t++) {
                    lines += LayoutSolver.solve(field, SPEC.bearing(bearing).offset(ROW * t / 4)).rowCount();
                }
            }
            double micros = seconds(start) * 1e6 / lines;
            first = first == 0 ? micros : first;
            Integer most = layout.mostVines();
            System.out.printf(
                    "  %4.0f ha: fullest %,7d vines in %5.2f s, no bearing holds more than %s; %,8d row lines at %.2f us each,"
                            + " %.2f of those of 1 ha%n",
                    hectares,
                    layout.vines(),
                    best,
                    most == null ? "(not reached)" : String.format("%,d", most),
                    lines,
                    micros,
                    micros / first);
        }
    }

    private static void against(Connection db, Field field) throws SQLException {
        StringBuilder text = new StringBuilder("POLYGON((");
        List<Point> ring = new ArrayList<>(field.boundary());
        ring.add(ring.get(0));
        for (Point p : ring) {
            text.append(text.length() > 9 ? "," : "").append(p.x()).append(' ').append(p.y());
        }
        String polygon = text.append("))").toString();
        Map<String, Integer> theirs = new HashMap<>();
        grid(db, polygon, 0, new HashMap<>());
        long start = System.nanoTime();
        for (double bearing = 0; bearing < 180; bearing += BEARING_STEP) {
            grid(db, polygon, bearing, theirs);
        }
        double postgis = seconds(start);

        start = System.nanoTime();
        Map<String, Integer> ours = new HashMap<>();
        for (double bearing = 0; bearing < 180; bearing += BEARING_STEP) {
            for (int t = 0; t < OFFSETS; t++) {
                LayoutSpec one = SPEC.bearing(bearing).offset(ROW * t / OFFSETS);
                ours.put(bearing + "/" + t, LayoutSolver.solve(field, one).vines());
            }
        }
        double same = seconds(start);

        start = System.nanoTime();
        Layout fullest = LayoutSolver.solve(field, SPEC);
        double search = seconds(start);

        int most = theirs.values().stream().mapToInt(Integer::intValue).max().orElse(0);
        long equal = theirs.entrySet().stream()
                .filter(e -> e.getValue().equals(ours.get(e.getKey())))
                .count();
        int apart = theirs.entrySet().stream()
                .mapToInt(e -> Math.abs(e.getValue() - ours.getOrDefault(e.getKey(), 0)))
                .max()
                .orElse(0);
        System.out.printf(
                "5 ha, 12 corners, %,d layouts (bearings every %.1f degrees, offsets every %.0f cm):%n",
                theirs.size(), BEARING_STEP, ROW * 100 / OFFSETS);
        System.out.printf("  PostGIS counts them in %.2f s; the fullest of them has %,d vines%n", postgis, most);
        System.out.printf(
                "  the same layouts here in %.2f s, ratio 1/%.0f; %,d counts are the same, the others at most %d vines apart"
                        + " (PostGIS rounds the margin at corners)%n",
                same, postgis / same, equal, apart);
        System.out.printf(
                "  the fullest of all bearings and offsets here in %.3f s, ratio 1/%.0f (wanted: 1/100 or less): %,d vines%n",
                search, postgis / search, fullest.vines());
    }

    private static void grid(Connection db, String polygon, double bearing, Map<String, Integer> into)
            throws SQLException {
        try (PreparedStatement ask = db.prepareStatement(POSTGIS)) {
            Object[] values = {polygon, bearing, ROW, OFFSETS, ROW, OFFSETS, ROW, OFFSETS, ROW};
            for (int i = 0; i < values.length; i++) {
                ask.setObject(i + 1, values[i]);
            }
            for (int t = 0; t < OFFSETS; t++) {
                into.put(bearing + "/" + t, 0);
            }
            try (ResultSet found = ask.executeQuery()) {
                while (found.next()) {
                    into.put(bearing + "/" + found.getInt(1), found.getInt(2));
                }
            }
        }
    }

    private static double seconds(long start) {
        return (System.nanoTime() - start) / 1e9;
    }
}
