package org.rootling.trellis.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.ground.Stretch;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.trellis.Trellis;
import org.rootling.trellis.calc.EndForces;
import org.rootling.trellis.calc.Fault;
import org.rootling.trellis.calc.Loads;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.StartingPlans;
import org.rootling.trellis.calc.TrellisSpec;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Trellis plans of blocks, and what follows from them for the block's rows. */
@Service
@Transactional(readOnly = true)
public class TrellisPlans implements Trellis {
    private final PlanStore store;
    private final Ground ground;

    TrellisPlans(PlanStore store, Ground ground) {
        this.store = store;
        this.ground = ground;
    }

    /** All plans, by block. */
    public Map<UUID, TrellisPlan> byBlock() {
        return store.all().stream().collect(Collectors.toMap(TrellisPlan::blockId, Function.identity()));
    }

    public Optional<TrellisPlan> ofBlock(UUID blockId) {
        return store.ofBlock(blockId);
    }

    /** The plan of a block that must have one. */
    public TrellisPlan require(UUID blockId) {
        return store.ofBlock(blockId).orElseThrow(() -> new NotFound("trellis plan"));
    }

    /** Every stretch of the block's rows, from end post to end post. */
    public List<RowLine> lines(UUID blockId) {
        List<RowLine> lines = new ArrayList<>();
        for (Row row : ground.rows(blockId)) {
            lines.addAll(lines(row));
        }
        return lines;
    }

    /** The same for several blocks, read at once; a block without rows is not in it. */
    public Map<UUID, List<RowLine>> lines(Collection<UUID> blockIds) {
        Map<UUID, List<RowLine>> lines = new HashMap<>();
        ground.rowsOf(blockIds)
                .forEach((block, rows) -> lines.put(
                        block, rows.stream().flatMap(r -> lines(r).stream()).toList()));
        return lines;
    }

    /** The stretches of one row. */
    public static List<RowLine> lines(Row row) {
        List<RowLine> lines = new ArrayList<>();
        for (Stretch stretch : row.stretches()) {
            lines.add(new RowLine(stretch.lengthM(), stretch.places(), stretch.vineSpacingM(), stretch.startGapM()));
        }
        return lines;
    }

    /** What is wrong with these numbers for this block. */
    public List<Fault> faults(UUID blockId, TrellisSpec spec) {
        return spec.faults(lines(blockId));
    }

    @Transactional
    public void start(UUID blockId, StartingPlans canopy) {
        if (!store.add(blockId, canopy.spec())) {
            throw new Refused("trellis.plan.exists");
        }
    }

    /** Keeps changed numbers; the caller has shown their faults, and a fault left over is refused. */
    @Transactional
    public void change(UUID blockId, TrellisSpec spec, int expectedVersion) {
        TrellisPlan plan = require(blockId);
        for (Fault fault : faults(blockId, spec)) {
            throw new Refused(fault.code(), fault.args().toArray()).at(fault.field());
        }
        store.change(plan, spec, expectedVersion);
    }

    @Override
    public List<RowParts> parts(UUID blockId) {
        Optional<TrellisPlan> plan = store.ofBlock(blockId);
        if (plan.isEmpty()) {
            return List.of();
        }
        TrellisSpec spec = plan.get().spec();
        return ground.rows(blockId).stream().map(row -> parts(spec, row)).toList();
    }

    /** The parts of one row. */
    public static RowParts parts(TrellisSpec spec, Row row) {
        List<RowLine> lines = lines(row);
        int runs = spec.wires().stream().mapToInt(TrellisSpec.WireLine::count).sum();
        double metres = 0;
        int linePosts = 0;
        for (RowLine line : lines) {
            linePosts += spec.linePosts(line).count();
            for (TrellisSpec.WireLine wire : spec.wires()) {
                metres += wire.count() * (line.lengthM() + 2 * wire.tailM());
            }
        }
        return new RowParts(
                row.id(),
                2 * lines.size(),
                linePosts,
                runs * lines.size(),
                metres,
                spec.perVine().stakes() * row.places(),
                spec.perVine().guards() * row.places());
    }

    @Override
    public Optional<PlanFacts> plan(UUID blockId) {
        return store.ofBlock(blockId).map(plan -> {
            EndForces forces = Loads.of(plan.spec(), List.of()).usual();
            return new PlanFacts(
                    blockId,
                    plan.spec().post().topHeightM(),
                    plan.spec().wires().size(),
                    forces.pullN());
        });
    }
}
