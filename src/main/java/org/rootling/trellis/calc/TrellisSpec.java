package org.rootling.trellis.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Every number of a trellis plan, in the units a grower types: metres, millimetres where the name says so, newtons. */
public record TrellisSpec(
        End end, Hold hold, Line line, List<WireLine> wires, PerVine perVine, Fixing fixing, Air air) {
    /** Most wire lines in one plan. */
    public static final int MAX_WIRES = 20;

    /**
     * The end post.
     *
     * @param standAtM height at which the post stands exactly over the row's end
     */
    public record End(double lengthM, double diameterMm, double leanDeg, double buriedM, double standAtM) {}

    /**
     * What holds the end post.
     *
     * @param heightM where tie, strut or rail meets the post; null: its top
     * @param distanceM post's foot to anchor (outwards), to the strut's foot (inwards) or to the inner post
     * @param tieDiameterMm tie or brace wire
     * @param tieStrands strands of it side by side
     * @param anchorPlateMm helix, or the circle with the area of a buried plate
     * @param anchorRodM length of the anchor in the ground, along the tie's line
     * @param poleDiameterMm strut or rail
     */
    public record Hold(
            Assembly assembly,
            @Nullable Double heightM,
            double distanceM,
            WireKind tieKind,
            double tieDiameterMm,
            int tieStrands,
            double anchorPlateMm,
            double anchorRodM,
            double poleDiameterMm,
            Soil soil) {}

    /** Line posts: by the longest span, or after every so many vines when {@code everyVines} is given. */
    public record Line(
            double lengthM,
            double diameterMm,
            double buriedM,
            double maxSpanM,
            @Nullable Integer everyVines) {}

    /**
     * Wires at one height.
     *
     * @param cropKgPerM crop that hangs on each, kilograms per metre
     * @param windNPerM wind across the row that each takes up, newtons per metre
     */
    public record WireLine(
            String name,
            double heightM,
            int count,
            WireKind kind,
            double diameterMm,
            double tensionN,
            double tailM,
            double coilM,
            double cropKgPerM,
            double windNPerM) {
        public Wire wire() {
            return new Wire(kind, diameterMm / 1000);
        }
    }

    /** Pieces for each vine. */
    public record PerVine(int stakes, double stakeLengthM, int guards, int clips) {}

    /** Small parts: staples for each wire on each post, how many make a kilogram, tensioners for each run. */
    public record Fixing(int staplesPerPost, double staplesPerKg, int tensionersPerRun, double drumMm) {}

    /** Temperatures, degrees Celsius. */
    public record Air(double tightenedC, double coldestC) {}

    public TrellisSpec {
        wires = List.copyOf(wires);
    }

    public EndPost post() {
        return new EndPost(end.lengthM(), end.leanDeg(), end.buriedM());
    }

    /** Height at which tie, strut or rail meets the post, metres. */
    public double holdHeightM() {
        return hold.heightM() == null ? post().topHeightM() : hold.heightM();
    }

    public Tie tie() {
        return Tie.of(post(), hold.heightM(), hold.distanceM());
    }

    public SettingOut settingOut() {
        return SettingOut.of(post(), end.standAtM());
    }

    public List<WirePull> pulls() {
        return wires.stream()
                .map(w -> new WirePull(w.heightM(), w.count(), w.tensionN()))
                .toList();
    }

    /** Line posts of one stretch. */
    public LinePosts linePosts(RowLine row) {
        return line.everyVines() == null
                ? LinePosts.bySpan(row.lengthM(), line.maxSpanM())
                : LinePosts.byVines(row.vines(), line.everyVines(), row.vineSpacingM(), row.endGapM());
    }

    /** Everything wrong with the plan for these rows, each at its field; empty rows leave out what depends on them. */
    public List<Fault> faults(List<RowLine> rows) {
        Checks checks = new Checks();
        double top = endFaults(checks);
        holdFaults(checks, top);
        lineFaults(checks, rows);
        if (wires.isEmpty()) {
            checks.refuse("wires", "trellis.fault.missing");
        }
        if (wires.size() > MAX_WIRES) {
            checks.refuse("wires", "trellis.fault.too-many", MAX_WIRES);
        }
        for (int i = 0; i < wires.size(); i++) {
            wireFaults(checks, "wires[" + i + "]", wires.get(i), top);
        }
        checks.within("perVine.stakes", perVine.stakes(), 0, 10);
        checks.within("perVine.stakeLengthM", perVine.stakeLengthM(), 0.2, 5);
        checks.within("perVine.guards", perVine.guards(), 0, 10);
        checks.within("perVine.clips", perVine.clips(), 0, 50);
        checks.within("fixing.staplesPerPost", fixing.staplesPerPost(), 0, 10);
        checks.within("fixing.staplesPerKg", fixing.staplesPerKg(), 10, 5_000);
        checks.within("fixing.tensionersPerRun", fixing.tensionersPerRun(), 0, 10);
        checks.within("fixing.drumMm", fixing.drumMm(), 5, 200);
        boolean tightened = checks.within("air.tightenedC", air.tightenedC(), -20, 50);
        if (checks.within("air.coldestC", air.coldestC(), -60, 50) && tightened && air.coldestC() > air.tightenedC()) {
            checks.refuse("air.coldestC", "trellis.fault.colder");
        }
        return checks.faults();
    }

    private double endFaults(Checks checks) {
        checks.within("end.diameterMm", end.diameterMm(), 30, 500);
        if (!checks.endPost("end", end.lengthM(), end.leanDeg(), end.buriedM())) {
            return Double.POSITIVE_INFINITY;
        }
        double top = post().topHeightM();
        checks.within("end.standAtM", end.standAtM(), 0, Math.round(top * 100) / 100.0);
        if (hold.assembly() == Assembly.H_BRACE && end.leanDeg() > 0) {
            checks.refuse("end.leanDeg", "trellis.fault.upright");
        }
        return top;
    }

    private void holdFaults(Checks checks, double top) {
        if (Double.isFinite(top)) {
            checks.tieHeight("hold.heightM", hold.heightM(), top);
        }
        checks.within("hold.distanceM", hold.distanceM(), 0.1, 20);
        checks.within("hold.tieDiameterMm", hold.tieDiameterMm(), 0.5, 50);
        checks.within("hold.tieStrands", hold.tieStrands(), 1, 10);
        checks.within("hold.anchorPlateMm", hold.anchorPlateMm(), 20, 2_000);
        checks.within("hold.anchorRodM", hold.anchorRodM(), 0.2, 5);
        checks.within("hold.poleDiameterMm", hold.poleDiameterMm(), 30, 500);
    }

    private void lineFaults(Checks checks, List<RowLine> rows) {
        boolean length = checks.within("line.lengthM", line.lengthM(), 0.5, 8);
        checks.within("line.diameterMm", line.diameterMm(), 10, 500);
        if (length && line.buriedM() >= line.lengthM()) {
            checks.refuse("line.buriedM", "trellis.fault.buried", line.buriedM(), line.lengthM());
        } else {
            checks.within("line.buriedM", line.buriedM(), 0.1, 8);
        }
        boolean span = checks.within("line.maxSpanM", line.maxSpanM(), 0.5, 1_000);
        String field = "line.maxSpanM";
        if (line.everyVines() != null) {
            field = "line.everyVines";
            span = checks.within(field, line.everyVines(), 1, 10_000);
        }
        if (span && !rows.isEmpty()) {
            double longest = rows.stream().mapToDouble(RowLine::lengthM).max().orElse(0);
            int posts = rows.stream().mapToInt(r -> linePosts(r).count()).sum();
            double asked = line.everyVines() == null ? line.maxSpanM() : line.everyVines();
            checks.someLinePost(field, asked, longest, posts);
        }
    }

    private static void wireFaults(Checks checks, String path, WireLine line, double top) {
        boolean diameter = checks.within(path + ".diameterMm", line.diameterMm(), 0.5, 10);
        checks.wire(path, line.heightM(), line.tensionN(), diameter ? line.wire() : null, top);
        checks.within(path + ".count", line.count(), 1, 10);
        checks.within(path + ".tailM", line.tailM(), 0, 50);
        checks.within(path + ".coilM", line.coilM(), 5, 100_000);
        checks.within(path + ".cropKgPerM", line.cropKgPerM(), 0, 100);
        checks.within(path + ".windNPerM", line.windNPerM(), 0, 2_000);
    }

    /** Lengths of every run of the wires in one line, tails included, metres. */
    static List<Double> runs(WireLine wire, List<RowLine> rows) {
        List<Double> runs = new ArrayList<>();
        for (RowLine row : rows) {
            for (int i = 0; i < wire.count(); i++) {
                runs.add(row.lengthM() + 2 * wire.tailM());
            }
        }
        return runs;
    }
}
