package org.rootling.trellis.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The trellis of a set of rows, worked out from a few numbers and stored nowhere.
 *
 * <p>The post leans away from the row and is hinged at the ground line; wires pull level at their heights; the tie runs
 * from its height on the post to an anchor at ground level. A row's wire is its length plus a tail at both ends; coils
 * are whole ones for each wire over all rows; sag is mid-span, in the longest bay, under the wire's own weight.
 */
public record TrellisPreview(End endPost, int linePosts, List<WireOut> wires, int stakes, int guards) {
    /** Most rows in one request. */
    public static final int MAX_ROWS = 5_000;

    /**
     * @param endPost the end assembly
     * @param wires wires by height
     * @param linePostMaxSpanM longest distance between posts, metres
     * @param rows rows, end post to end post
     */
    public record Request(
            @Nullable EndIn endPost,
            @Nullable List<@Nullable WireIn> wires,
            @Nullable Double linePostMaxSpanM,
            @Nullable List<@Nullable RowIn> rows) {}

    /** The end post: metres and degrees; {@code tieHeightM} null ties the top; {@code buriedM} along the post. */
    public record EndIn(
            @Nullable Double lengthM,
            @Nullable Double leanDeg,
            @Nullable Double buriedM,
            @Nullable Double tieHeightM,
            @Nullable Double anchorDistanceM) {}

    /** Wires at one height: metres, newtons each, millimetres; {@code kind} null means high-tensile. */
    public record WireIn(
            @Nullable Double heightM,
            @Nullable Integer count,
            @Nullable Double tensionN,
            @Nullable Double diameterMm,
            @Nullable Double tailM,
            @Nullable Double coilM,
            @Nullable WireKind kind) {
        Wire wire() {
            double diameter = diameterMm == null ? Double.NaN : diameterMm;
            return new Wire(kind == null ? WireKind.HIGH_TENSILE : kind, diameter / 1000);
        }
    }

    /** One row: length end post to end post, metres, and its vines. */
    public record RowIn(@Nullable Double lengthM, @Nullable Integer vines) {}

    /** Geometry in metres, forces in newtons; uplift and anchor pull are the parts of the tie's force at the anchor. */
    public record End(
            double topHeightM,
            double setBackM,
            double depthM,
            double pullN,
            double momentNm,
            double tieForceN,
            double upliftN,
            double anchorPullN,
            double tieLengthM,
            double tieAngleDeg,
            int guideBaseCm,
            int guideRiseCm) {}

    /** Wire at one height over all rows. */
    public record WireOut(double metres, int coils, double kg, double sagM) {}

    /** Everything wrong with the request, each at its field; empty when {@link #of} will answer. */
    public static List<Fault> faults(Request request) {
        Checks checks = new Checks();
        double top = endPostFaults(request.endPost(), checks);
        wireFaults(request.wires(), top, checks);
        boolean span = checks.within("linePostMaxSpanM", request.linePostMaxSpanM(), 0.5, 1_000);
        boolean rows = rowFaults(request.rows(), checks);
        if (span && rows && request.rows() != null && request.linePostMaxSpanM() != null) {
            double max = request.linePostMaxSpanM();
            double longest = 0;
            int posts = 0;
            for (RowIn row : request.rows()) {
                double length = value(row == null ? null : row.lengthM());
                longest = Math.max(longest, length);
                posts += LinePosts.bySpan(length, max).count();
            }
            checks.someLinePost("linePostMaxSpanM", max, longest, posts);
        }
        return checks.faults();
    }

    private static double endPostFaults(@Nullable EndIn end, Checks checks) {
        if (end == null) {
            checks.refuse("endPost", "trellis.fault.missing");
            return Double.POSITIVE_INFINITY;
        }
        checks.within("endPost.anchorDistanceM", end.anchorDistanceM(), 0.1, 20);
        if (!checks.endPost("endPost", end.lengthM(), end.leanDeg(), end.buriedM())) {
            return Double.POSITIVE_INFINITY;
        }
        double top = post(end).topHeightM();
        checks.tieHeight("endPost.tieHeightM", end.tieHeightM(), top);
        return top;
    }

    private static void wireFaults(@Nullable List<@Nullable WireIn> wires, double top, Checks checks) {
        if (wires == null || wires.isEmpty()) {
            checks.refuse("wires", "trellis.fault.missing");
            return;
        }
        if (wires.size() > TrellisSpec.MAX_WIRES) {
            checks.refuse("wires", "trellis.fault.too-many", TrellisSpec.MAX_WIRES);
            return;
        }
        for (int i = 0; i < wires.size(); i++) {
            String path = "wires[" + i + "]";
            WireIn wire = wires.get(i);
            if (wire == null) {
                checks.refuse(path, "trellis.fault.missing");
                continue;
            }
            boolean diameter = checks.within(path + ".diameterMm", wire.diameterMm(), 0.5, 10);
            checks.wire(path, wire.heightM(), wire.tensionN(), diameter ? wire.wire() : null, top);
            checks.within(path + ".count", wire.count(), 1, 10);
            checks.within(path + ".tailM", wire.tailM(), 0, 50);
            checks.within(path + ".coilM", wire.coilM(), 5, 100_000);
        }
    }

    private static boolean rowFaults(@Nullable List<@Nullable RowIn> rows, Checks checks) {
        if (rows == null || rows.isEmpty()) {
            checks.refuse("rows", "trellis.fault.missing");
            return false;
        }
        if (rows.size() > MAX_ROWS) {
            checks.refuse("rows", "trellis.fault.too-many", MAX_ROWS);
            return false;
        }
        boolean good = true;
        for (int i = 0; i < rows.size(); i++) {
            RowIn row = rows.get(i);
            String path = "rows[" + i + "]";
            if (row == null) {
                checks.refuse(path, "trellis.fault.missing");
                good = false;
                continue;
            }
            good &= checks.within(path + ".lengthM", row.lengthM(), 0.5, 10_000);
            good &= checks.within(path + ".vines", row.vines(), 0, 100_000);
        }
        return good;
    }

    /** Works the request out; call only when it has no faults. */
    public static TrellisPreview of(Request request) {
        if (!faults(request).isEmpty() || request.endPost() == null) {
            throw new IllegalArgumentException("faults: " + faults(request));
        }
        EndIn in = request.endPost();
        EndPost post = post(in);
        Tie tie = Tie.of(post, in.tieHeightM(), value(in.anchorDistanceM()));
        List<WirePull> pulls = new ArrayList<>();
        List<WireOut> wires = new ArrayList<>();
        List<RowIn> rows = present(request.rows());
        double maxSpan = value(request.linePostMaxSpanM());
        double longestBay = 0;
        int posts = 0;
        int vines = 0;
        double rowMetres = 0;
        for (RowIn row : rows) {
            LinePosts line = LinePosts.bySpan(value(row.lengthM()), maxSpan);
            posts += line.count();
            longestBay = Math.max(longestBay, line.spanM());
            vines += row.vines() == null ? 0 : row.vines();
            rowMetres += value(row.lengthM());
        }
        for (WireIn line : present(request.wires())) {
            int count = line.count() == null ? 0 : line.count();
            Wire wire = line.wire();
            double tension = value(line.tensionN());
            double metres = count * (rowMetres + rows.size() * 2 * value(line.tailM()));
            pulls.add(new WirePull(value(line.heightM()), count, tension));
            wires.add(new WireOut(
                    metres,
                    (int) Math.ceil(metres / value(line.coilM()) - 1e-9),
                    metres * wire.massKgPerM(),
                    Sag.parabolaM(wire.weightNPerM(), longestBay, tension)));
        }
        EndForces forces = EndForces.anchored(post, tie, pulls);
        GuideBoard board = GuideBoard.forLean(post.leanDeg());
        End end = new End(
                post.topHeightM(),
                post.setBackM(),
                post.depthM(),
                forces.pullN(),
                forces.momentNm(),
                forces.braceN(),
                forces.upliftN(),
                forces.levelN(),
                tie.lengthM(),
                tie.angleDeg(),
                board.baseCm(),
                board.riseCm());
        return new TrellisPreview(end, posts, List.copyOf(wires), vines, vines);
    }

    private static EndPost post(EndIn in) {
        return new EndPost(value(in.lengthM()), value(in.leanDeg()), value(in.buriedM()));
    }

    private static double value(@Nullable Double number) {
        return number == null ? Double.NaN : number;
    }

    private static <T> List<T> present(@Nullable List<@Nullable T> list) {
        List<T> all = new ArrayList<>();
        if (list != null) {
            for (T one : list) {
                if (one != null) {
                    all.add(one);
                }
            }
        }
        return all;
    }
}
