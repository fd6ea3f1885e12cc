package org.rootling.trellis.calc;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Adds up what any mix of blocks needs. Wire is cut from the same coils across all of them. */
public final class TakeOff {
    /** Wire for one fastening of a tie or brace strand at each end, metres (rule of thumb). */
    private static final double FASTENING_M = 0.5;
    /** Mass of the coil that tie wire is bought in, kilograms. */
    private static final double TIE_COIL_KG = 25;
    /** Poles are sold by the decimetre (rule of thumb). */
    private static final double POLE_STEP_M = 0.1;

    private final Map<String, Item> items = new LinkedHashMap<>();
    private final Map<String, List<Double>> runs = new LinkedHashMap<>();
    private final Map<String, Item> runItems = new LinkedHashMap<>();
    private int vines;

    /** Adds one block: its plan, which must be without faults, and its stretches of row. */
    public TakeOff add(TrellisSpec spec, List<RowLine> rows) {
        int ends = 2 * rows.size();
        int posts = rows.stream().mapToInt(r -> spec.linePosts(r).count()).sum();
        int places = rows.stream().mapToInt(RowLine::vines).sum();
        int lines = spec.wires().stream().mapToInt(TrellisSpec.WireLine::count).sum();
        vines += places;
        addEnds(spec, ends);
        put(Item.Kind.LINE_POST, spec.line().lengthM(), spec.line().diameterMm(), posts);
        for (TrellisSpec.WireLine wire : spec.wires()) {
            Item item = new Item(Item.Kind.WIRE, wire.kind(), wire.coilM(), wire.diameterMm(), 0);
            runItems.putIfAbsent(item.key(), item);
            runs.computeIfAbsent(item.key(), k -> new ArrayList<>()).addAll(TrellisSpec.runs(wire, rows));
        }
        put(Item.Kind.TENSIONER, 0, 0, (double) spec.fixing().tensionersPerRun() * lines * rows.size());
        put(
                Item.Kind.STAPLE,
                0,
                0,
                (double) spec.fixing().staplesPerPost()
                        * lines
                        * (posts + ends)
                        / spec.fixing().staplesPerKg());
        put(
                Item.Kind.STAKE,
                spec.perVine().stakeLengthM(),
                0,
                (double) spec.perVine().stakes() * places);
        put(Item.Kind.GUARD, 0, 0, (double) spec.perVine().guards() * places);
        put(Item.Kind.CLIP, 0, 0, (double) spec.perVine().clips() * places);
        return this;
    }

    private void addEnds(TrellisSpec spec, int ends) {
        TrellisSpec.Hold hold = spec.hold();
        double height = spec.holdHeightM();
        int postsPerEnd = hold.assembly() == Assembly.H_BRACE ? 2 : 1;
        put(Item.Kind.END_POST, spec.end().lengthM(), spec.end().diameterMm(), (double) postsPerEnd * ends);
        switch (hold.assembly()) {
            case ANCHORED -> {
                put(Item.Kind.ANCHOR, hold.anchorRodM(), hold.anchorPlateMm(), ends);
                addTie(hold, spec.tie().lengthM(), ends);
            }
            case STRUT -> {
                double length =
                        Math.hypot(height, hold.distanceM() + spec.post().outAtM(height));
                put(Item.Kind.STRUT, poleLength(length), hold.poleDiameterMm(), ends);
            }
            case H_BRACE -> {
                put(Item.Kind.RAIL, poleLength(hold.distanceM()), hold.poleDiameterMm(), ends);
                addTie(hold, Math.hypot(height, hold.distanceM()), ends);
            }
        }
    }

    private static double poleLength(double metres) {
        return Math.ceil(metres / POLE_STEP_M - 1e-9) * POLE_STEP_M;
    }

    private void addTie(TrellisSpec.Hold hold, double lengthM, int ends) {
        double coil = Math.floor(new Wire(hold.tieKind(), hold.tieDiameterMm() / 1000).coilM(TIE_COIL_KG));
        double metres = (lengthM + 2 * FASTENING_M) * hold.tieStrands() * ends;
        merge(new Item(Item.Kind.TIE_WIRE, hold.tieKind(), coil, hold.tieDiameterMm(), metres));
    }

    private void put(Item.Kind kind, double lengthM, double diameterMm, double quantity) {
        merge(new Item(kind, null, lengthM, diameterMm, quantity));
    }

    private void merge(Item item) {
        if (item.quantity() > 0) {
            items.merge(
                    item.key(),
                    item,
                    (a, b) -> new Item(a.kind(), a.steel(), a.lengthM(), a.diameterMm(), a.quantity() + b.quantity()));
        }
    }

    /** Vines of all blocks added. */
    public int vines() {
        return vines;
    }

    /** Everything needed, in the order of the sheet; wire with tails, joins and ends too short to join. */
    public List<Item> items() {
        Map<String, Item> all = new LinkedHashMap<>(items);
        int joins = 0;
        for (Map.Entry<String, List<Double>> entry : runs.entrySet()) {
            Item item = runItems.get(entry.getKey());
            if (item == null || entry.getValue().isEmpty()) {
                continue;
            }
            CutPlan cut = CutPlan.of(entry.getValue(), item.lengthM());
            joins += cut.joins();
            all.put(
                    entry.getKey(),
                    new Item(item.kind(), item.steel(), item.lengthM(), item.diameterMm(), cut.metres()));
        }
        if (joins > 0) {
            Item joiner = new Item(Item.Kind.JOINER, null, 0, 0, joins);
            all.put(joiner.key(), joiner);
        }
        return all.values().stream()
                .sorted(Comparator.comparing(Item::kind)
                        .thenComparing(
                                Comparator.comparingDouble(Item::diameterMm).reversed())
                        .thenComparingDouble(Item::lengthM))
                .toList();
    }
}
