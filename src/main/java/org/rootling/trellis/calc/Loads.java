package org.rootling.trellis.calc;

import java.util.ArrayList;
import java.util.List;

/**
 * What acts on the end of a row and what holds it, as tightened and at its worst (coldest day, crop and wind together,
 * ends that do not give way).
 *
 * @param usual forces as tightened
 * @param worst forces at the worst
 * @param wires each wire line
 * @param safety factors of safety at the worst
 * @param cautions what to mind, in order of weight
 */
public record Loads(
        EndForces usual, EndForces worst, List<WireLoad> wires, List<Safety> safety, List<Caution> cautions) {
    /** Pull above which the ends leave the range of rules of thumb, newtons (rule of thumb). */
    public static final double ENGINEER_PULL_N = 8_000;
    /** Height above which the ends leave the range of rules of thumb, metres (rule of thumb). */
    public static final double ENGINEER_HEIGHT_M = 2.5;

    /** What a factor of safety is about. */
    public enum Part {
        ANCHOR,
        TIE,
        STRUT,
        RAIL,
        POST_PULL_OUT,
        POST_BENDING,
        WIRE
    }

    /**
     * @param demand force at the worst, newtons (bending: pascals)
     * @param capacity force at which it fails, newtons (bending: pascals)
     * @param wanted factor asked for (rule of thumb)
     */
    public record Safety(Part part, double demand, double capacity, double wanted) {
        public double factor() {
            return capacity / demand;
        }

        public boolean enough() {
            return factor() >= wanted;
        }
    }

    /**
     * @param spanM longest bay, metres
     * @param sagM mid-span sag under its own weight, metres, parabola
     * @param sagCropM mid-span sag under weight and crop, at the tension that crop brings about, metres
     * @param coldN tension on the coldest day, newtons
     * @param worstN tension at the worst, newtons
     * @param perKelvinN tension gained with each kelvin of cold when straight and fixed, newtons
     * @param stretchM stretch of the longest run when tightened, metres
     * @param turns turns of the tensioner for that stretch
     */
    public record WireLoad(
            TrellisSpec.WireLine line,
            double spanM,
            double sagM,
            double sagCropM,
            double coldN,
            double worstN,
            double perKelvinN,
            double stretchM,
            double turns,
            double breakingN) {}

    /** Works out a plan without faults for its rows; without rows, for one bay of the longest span. */
    public static Loads of(TrellisSpec spec, List<RowLine> rows) {
        double bay = rows.stream()
                .mapToDouble(r -> spec.linePosts(r).spanM())
                .max()
                .orElse(spec.line().maxSpanM());
        double longest = rows.stream().mapToDouble(RowLine::lengthM).max().orElse(bay);
        List<WireLoad> wires = new ArrayList<>();
        List<WirePull> worstPulls = new ArrayList<>();
        for (TrellisSpec.WireLine line : spec.wires()) {
            WireLoad load = wire(spec, line, bay, longest);
            wires.add(load);
            worstPulls.add(new WirePull(line.heightM(), line.count(), load.worstN()));
        }
        EndForces usual = forces(spec, spec.pulls());
        EndForces worst = forces(spec, worstPulls);
        List<Safety> safety = safety(spec, worst, worstPulls, wires);
        return new Loads(
                usual, worst, wires, safety, cautions(spec, rows.isEmpty() ? 0 : longest, bay, usual, wires, safety));
    }

    private static EndForces forces(TrellisSpec spec, List<WirePull> pulls) {
        return switch (spec.hold().assembly()) {
            case ANCHORED -> EndForces.anchored(spec.post(), spec.tie(), pulls);
            case STRUT ->
                EndForces.strut(spec.post(), spec.holdHeightM(), spec.hold().distanceM(), pulls);
            case H_BRACE -> EndForces.hBrace(spec.holdHeightM(), spec.hold().distanceM(), pulls);
        };
    }

    private static WireLoad wire(TrellisSpec spec, TrellisSpec.WireLine line, double bay, double longest) {
        Wire wire = line.wire();
        double own = wire.weightNPerM();
        double cropLoad = own + line.cropKgPerM() * Wire.G;
        double start = line.tensionN();
        double cold = spec.air().coldestC() - spec.air().tightenedC();
        double cropTension = WireState.tensionN(wire, bay, start, own, cropLoad, 0);
        double coldTension = WireState.tensionN(wire, bay, start, own, own, cold);
        double worst = WireState.tensionN(wire, bay, start, own, Math.hypot(cropLoad, line.windNPerM()), cold);
        double run = longest + 2 * line.tailM();
        return new WireLoad(
                line,
                bay,
                Sag.parabolaM(own, bay, start),
                Sag.parabolaM(cropLoad, bay, cropTension),
                coldTension,
                Math.max(worst, start),
                -wire.fixedChangeN(1),
                wire.stretchM(start, run),
                wire.turns(start, run, 0, spec.fixing().drumMm() / 1000),
                wire.breakingN());
    }

    private static List<Safety> safety(TrellisSpec spec, EndForces worst, List<WirePull> pulls, List<WireLoad> wires) {
        TrellisSpec.Hold hold = spec.hold();
        List<Safety> all = new ArrayList<>();
        double tieBreaks = hold.tieStrands() * new Wire(hold.tieKind(), hold.tieDiameterMm() / 1000).breakingN();
        double pole = hold.poleDiameterMm() / 1000;
        double grip = hold.soil()
                .postPullOutN(spec.end().diameterMm() / 1000, spec.end().buriedM());
        switch (hold.assembly()) {
            case ANCHORED -> {
                double angle = Math.toRadians(spec.tie().angleDeg());
                double depth = hold.anchorRodM() * Math.sin(angle);
                all.add(new Safety(
                        Part.ANCHOR, worst.braceN(), hold.soil().anchorN(hold.anchorPlateMm() / 1000, depth), 2));
                all.add(new Safety(Part.TIE, worst.braceN(), tieBreaks, 2));
            }
            case STRUT -> {
                double length = Math.hypot(
                        spec.holdHeightM(), hold.distanceM() + spec.post().outAtM(spec.holdHeightM()));
                all.add(new Safety(Part.STRUT, worst.braceN(), PostBending.bucklingN(length, pole), 3));
                all.add(new Safety(Part.POST_PULL_OUT, worst.upliftN(), grip, 2));
            }
            case H_BRACE -> {
                all.add(new Safety(Part.RAIL, worst.railN(), PostBending.bucklingN(hold.distanceM(), pole), 3));
                all.add(new Safety(Part.TIE, worst.braceN(), tieBreaks, 2));
                all.add(new Safety(Part.POST_PULL_OUT, worst.upliftN(), grip, 2));
            }
        }
        double bending = PostBending.momentNm(spec.post(), spec.holdHeightM(), pulls);
        if (bending > 1e-9) {
            double stress = PostBending.stressPa(bending, spec.end().diameterMm() / 1000);
            all.add(new Safety(Part.POST_BENDING, stress, PostBending.SOFTWOOD_PA, 2));
        }
        wires.stream()
                .map(w -> new Safety(Part.WIRE, w.worstN(), w.breakingN(), 2))
                .min((a, b) -> Double.compare(a.factor(), b.factor()))
                .ifPresent(all::add);
        return all;
    }

    private static List<Caution> cautions(
            TrellisSpec spec, double longest, double bay, EndForces usual, List<WireLoad> wires, List<Safety> safety) {
        List<Caution> all = new ArrayList<>();
        TrellisSpec.Hold hold = spec.hold();
        boolean beyond = safety.stream().anyMatch(s -> !s.enough())
                || usual.pullN() > ENGINEER_PULL_N
                || spec.post().topHeightM() > ENGINEER_HEIGHT_M
                || longest > Published.ANCHORED_ROW_M;
        if (beyond) {
            all.add(Caution.of("trellis.caution.engineer"));
        }
        for (Safety low : safety.stream().filter(s -> !s.enough()).toList()) {
            all.add(Caution.of("trellis.caution.factor." + low.part(), low.factor(), low.wanted()));
        }
        if (hold.assembly() == Assembly.ANCHORED) {
            if (longest > Published.ANCHORED_ROW_M) {
                all.add(Caution.of("trellis.caution.row-anchored", longest, Published.ANCHORED_ROW_M));
            } else if (longest > Published.SMALL_ANCHOR_ROW_M
                    && hold.anchorPlateMm() / 1000 < Published.LARGE_ANCHOR_M - 1e-3) {
                all.add(Caution.of("trellis.caution.row-anchor-small", longest, Published.SMALL_ANCHOR_ROW_M));
            }
            double angle = spec.tie().angleDeg();
            if (angle < 40 || angle > 70) {
                all.add(Caution.of("trellis.caution.tie-angle", angle, Published.TIE_ANGLE_DEG));
            }
            if (spec.end().leanDeg() < 10 || spec.end().leanDeg() > 35) {
                all.add(Caution.of("trellis.caution.lean", spec.end().leanDeg()));
            }
        }
        if (spec.post().depthM() < Published.END_POST_DEPTH_M) {
            all.add(Caution.of("trellis.caution.depth", spec.post().depthM(), Published.END_POST_DEPTH_M));
        }
        if (bay > Published.LINE_POST_SPAN_M + 1e-9) {
            all.add(Caution.of("trellis.caution.span", bay, Published.LINE_POST_SPAN_M));
        }
        for (WireLoad load : wires) {
            double advised = load.line().wire().advisedMaxN();
            if (load.line().tensionN() > advised) {
                all.add(Caution.of(
                        "trellis.caution.tension",
                        load.line().name(),
                        load.line().tensionN(),
                        advised));
            }
        }
        return all;
    }
}
